// What a run needs, what it throws away, and how long it takes.

#include <algorithm>
#include <map>

#include "emit/dossier/writer.hpp"
#include "model/variants.hpp"
#include "wording/act_phrases.hpp"

namespace stepward::emit::dossier {

using wording::Phrase;

namespace {

model::Thing as_thing(const check::Kept& kept) {
  model::Thing thing;
  thing.what = kept.item ? model::Thing::What::item : model::Thing::What::supply;
  thing.item = kept.item;
  thing.supply = kept.supply;
  return thing;
}

class KitSection {
 public:
  explicit KitSection(Writer& writer) : writer_(writer) {}

  void write() {
    kit();
    waste();
    times();
  }

 private:
  std::string said(Phrase which, std::initializer_list<wording::Gap> gaps = {}) const { return writer_.said(which, gaps); }
  const model::Protocol& protocol() const { return writer_.protocol(); }
  const std::vector<VariantFacts>& variants() const { return writer_.facts().variants; }

  // ---- kit

  void kit() {
    writer_.section(Phrase::dossier_kit);
    writer_.heading(Phrase::dossier_kit_needed);
    const bool known = std::all_of(variants().begin(), variants().end(), [](const VariantFacts& v) { return v.walk.stock_known; });
    writer_.paragraph(said(known ? Phrase::dossier_kit_how : Phrase::dossier_kit_unknown));
    std::vector<check::Kept> things;
    for (const VariantFacts& variant : variants())
      for (const check::StockNeed& need : variant.walk.stock)
        if (std::find(things.begin(), things.end(), need.thing) == things.end()) things.push_back(need.thing);
    const bool any_place = std::any_of(protocol().stock.begin(), protocol().stock.end(), stands_there);
    if (things.empty() && !any_place) {
      if (known) writer_.paragraph(said(Phrase::dossier_kit_nothing));
      return;
    }
    writer_.open(kit_table);
    for (const check::Kept& thing : things) {
      const auto column = [&](auto&& say) { return writer_.by_variant([&](const VariantFacts& variant) { return amount(variant, thing, say); }); };
      const std::string needed = column([](const check::StockNeed& need) { return std::optional(need.needed); });
      const std::string listed = column([](const check::StockNeed& need) { return need.listed ? std::optional(need.given) : std::nullopt; });
      writer_.row(kit_table, {{{wording::capitalised(name(thing)), true, ""}}, {{needed, false, ""}}, {{listed, false, ""}}});
    }
    for (const model::StockLine& line : protocol().stock)
      if (stands_there(line)) place(line);
  }

  /// A fixture, or another thing that is not used up.
  static bool stands_there(const model::StockLine& line) { return line.thing.what == model::Thing::What::spot; }

  void place(const model::StockLine& line) {
    const auto& spot = protocol()[line.thing.spot];
    const std::string where = spot.zone ? said(Phrase::dossier_kit_in_zone, {{"zone", protocol()[spot.zone].name}}) : said(Phrase::dossier_kit_in_place);
    writer_.row(kit_table, {{{wording::capitalised(spot.name), true, ""}}, {{where, false, ""}}, {{std::to_string(line.count), false, ""}}});
  }

  std::string name(const check::Kept& thing) const { return thing.item ? protocol()[thing.item].name : protocol().supplies[thing.supply.value].name; }

  template <typename Say>
  std::string amount(const VariantFacts& variant, const check::Kept& thing, Say say) const {
    for (const check::StockNeed& need : variant.walk.stock) {
      if (!(need.thing == thing)) continue;
      const std::optional<std::uint32_t> count = say(need);
      if (!count) return said(Phrase::dossier_not_listed);
      const wording::Counted counted = wording::counted_apart(protocol(), variant.variant, *count, as_thing(thing));
      return counted.unit.empty() ? counted.count : said(Phrase::counted, {{"count", counted.count}, {"name", counted.unit}});
    }
    return {};
  }

  // ---- waste

  struct Waste { std::string name, bin; bool reusable = false; };

  /// What comes off at each step, and into which bin.
  std::map<std::string, std::set<model::LineId>> thrown_away(const VariantFacts& variant) const {
    std::map<std::string, std::set<model::LineId>> all;
    for (const model::LineId id : variant.reached) {
      const model::Line& line = protocol()[id];
      if (line.verb != model::VerbKind::doff) continue;
      for (const model::Thing& thing : line.things) {
        const model::ItemId item = model::item_of(protocol(), thing, variant.variant);
        if (item) all[waste_name(line, item)].insert(id);
      }
    }
    return all;
  }

