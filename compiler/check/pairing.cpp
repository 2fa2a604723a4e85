#include "check/pairing.hpp"

#include <algorithm>
#include <map>

#include "base/text.hpp"
#include "model/variants.hpp"

namespace stepward::check {
namespace {

using diagnostics::Code;
using model::Variant;

std::string name_of(const model::Protocol& protocol, const Variant& variant) {
  const std::string name = model::variant_name(protocol, variant);
  return name.empty() ? "its only variant" : name;
}

/// The value that a variant has in a choice, by name; empty: the choice is not open there.
std::string value_of(const model::Choice& choice, int value) {
  return value < 0 ? std::string() : text::fold(choice.values[static_cast<std::size_t>(value)].name);
}

class Pairing {
 public:
  Pairing(const PairOfProtocols& pair, const Options& options, diagnostics::Sink& sink)
      : pair_(pair), options_(options), sink_(sink) {}

  std::size_t run() {
    if (!arrive()) return 0;
    const std::vector<Variant> exits = model::all_variants(pair_.exit);
    std::vector<bool> led_out(entries_.size(), false);
    const model::Protocol still = before_the_first_line(pair_.exit);
    std::size_t compared = 0;
    for (std::size_t x = 0; x < exits.size(); ++x) {
      const Standing start = standing_at_start(still, exits[x]);
      bool came_in = false;
      for (std::size_t e = 0; e < entries_.size(); ++e) {
        if (!correspond(exits[x], entries_[e])) continue;
        came_in = led_out[e] = true;
        if (options_.only_variant && *options_.only_variant != x) continue;
        compare(arrivals_[e].standing, start, exits[x]);
        ++compared;
      }
      if (!came_in) note(Code::V208, {name_of_shared(pair_.exit, exits[x], pair_.entry)}, exits[x], pair_.name_at);
    }
    for (std::size_t e = 0; e < entries_.size(); ++e)
      if (!led_out[e]) note(Code::V207, {name_of_shared(pair_.entry, entries_[e], pair_.exit)}, {}, pair_.name_at);
    tell(exits.size());
    return compared;
  }

 private:
  /// Walks the entry. False: it has mistakes of its own, so that nobody arrives as its ending says.
  bool arrive() {
    entries_ = model::all_variants(pair_.entry);
    for (const Variant& variant : entries_) {
      arrivals_.push_back(standing_at_ending(pair_.entry, variant, pair_.exit.document.number, options_));
      const Arrival& arrival = arrivals_.back();
      if (arrival.complete && arrival.reached && !arrival.has_error) continue;
      sink_.push_back(diagnostics::make(Code::V201, pair_.name_at, {pair_.entry_named}));
      return false;
    }
    return true;
  }

  /// A choice that only one of the two has is open.
  bool correspond(const Variant& exit, const Variant& entry) const {
    return shared_values(pair_.exit, exit, pair_.entry) == shared_values(pair_.entry, entry, pair_.exit);
  }

  using Values = std::map<std::string, std::string>;  ///< by choice

  /// A variant's values in the choices that the other file has as well.
  static Values shared_values(const model::Protocol& of, const Variant& variant, const model::Protocol& other) {
    Values values;
    for (std::size_t c = 0; c < of.choices.size(); ++c) {
      const std::string choice = text::fold(of.choices[c].name);
      const bool shared = std::any_of(other.choices.begin(), other.choices.end(), [&](const model::Choice& o) { return text::fold(o.name) == choice; });
      if (shared) values[choice] = value_of(of.choices[c], variant[c]);
    }
    return values;
  }

  static std::string name_of_shared(const model::Protocol& of, const Variant& variant, const model::Protocol& other) {
    std::string name;
    for (const auto& [choice, value] : shared_values(of, variant, other))
      if (!value.empty()) name += (name.empty() ? "" : " · ") + value;
    return name;
  }

