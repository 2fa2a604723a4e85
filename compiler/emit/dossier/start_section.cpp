// Where everybody stands when the first line begins, what they wear, and what may carry dirt by then: what the verdict takes for given.
//
// What carries is read off the walk, which begins there, so that no second reading of the declarations can disagree with it.

#include <algorithm>
#include <map>

#include "emit/dossier/writer.hpp"
#include "model/variants.hpp"

namespace stepward::emit::dossier {

using wording::Phrase;

namespace {

/// By variant a list; where something stands in the lists of some variants only, it is told with these.
class Lists {
 public:
  explicit Lists(const Writer& writer) : writer_(writer) {}

  void add(std::size_t variant, const std::vector<std::string>& list) {
    std::size_t behind = 0;  // what is new goes behind what it follows here
    for (const std::string& each : list) {
      auto known = std::find_if(all_.begin(), all_.end(), [&](const Shared& shared) { return shared.said == each; });
      if (known == all_.end()) known = all_.insert(all_.begin() + static_cast<std::ptrdiff_t>(behind), Shared{{}, each});
      if (known->variants.empty() || known->variants.back() != variant + 1) known->variants.push_back(variant + 1);
      behind = static_cast<std::size_t>(known - all_.begin()) + 1;
    }
  }

  std::vector<std::string> told() const {
    std::vector<std::string> all;
    for (const Shared& each : all_) all.push_back(each.variants.size() == writer_.facts().variants.size() ? each.said : writer_.in_variants(each));
    return all;
  }

 private:
  const Writer& writer_;
  std::vector<Shared> all_;
};

std::vector<std::string> worn_by(const Writer& writer, const VariantFacts& variant, model::RoleId role) {
  std::vector<std::string> items;
  for (const model::PersonStart& person : writer.protocol().people) {
    for (const model::Wearing& each : person.wearing) {
      const model::ItemId item = model::item_of(writer.protocol(), each.thing, variant.variant);
      if (person.role == role && item && model::holds(each.only_for, variant.variant)) items.push_back(writer.protocol()[item].name);
    }
  }
  return items;
}

std::string wears(const Writer& writer, model::RoleId role) {
  Lists lists(writer);
  for (std::size_t v = 0; v < writer.facts().variants.size(); ++v) lists.add(v, worn_by(writer, writer.facts().variants[v], role));
  const std::vector<std::string> items = lists.told();
  if (items.empty()) return writer.said(Phrase::dossier_start_wears_nothing);
  return writer.said(Phrase::dossier_start_wears, {{"things", wording::all_of(writer.protocol().tongue, items)}});
}

void people(Writer& writer) {
  std::vector<model::RoleId> told;
  for (const model::PersonStart& person : writer.protocol().people) {
    if (std::find(told.begin(), told.end(), person.role) != told.end()) continue;
    told.push_back(person.role);
    model::ZoneId zone;
    for (const model::PersonStart& each : writer.protocol().people)
      if (each.role == person.role && each.zone) zone = each.zone;
    const std::string place = zone ? writer.said(Phrase::dossier_start_in_zone, {{"zone", writer.protocol()[zone].name}}) : writer.said(Phrase::dossier_start_no_zone);
    writer.row(fields_table, {{{wording::capitalised(writer.protocol()[person.role].name), true, ""}}, {{place + "\n" + wears(writer, person.role), false, ""}}});
  }
}

/// Things with their surfaces at this level, one string a thing.
std::vector<std::string> at_level(const Writer& writer, const VariantFacts& variant, std::uint32_t level) {
  std::vector<std::vector<check::MapSurface>> by_thing;
  for (const auto& [surface, here] : variant.map.at_start) {
    if (here != level) continue;
    if (by_thing.empty() || !(by_thing.back().front().bearer == surface.bearer)) by_thing.emplace_back();
    by_thing.back().push_back(surface);
  }
  std::vector<std::string> all;
  for (const auto& surfaces : by_thing) all.push_back(writer.surfaces(surfaces));
  return all;
}

}  // namespace

void write_start(Writer& writer) {
  writer.heading(Phrase::dossier_start);
  writer.paragraph(writer.said(Phrase::dossier_start_how));
  writer.open(fields_table);
  people(writer);
  bool all_clean = true;
  for (const std::uint32_t level : {effects::kSoiled, effects::kSuspect}) {
    Lists lists(writer);
    for (std::size_t v = 0; v < writer.facts().variants.size(); ++v) lists.add(v, at_level(writer, writer.facts().variants[v], level));
    std::string things;
    for (const std::string& each : lists.told()) things += (things.empty() ? "" : "; ") + each;
    if (things.empty()) continue;
    all_clean = false;
    writer.row(fields_table, {{{wording::capitalised(writer.said(Phrase::dossier_start_is, {{"level", writer.level(level)}})), true, ""}}, {{things, false, ""}}});
  }
  writer.paragraph(writer.said(all_clean ? Phrase::dossier_start_all_clean : Phrase::dossier_start_else));
}

}  // namespace stepward::emit::dossier