  std::string waste_name(const model::Line& line, model::ItemId item) const {
    const model::TechniqueId technique = model::technique_of(protocol(), line, item);
    const std::string bin = technique ? protocol()[technique].drops_into : std::string();
    const std::string name = protocol()[item].name;
    if (!bin.empty()) return said(Phrase::dossier_waste_into, {{"thing", name}, {"bin", bin}});
    return said(protocol()[item].reusable ? Phrase::dossier_waste_kept : Phrase::dossier_waste_no_bin, {{"thing", name}});
  }

  void waste() {
    writer_.heading(Phrase::dossier_waste);
    std::set<std::string> names;
    std::vector<std::map<std::string, std::set<model::LineId>>> all;
    for (const VariantFacts& variant : variants()) {
      all.push_back(thrown_away(variant));
      for (const auto& [name, lines] : all.back()) names.insert(name);
    }
    writer_.paragraph(said(names.empty() ? Phrase::dossier_waste_nothing : Phrase::dossier_waste_how));
    if (names.empty()) return;
    writer_.open(waste_table);
    for (const std::string& name : names) {
      const std::string steps = writer_.by_variant([&](const VariantFacts& variant) {
        const auto& here = all[static_cast<std::size_t>(&variant - variants().data())];
        const auto found = here.find(name);
        return found == here.end() ? std::string() : steps_of(variant, found->second);
      });
      writer_.row(waste_table, {{{wording::capitalised(name), true, ""}}, {{steps, false, ""}}});
    }
  }

  // ---- time

  void times() {
    writer_.heading(Phrase::dossier_times);
    writer_.paragraph(said(Phrase::dossier_times_how));
    std::vector<model::EndingId> endings;
    const auto note = [&](model::EndingId ending) {
      if (std::find(endings.begin(), endings.end(), ending) == endings.end()) endings.push_back(ending);
    };
    for (const VariantFacts& variant : variants())
      for (const check::RunLengths& run : variant.lengths)
        note(run.ending);
    if (endings.empty()) {
      writer_.paragraph(said(Phrase::dossier_times_unknown));
      return;
    }
    for (const VariantFacts& variant : variants())
      for (const model::EndingId ending : variant.endings)
        if (only_interrupted(variant, ending)) note(ending);
    std::sort(endings.begin(), endings.end());
    writer_.open(times_table);
    for (const model::EndingId ending : endings) ending_row(ending);
  }

  /// Runs come to it, and none of those that nothing interrupts.
  static bool only_interrupted(const VariantFacts& variant, model::EndingId ending) {
    const bool is_timed = std::any_of(variant.lengths.begin(), variant.lengths.end(), [&](const check::RunLengths& run) { return run.ending == ending; });
    return !variant.lengths.empty() && !is_timed && variant.endings.count(ending) != 0;
  }

  void ending_row(model::EndingId ending) {
    const auto column = [&](auto&& say) {
      return writer_.by_variant([&](const VariantFacts& variant) {
        for (const check::RunLengths& run : variant.lengths)
          if (run.ending == ending) return said(Phrase::dossier_time_and_lines, {{"time", time(say(run).first)}, {"count", std::to_string(say(run).second)}});
        return only_interrupted(variant, ending) ? said(Phrase::dossier_time_interrupted) : std::string();
      });
    };
    const std::string shortest = column([](const check::RunLengths& run) { return std::pair(run.least_seconds, run.fewest_lines); });
    const std::string longest = column([](const check::RunLengths& run) { return std::pair(run.most_seconds, run.most_lines); });
    Text name{{ending ? protocol()[ending].name : said(Phrase::run_is_over), true, ""}};
    if (ending && !protocol()[ending].normal) name.push_back({"\n" + said(Phrase::dossier_emergency), false, ""});
    writer_.row(times_table, {name, {{shortest, false, ""}}, {{longest, false, ""}}});
  }

  /// "38 min 45 s": the wording of a card has one unit only.
  static std::string time(std::uint64_t seconds) {
    const std::uint64_t minutes = seconds / 60, rest = seconds % 60;
    if (minutes == 0) return std::to_string(rest) + " s";
    return std::to_string(minutes) + " min" + (rest ? " " + std::to_string(rest) + " s" : "");
  }

  Writer& writer_;
};

}  // namespace

void write_kit(Writer& writer) { KitSection(writer).write(); }

}  // namespace stepward::emit::dossier