  void compare(const Standing& arrived, const Standing& start, const Variant& variant) {
    for (const std::string& item : arrived.worn)
      if (!start.worn.count(item)) note(Code::V202, {item, pair_.entry_named}, variant, pair_.name_at, worn_at_ending(item));
    for (const std::string& item : start.worn)
      if (!arrived.worn.count(item)) note(Code::V203, {item, pair_.entry_named}, variant, worn_at_start(item));
    for (const auto& [upper, lower] : arrived.above)
      if (start.above.count({lower, upper})) note(Code::V204, {lower, upper, pair_.entry_named}, variant, worn_at_start(lower));
    for (const std::string& zone : arrived.zones)
      if (!pair_.moved_since && !start.zones.count(zone))
        note(Code::V205, {pair_.entry_named, zone, start.zones.empty() ? "" : *start.zones.begin()}, variant, pair_.name_at);
    // What is worn in only one of the two covers, or leaves bare, something else: those levels then say nothing of their own.
    if (arrived.worn == start.worn) compare_levels(arrived, start, variant);
  }

  void compare_levels(const Standing& arrived, const Standing& start, const Variant& variant) {
    std::map<std::string, std::string> trusted;  // by thing: its surfaces
    for (const auto& [thing, part] : arrived.unclean)
      if (!start.unclean.count({thing, part})) trusted[thing] += (trusted[thing].empty() ? "" : ", ") + part;
    for (const auto& [thing, parts] : trusted)
      note(Code::V206, {parts.empty() ? thing : parts + " of " + thing, pair_.entry_named}, variant, pair_.name_at);
  }

  /// Where a file says that an item is worn: at its normal endings or at its start. None: where the line of the pair stands.
  source::Span worn_at_ending(const std::string& item) const {
    for (const model::Ending& ending : pair_.entry.endings)
      for (const model::Ending::Wears& wears : ending.wears)
        for (const model::Wearing& w : wears.wearing)
          if (ending.normal && wears.who == pair_.entry.acts && names(pair_.entry, w.thing, item)) return w.thing.span;
    return {};
  }
  source::Span worn_at_start(const std::string& item) const {
    for (const model::PersonStart& person : pair_.exit.people)
      for (const model::Wearing& w : person.wearing)
        if (person.role == pair_.exit.acts && names(pair_.exit, w.thing, item)) return w.thing.span;
    return pair_.name_at;
  }
  static bool names(const model::Protocol& p, const model::Thing& thing, const std::string& item) {
    if (thing.what == model::Thing::What::item) return p[thing.item].name == item;
    if (thing.what != model::Thing::What::choice) return false;
    const auto& values = p[thing.choice].values;
    return std::any_of(values.begin(), values.end(), [&](const model::ChoiceOption& v) { return v.item && p[v.item].name == item; });
  }

  /// The same difference in several variants is one finding.
  void note(Code code, std::vector<std::string> args, const Variant& variant, source::Span at, source::Span other = {}) {
    Difference& d = differences_[{code, args}];
    d.at = at;
    d.other = other;
    const std::string name = variant.empty() ? std::string() : name_of(pair_.exit, variant);
    if (std::find(d.variants.begin(), d.variants.end(), name) == d.variants.end()) d.variants.push_back(name);
  }

  void tell(std::size_t variants) {
    for (const auto& [key, d] : differences_) {
      diagnostics::Diagnostic finding = diagnostics::make(key.first, d.at, key.second);
      std::string list;
      for (const std::string& name : d.variants) list += (list.empty() ? "" : "; ") + name;
      if (d.variants.size() == variants && variants > 1) list = "every variant";
      finding.args.push_back(list.empty() ? list : ": " + list);
      if (d.other.file) finding.places.push_back({d.other, "worn at its ending"});
      if (variants > 1 && key.first != Code::V207) finding.shared = std::to_string(d.variants.size()) + " of " + std::to_string(variants) + " variants";
      sink_.push_back(std::move(finding));
    }
  }

  struct Difference {
    source::Span at, other;
    std::vector<std::string> variants;
  };

  const PairOfProtocols& pair_;
  const Options& options_;
  diagnostics::Sink& sink_;
  std::vector<Variant> entries_;
  std::vector<Arrival> arrivals_;
  std::map<std::pair<Code, std::vector<std::string>>, Difference> differences_;
};

}  // namespace

std::size_t check_pair(const PairOfProtocols& pair, const Options& options, diagnostics::Sink& sink) {
  return Pairing(pair, options, sink).run();
}

}  // namespace stepward::check
