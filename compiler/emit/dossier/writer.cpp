#include "emit/dossier/writer.hpp"

#include <algorithm>

#include "wording/act_phrases.hpp"

namespace stepward::emit::dossier {

using effects::Bearer;
using wording::Phrase;

namespace {

/// What a label is when it is a whole number; 0: it has letters.
unsigned long whole_number(const std::string& label) {
  const bool digits = !label.empty() && label.size() < 9 && std::all_of(label.begin(), label.end(), [](char c) { return c >= '0' && c <= '9'; });
  return digits ? std::stoul(label) : 0;
}

/// "1, 2a, 5–8" from labels in order.
std::string drawn_together(const std::vector<std::string>& labels) {
  std::string text;
  for (std::size_t i = 0; i < labels.size();) {
    std::size_t last = i;
    while (last + 1 < labels.size() && whole_number(labels[last]) && whole_number(labels[last + 1]) == whole_number(labels[last]) + 1) ++last;
    if (last < i + 2) last = i;  // two in a row are no run
    text += (text.empty() ? "" : ", ") + labels[i] + (last > i ? "–" + labels[last] : "");
    i = last + 1;
  }
  return text;
}

bool is_digit(const std::string& text, std::size_t at) { return at < text.size() && text[at] >= '0' && text[at] <= '9'; }

/// The number that begins at `at`, which is moved behind it.
unsigned long number_at(const std::string& text, std::size_t& at) {
  unsigned long number = 0;
  for (; is_digit(text, at); ++at) number = number * 10 + static_cast<unsigned long>(text[at] - '0');
  return number;
}

const graph::Entry* entry_of(const graph::Course& course, const std::string& label) {
  for (const graph::Run& run : course.runs)
    for (const graph::Entry& entry : run.entries)
      if (entry.what == graph::Entry::What::step && entry.label == label) return &entry;
  return nullptr;
}

}  // namespace

void Writer::field(Phrase name, const std::string& value) {
  if (!value.empty()) row(fields_table, {{{said(name), true, ""}}, {{value, false, ""}}});
}

std::string Writer::day(const std::string& iso) const { return iso.empty() ? said(Phrase::not_given) : date_words(iso, captions_); }

std::string Writer::level(std::uint32_t level) const {
  switch (level) {
    case effects::kSterile: return said(Phrase::dossier_sterile);
    case effects::kClean: return said(Phrase::dossier_clean);
    case effects::kSuspect: return said(Phrase::dossier_may_carry);
    default: return said(Phrase::dossier_soiled);
  }
}

std::string Writer::bearer(const Bearer& b) const {
  const model::Protocol& p = protocol();
  const auto of_person = [&](const std::string& thing) {
    if (!b.person || b.person == p.acts) return thing;
    return said(Phrase::thing_of_person, {{"thing", thing}, {"person", p[b.person].name}});
  };
  switch (b.what) {
    case Bearer::What::worn: return of_person(p[b.item].name);
    case Bearer::What::fresh: return said(Phrase::dossier_fresh, {{"thing", p[b.item].name}});
    case Bearer::What::site: return of_person(p[b.site].name);
    case Bearer::What::spot: return p[b.spot].name;
  }
  return {};
}

std::string Writer::surfaces(const std::vector<check::MapSurface>& all) const {
  std::string text;
  for (std::size_t i = 0; i < all.size();) {
    std::size_t next = i;
    std::vector<std::string> parts;
    for (; next < all.size() && all[next].bearer == all[i].bearer; ++next) {
      if (!all[i].bearer.item) continue;
      const model::Surface& surface = protocol()[all[i].bearer.item].surfaces[all[next].part];
      parts.push_back(surface.called.empty() ? surface.name : surface.called);
    }
    const bool whole = !all[i].bearer.item || parts.size() == protocol()[all[i].bearer.item].surfaces.size();
    std::string in_brackets;
    for (const std::string& part : parts) in_brackets += (in_brackets.empty() ? "" : ", ") + part;
    text += (text.empty() ? "" : "; ") + bearer(all[i].bearer) + (whole ? "" : " (" + in_brackets + ")");
    i = next;
  }
  return text;
}

Text Writer::act(const VariantFacts& variant, model::LineId id) const {
  const model::Line& line = protocol()[id];
  const graph::Entry* entry = entry_of(variant.course, variant.course.label(id));
  const PaperSource source = source_of(variant);
  wording::Setting setting;
  if (entry) setting = setting_of(source, *entry);
  setting.hands.clear();  // the rows of a dossier tell of hands by themselves
  wording::StepText text = wording::step_text(protocol(), variant.variant, line, setting);
  const bool received = is_received(protocol(), line);
  if (received) text.act = act_received(source, line, text, setting.anew);
  Text act;
  if (line.who != protocol().acts && !received) act.push_back({wording::capitalised(protocol()[line.who].name) + ": ", false, ""});
  if (text.act.verb.empty()) {
    act.push_back({text.words, false, ""});
    return act;
  }
  const bool close_up = !text.act.rest.empty() && std::string(",.:;").find(text.act.rest[0]) != std::string::npos;
  act.push_back({text.act.verb, true, ""});
  if (!text.act.rest.empty()) act.push_back({(close_up ? "" : " ") + text.act.rest, false, ""});
  return act;
}

std::vector<Shared> Writer::shared(const std::function<std::string(const VariantFacts&)>& say) const {
  std::vector<Shared> all;
  for (std::size_t v = 0; v < facts_.variants.size(); ++v) {
    const std::string said_here = say(facts_.variants[v]);
    auto known = std::find_if(all.begin(), all.end(), [&](const Shared& each) { return each.said == said_here; });
    if (known == all.end()) known = all.insert(all.end(), Shared{{}, said_here});
    known->variants.push_back(v + 1);
  }
  return all;
}

std::string Writer::in_variants(const Shared& shared) const {
  if (shared.variants.size() == 1) return said(Phrase::dossier_in_variant, {{"what", shared.said}, {"variant", std::to_string(shared.variants.front())}});
  return said(Phrase::dossier_in_variants, {{"what", shared.said}, {"variants", numbers(shared.variants)}});
}

std::string Writer::by_variant(const std::function<std::string(const VariantFacts&)>& say, const char* between) const {
  std::string text;
  const std::vector<Shared> all = shared(say);
  for (const Shared& each : all) {
    if (each.said.empty()) continue;
    const bool everywhere = each.variants.size() == facts_.variants.size();
    text += (text.empty() ? "" : between) + (everywhere ? each.said : in_variants(each));
  }
  return text;
}

std::string Writer::steps_of_lines(const std::set<model::LineId>& lines, const std::set<std::size_t>& of, const char* between) const {
  return by_variant([&](const VariantFacts& variant) {
    return of.count(static_cast<std::size_t>(&variant - facts_.variants.data())) ? steps_of(variant, lines) : "";
  }, between);
}

std::string Writer::numbers(const std::vector<std::size_t>& variants) {
  std::vector<std::string> labels;
  for (const std::size_t v : variants) labels.push_back(std::to_string(v));
  return drawn_together(labels);
}

bool stands_before(const std::string& a, const std::string& b) {
  const auto kind = [](const std::string& label) { return is_digit(label, 0) ? 0 : label.find('.') == std::string::npos ? 1 : 2; };
  if (kind(a) != kind(b)) return kind(a) < kind(b);
  std::size_t i = 0, k = 0;
  while (i < a.size() && k < b.size()) {
    if (is_digit(a, i) && is_digit(b, k)) {
      const unsigned long left = number_at(a, i), right = number_at(b, k);
      if (left != right) return left < right;
    } else if (a[i] != b[k]) {
      return a[i] < b[k];
    } else {
      ++i, ++k;
    }
  }
  return i == a.size() && k < b.size();
}

std::vector<std::string> labels_of(const VariantFacts& variant) {
  std::set<std::string> all;
  for (const model::LineId line : variant.in_order) all.insert(variant.course.label(line));
  all.erase("");
  std::vector<std::string> labels(all.begin(), all.end());
  std::sort(labels.begin(), labels.end(), stands_before);
  return labels;
}

std::string steps_of(const VariantFacts& variant, const std::set<model::LineId>& lines) {
  std::set<std::string> wanted;
  for (const model::LineId line : lines)
    if (line) wanted.insert(variant.course.label(line));
  std::vector<std::string> labels = labels_of(variant);
  std::erase_if(labels, [&](const std::string& label) { return !wanted.count(label); });
  return drawn_together(labels);
}

}  // namespace stepward::emit::dossier
