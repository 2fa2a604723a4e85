// What rules, techniques, agents and roles rest on, and how far each source was checked.

#include <algorithm>

#include "emit/dossier/writer.hpp"
#include "model/variants.hpp"

namespace stepward::emit::dossier {

using wording::Phrase;

namespace {

/// A source and everything that names it.
struct Cited { model::Source source; std::string by; };

class SourcesSection {
 public:
  explicit SourcesSection(Writer& writer) : writer_(writer) {}

  void write() {
    writer_.section(Phrase::dossier_sources);
    for (const model::Rule& rule : protocol().rules) cite(rule.sources, said(Phrase::rule_number, {{"rule", rule.number}}));
    for (const model::TechniqueId technique : techniques_used()) cite(protocol()[technique].sources, protocol()[technique].name);
    for (const model::AgentId agent : agents_used()) cite(protocol()[agent].sources, protocol()[agent].name);
    for (const model::PersonStart& person : protocol().people) cite(protocol()[person.role].sources, protocol()[person.role].name);
    if (!cited_.empty()) {
      writer_.paragraph(said(Phrase::dossier_sources_how));
      writer_.open(sources_table);
      std::stable_sort(cited_.begin(), cited_.end(), [](const Cited& a, const Cited& b) { return a.source.mark < b.source.mark; });
      for (const Cited& each : cited_) writer_.row(sources_table, {{{mark(each.source.mark), true, ""}}, {{told(each), false, ""}}});
    }
    without();
  }

 private:
  std::string said(Phrase which, std::initializer_list<wording::Gap> gaps = {}) const { return writer_.said(which, gaps); }
  const model::Protocol& protocol() const { return writer_.protocol(); }

  void cite(const std::vector<model::Source>& sources, const std::string& by) {
    const auto is_practice = [](const model::Source& source) { return source.mark == model::SourceMark::common_practice; };
    if (sources.empty()) without_.push_back(by);
    else if (std::all_of(sources.begin(), sources.end(), is_practice)) only_practice_.push_back(by);
    for (const model::Source& source : sources) {
      auto known = std::find_if(cited_.begin(), cited_.end(), [&](const Cited& c) { return c.source.mark == source.mark && c.source.text == source.text; });
      if (known == cited_.end()) known = cited_.insert(cited_.end(), Cited{source, ""});
      known->by += (known->by.empty() ? "" : ", ") + by;
    }
  }

  void without() {
    if (!without_.empty()) writer_.paragraph(said(Phrase::dossier_no_source, {{"names", each_once(without_)}}));
    if (!only_practice_.empty()) writer_.paragraph(said(Phrase::dossier_only_practice, {{"names", each_once(only_practice_)}}));
    if (without_.empty() && only_practice_.empty()) writer_.paragraph(said(Phrase::dossier_all_have_sources));
  }

  static std::string each_once(const std::vector<std::string>& all) {
    std::string names;
    std::set<std::string> told;
    for (const std::string& each : all)
      if (told.insert(each).second) names += (names.empty() ? "" : ", ") + each;
    return names;
  }

  /// What names a source stands below it: a third column would be too narrow for a screen.
  std::string told(const Cited& cited) const {
    const std::string by = said(Phrase::dossier_cited_column) + ": " + cited.by;
    return cited.source.text.empty() ? by : cited.source.text + "\n" + by;
  }

  std::string mark(model::SourceMark mark) const {
    switch (mark) {
      case model::SourceMark::read: return said(Phrase::dossier_source_read);
      case model::SourceMark::quoted_by_another: return said(Phrase::dossier_source_quoted);
      case model::SourceMark::from_memory: return said(Phrase::dossier_source_memory);
      case model::SourceMark::common_practice: return said(Phrase::dossier_source_practice);
      case model::SourceMark::local: return said(Phrase::dossier_source_local);
    }
    return {};
  }

  /// In the order of the steps of all variants.
  std::vector<model::TechniqueId> techniques_used() const {
    std::vector<model::TechniqueId> all;
    const auto note = [&](model::TechniqueId technique) {
      if (technique && std::find(all.begin(), all.end(), technique) == all.end()) all.push_back(technique);
    };
    for (const VariantFacts& variant : writer_.facts().variants) {
      for (const model::LineId id : variant.in_order) {
        note(protocol()[id].technique);
        for (const model::Thing& thing : protocol()[id].things)
          if (const model::ItemId item = model::item_of(protocol(), thing, variant.variant)) note(model::technique_of(protocol(), protocol()[id], item));
      }
    }
    return all;
  }

  std::vector<model::AgentId> agents_used() const {
    std::vector<model::AgentId> all;
    for (const VariantFacts& variant : writer_.facts().variants)
      for (const model::LineId id : variant.in_order)
        if (const model::AgentId agent = protocol()[id].agent; agent && std::find(all.begin(), all.end(), agent) == all.end()) all.push_back(agent);
    return all;
  }

  Writer& writer_;
  std::vector<Cited> cited_;
  std::vector<std::string> without_, only_practice_;
};

}  // namespace

void write_sources(Writer& writer) { SourcesSection(writer).write(); }

}  // namespace stepward::emit::dossier
