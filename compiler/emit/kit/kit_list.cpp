#include "emit/kit/kit_list.hpp"

#include <algorithm>
#include <numeric>

#include "check/stock_of_lines.hpp"
#include "emit/card/card.hpp"
#include "emit/card/card_places.hpp"
#include "emit/document/check_words.hpp"
#include "emit/dilution/mixture_words.hpp"
#include "graph/quiet_path.hpp"
#include "model/variants.hpp"
#include "wording/act_phrases.hpp"

namespace stepward::emit {

using check::Kept;
using check::StockNeed;
using check::StockUse;
using model::Thing;
using wording::Phrase;

namespace {

enum : std::size_t { things_table, places_table, worn_table };

std::vector<Table> kit_tables(const PaperSource& source) {
  using What = Column::What;
  const auto said = [&](Phrase which) { return source.said(which); };
  return {{{What::tick, "", 0}, {What::figure, said(Phrase::kit_how_many), 0.9}, {What::words, said(Phrase::kit_what), 2.6}, {What::words, said(Phrase::kit_where), 1.5}},
          {{What::tick, "", 0}, {What::words, said(Phrase::kit_what), 3.5}, {What::words, said(Phrase::kit_where), 1.5}},
          {{What::tick, "", 0}, {What::words, said(Phrase::kit_who), 1.5}, {What::words, said(Phrase::kit_wears), 3.5}}};
}

Thing thing_of(const Kept& kept) {
  Thing thing;
  thing.what = kept.item ? Thing::What::item : Thing::What::supply;
  thing.item = kept.item;
  thing.supply = kept.supply;
  return thing;
}

class KitPrinter {
 public:
  explicit KitPrinter(const PaperSource& source)
      : source_(source), card_(card_blocks(source)), places_(places_on_card(card_)), lines_(graph::lines_of(source.protocol, source.variant)) {}

  std::vector<Block> print() {
    blocks_.push_back(Paragraph{{{said(source_.facts.stock_known ? Phrase::kit_is_the_most : Phrase::kit_need_unknown), !source_.facts.stock_known, ""}},
                                !source_.facts.stock_known});
    things();
    disinfectants();
    in_their_place();
    worn();
    return std::move(blocks_);
  }

 private:
  const model::Protocol& protocol() const { return source_.protocol; }
  std::string said(Phrase which, std::initializer_list<wording::Gap> gaps = {}) const { return source_.said(which, gaps); }

  void open(Phrase heading, std::size_t table) {
    blocks_.push_back(Heading{said(heading)});
    blocks_.push_back(TableHead{table});
  }

  // ---- what is counted

  /// The needs that the walk found, or only what the document lists where the walk does not know.
  std::vector<StockNeed> needs() const {
    std::vector<StockNeed> all = source_.facts.stock;
    if (!source_.facts.stock_known) {
      for (const model::StockLine& line : protocol().stock) {
        const Kept kept = check::kept_of(protocol(), line.thing, source_.variant);
        if (!kept.item && !kept.supply) continue;
        auto known = std::find_if(all.begin(), all.end(), [&](const StockNeed& need) { return need.thing == kept; });
        if (known == all.end()) known = all.insert(all.end(), StockNeed{kept, 0, true, 0, {}, {}});
        known->given += line.count;
      }
    }
    // Equipment by kind, in the order in which kinds are declared; then supplies.
    std::stable_sort(all.begin(), all.end(), [&](const StockNeed& a, const StockNeed& b) { return rank(a.thing) < rank(b.thing); });
    return all;
  }

  std::size_t rank(const Kept& kept) const {
    if (!kept.item) return protocol().kinds.size() + 1;
    const auto& kinds = protocol()[kept.item].kinds;
    return kinds.empty() ? protocol().kinds.size() : kinds.front().value;
  }

  void things() {
    const std::vector<StockNeed> all = needs();
    if (all.empty()) return;
    open(Phrase::kit_to_have, things_table);
    for (const StockNeed& need : all) {
      const std::uint32_t count = std::max(need.needed, need.given);
      blocks_.push_back(TableRow{things_table, "", false, {{{counted(need.thing, count), false, ""}}, described(need), {{where(need), false, ""}}}});
    }
  }

  /// "3 pairs", or "40" of what is counted by the piece.
  std::string counted(const Kept& kept, std::uint32_t count) const {
    const wording::Counted counted = wording::counted_apart(protocol(), source_.variant, count, thing_of(kept));
    return counted.unit.empty() ? counted.count : said(Phrase::counted, {{"count", counted.count}, {"name", counted.unit}});
  }

  Text described(const StockNeed& need) const {
    std::string more;
    const auto add_line = [&](const std::string& line) { more += '\n' + line; };
    if (source_.facts.stock_known) {
      if (need.needed == 0) add_line(said(Phrase::kit_nothing_uses));
      for (const std::string& line : reckoned(need)) add_line(line);
    }
    if (!need.listed) add_line(said(Phrase::kit_not_listed));
    else if (need.given < need.needed) add_line(said(Phrase::kit_too_few, {{"count", counted(need.thing, need.given)}}));
    Text text{{wording::capitalised(check::kept_name(protocol(), need.thing)), true, ""}};
    if (!more.empty()) text.push_back({more, false, ""});
    return text;
  }

  const CardPlace* place_of(model::LineId line) const {
    const auto found = places_.find(source_.course.label(line));
    return found == places_.end() ? nullptr : &found->second;
  }

  static bool is_on_trunk(const CardPlace& place) { return !place.box && place.answers.empty(); }

  /// Where a need comes from, line by line, and how much each of them adds.
  struct Reckoning {
    std::vector<std::string> lines;
    std::vector<std::uint32_t> counts;

    void add(const std::string& line, std::uint32_t count) {
      lines.push_back(line);
      counts.push_back(count);
    }
    std::uint32_t total() const { return std::accumulate(counts.begin(), counts.end(), std::uint32_t{0}); }
    /// "1 + 1"
    std::string sum() const {
      std::string text;
      for (const std::uint32_t count : counts) text += (text.empty() ? "" : " + ") + std::to_string(count);
      return with_no_break(text);
    }
  };

  /// A sum that can be followed with a finger: without trouble, what each trouble adds, all of it, and what is to spare.
  std::vector<std::string> reckoned(const StockNeed& need) const {
    const Reckoning reckoning = reasons(need);
    std::vector<std::string> lines = reckoning.lines;
    const std::string needed = counted(need.thing, need.needed);
    if (reckoning.counts.size() > 1 && reckoning.total() == need.needed) lines.push_back(said(Phrase::kit_in_all, {{"sum", reckoning.sum()}, {"count", needed}}));
    else if (reckoning.counts.size() > 1) lines.push_back(said(Phrase::kit_not_all, {{"count", needed}}));
    else if (need.given > need.needed && need.needed > 0) lines.push_back(said(Phrase::kit_run_uses, {{"count", needed}}));
    if (need.given > need.needed && need.needed > 0)
      lines.push_back(said(Phrase::kit_spare, {{"spare", std::to_string(need.given - need.needed)}, {"count", counted(need.thing, need.given)}}));
    return lines;
  }

  /// What of a need arises in a branch, a box, a breach or a second round only; empty where all of it is used anyway.
  Reckoning reasons(const StockNeed& need) const {
    std::uint32_t plain = 0;
    std::vector<std::pair<std::string, std::uint32_t>> boxes;  // box and breach are told once, whatever step it is
    Reckoning more;
    for (const StockUse& use : need.uses) {
      const CardPlace* place = place_of(use.line);
      const std::uint32_t count = use.count * use.times;
      const std::string& step = source_.course.label(use.line);
      if (!place || is_on_trunk(*place)) {
        plain += use.count;
        if (use.times > 1) more.add(said(Phrase::kit_more_again, {{"count", counted(need.thing, count - use.count)}, {"step", step}}), count - use.count);
      } else if (place->box) {
        add_to(boxes, place->box->label, count);
      } else {
        more.add(said(Phrase::kit_more_if, {{"count", counted(need.thing, count)}, {"step", step}, {"question", place->answers.back()}}), count);
      }
    }
    for (const auto& [label, count] : boxes) more.add(box_line(need, label, count), count);
    if (more.lines.empty()) return more;
    more.lines.insert(more.lines.begin(), plain == 0 ? said(Phrase::kit_none_without_trouble) : said(Phrase::kit_without_trouble, {{"count", counted(need.thing, plain)}}));
    more.counts.insert(more.counts.begin(), plain);
    return more;
  }

  static void add_to(std::vector<std::pair<std::string, std::uint32_t>>& boxes, const std::string& label, std::uint32_t count) {
    const auto known = std::find_if(boxes.begin(), boxes.end(), [&](const auto& each) { return each.first == label; });
    if (known == boxes.end()) boxes.push_back({label, count});
    else known->second += count;
  }

  std::string box_line(const StockNeed& need, const std::string& label, std::uint32_t count) const {
    for (const auto& [step, place] : places_) {
      if (!place.box || place.box->label != label) continue;
      const std::string more = counted(need.thing, count);
      return place.box->breach ? said(Phrase::kit_more_in_breach, {{"breach", label}, {"title", place.box->title}, {"count", more}})
                               : said(Phrase::kit_more_in_box, {{"box", label}, {"title", place.box->title}, {"count", more}});
    }
    return {};
  }

  // ---- where

  /// "Exit area", and below it "steps 34, C2": zones of the card's bands, and the steps in their order there.
  std::string where(const StockNeed& need) const {
    std::vector<std::string> labels;
    for (const StockUse& use : need.uses) add_once(labels, source_.course.label(use.line));
    return where(labels);
  }

  std::string where(std::vector<std::string> labels) const {
    std::stable_sort(labels.begin(), labels.end(), [&](const std::string& a, const std::string& b) { return order(a) < order(b); });
    std::vector<std::string> zones;
    for (const std::string& label : labels) {
      const auto place = places_.find(label);
      if (place != places_.end()) add_once(zones, place->second.zone);
    }
    std::string text = wording::capitalised(wording::all_of(protocol().tongue, zones));
    const std::string steps = listed(labels);
    if (labels.empty()) return text;
    return text + (text.empty() ? "" : "\n") +
           (labels.size() == 1 ? said(Phrase::one_step, {{"step", steps}}) : said(Phrase::several_steps, {{"steps", steps}}));
  }

  /// How far down on the card a step stands.
  std::size_t order(const std::string& label) const {
    return static_cast<std::size_t>(std::find_if(card_.begin(), card_.end(), [&](const Block& block) { return label_of(block) == label; }) - card_.begin());
  }

  static std::string listed(const std::vector<std::string>& labels) {
    std::string text;
    for (const std::string& label : labels) text += (text.empty() ? "" : ", ") + label;
    return text;
  }

  static void add_once(std::vector<std::string>& all, const std::string& text) {
    if (!text.empty() && std::find(all.begin(), all.end(), text) == all.end()) all.push_back(text);
  }

  // ---- disinfectants

  void disinfectants() {
    bool any = false;
    for (std::size_t a = 0; a < protocol().agents.size(); ++a) {
      std::vector<std::string> labels;
      for (const model::LineId line : lines_) {
        if (protocol()[line].agent.value == a) add_once(labels, source_.course.label(line));
      }
      if (labels.empty()) continue;
      if (!any) open(Phrase::kit_disinfectants, places_table);
      any = true;
      blocks_.push_back(TableRow{places_table, "", false, {agent_text(protocol().agents[a]), {{where(labels), false, ""}}}});
    }
  }

  Text agent_text(const model::Agent& agent) const {
    const std::string from = agent.recipe ? said(Phrase::kit_mixed_from, {{"stock", stock_words(source_, agent.stock)}}) : said(Phrase::kit_ready_to_use);
    return {{wording::capitalised(agent.name), true, ""}, {"\n" + strength_line(agent) + from + " " + said(Phrase::kit_amount_not_said), false, ""}};
  }

  /// As the dilution card has it: two mixtures may have names that do not tell which is the stronger.
  std::string strength_line(const model::Agent& agent) const {
    const auto gives = agent.recipe ? mixture::strength_of(agent.stock, *agent.recipe) : std::nullopt;
    if (!gives) return {};
    return said(Phrase::strength_is, {{"percent", percent_words(source_, *gives)}, {"ppm", ppm_words(source_, *gives)}}) + "\n";
  }

  // ---- fixtures and bins

  struct Fixed {
    std::string name, zone;
    std::vector<std::string> labels;
  };

  void note(std::vector<Fixed>& all, const std::string& name, const std::string& zone, const std::string& label) const {
    auto known = std::find_if(all.begin(), all.end(), [&](const Fixed& each) { return each.name == name; });
    if (known == all.end()) known = all.insert(all.end(), Fixed{name, zone, {}});
    add_once(known->labels, label);
  }

  std::string zone_name(model::ZoneId zone) const { return zone ? protocol()[zone].name : std::string(); }

  /// A surface is what the work is done on, a patch of floor or of skin: it is there, or nobody would be. One that has to be brought is on
  /// the document's own list.
  bool is_listed(model::SpotId spot) const {
    const auto& stock = protocol().stock;
    return std::any_of(stock.begin(), stock.end(), [&](const model::StockLine& line) { return line.thing.what == Thing::What::spot && line.thing.spot == spot; });
  }

  /// What the document lists that stands in its place, the fixtures that a step names, and the bins that things are dropped into.
  std::vector<Fixed> fixed() const {
    std::vector<Fixed> all;
    const auto spot = [&](const Thing& thing, const std::string& label) {
      if (thing.what != Thing::What::spot || !(protocol()[thing.spot].is_fixture || is_listed(thing.spot))) return;
      note(all, protocol()[thing.spot].name, zone_name(protocol()[thing.spot].zone), label);
    };
    for (const model::StockLine& line : protocol().stock) spot(line.thing, "");
    for (const model::LineId id : lines_) {
      const model::Line& line = protocol()[id];
      for (const Thing& thing : line.things) {
        spot(thing, source_.course.label(id));
        const model::ItemId item = model::item_of(protocol(), thing, source_.variant);
        if (line.verb != model::VerbKind::doff || !item) continue;
        const model::TechniqueId technique = model::technique_of(protocol(), line, item);
        const std::string bin = technique ? protocol()[technique].drops_into : std::string();
        if (!bin.empty() && !is_counted(bin)) note(all, bin, "", source_.course.label(id));
      }
    }
    return all;
  }

  /// A bin that the document lists as a supply stands among the things already.
  bool is_counted(const std::string& name) const {
    const auto names_it = [&](const Kept& kept) { return kept.supply && protocol().supplies[kept.supply.value].name == name; };
    const auto all = needs();
    return std::any_of(all.begin(), all.end(), [&](const StockNeed& need) { return names_it(need.thing); });
  }

  void in_their_place() {
    const std::vector<Fixed> all = fixed();
    const std::vector<std::string> callers = calling();
    if (all.empty() && callers.empty()) return;
    open(Phrase::kit_in_place, places_table);
    for (const Fixed& each : all) {
      const std::string place = each.zone.empty() ? where(each.labels) : wording::capitalised(each.zone);
      blocks_.push_back(TableRow{places_table, "", false, {{{wording::capitalised(each.name), true, ""}}, {{place, false, ""}}}});
    }
    if (!callers.empty()) blocks_.push_back(TableRow{places_table, "", false, {telephone(), {{where(callers), false, ""}}}});
  }

  /// Steps at which somebody calls for help or reports.
  std::vector<std::string> calling() const {
    std::vector<std::string> labels;
    for (const model::LineId line : lines_) {
      const model::VerbKind verb = protocol()[line].verb;
      if (verb == model::VerbKind::call || verb == model::VerbKind::report) add_once(labels, source_.course.label(line));
    }
    return labels;
  }

  Text telephone() const {
    std::vector<std::string> persons;
    bool calls = false;
    for (const model::LineId id : lines_) {
      const model::Line& line = protocol()[id];
      calls |= line.verb == model::VerbKind::call;
      if (line.verb == model::VerbKind::report && line.recipient) add_once(persons, protocol().recipients[line.recipient.value].name);
    }
    Text text{{said(Phrase::kit_telephone), true, ""}};
    if (calls) text.push_back({"\n" + said(Phrase::kit_for_calls), false, ""});
    if (!persons.empty()) text.push_back({"\n" + said(Phrase::kit_for_reports, {{"persons", wording::all_of(protocol().tongue, persons)}}), false, ""});
    return text;
  }

  // ---- what everybody wears

  void worn() {
    bool any = false;
    std::vector<model::RoleId> told;
    for (const model::PersonStart& person : protocol().people) {
      if (std::find(told.begin(), told.end(), person.role) != told.end()) continue;
      told.push_back(person.role);
      std::vector<std::string> items;
      for (const model::PersonStart& each : protocol().people) {
        if (each.role == person.role) add_worn(items, each);
      }
      if (items.empty()) continue;
      if (!any) open(Phrase::kit_worn, worn_table);
      any = true;
      blocks_.push_back(TableRow{worn_table, "", false,
                                 {{{wording::capitalised(protocol()[person.role].name), true, ""}}, {{wording::capitalised(wording::all_of(protocol().tongue, items)), false, ""}}}});
    }
  }

  void add_worn(std::vector<std::string>& items, const model::PersonStart& person) const {
    for (const model::Wearing& each : person.wearing) {
      const model::ItemId item = model::item_of(protocol(), each.thing, source_.variant);
      if (item && model::holds(each.only_for, source_.variant)) items.push_back(protocol()[item].name);
    }
  }

  const PaperSource& source_;
  std::vector<Block> card_;
  std::map<std::string, CardPlace> places_;
  std::vector<model::LineId> lines_;
  std::vector<Block> blocks_;
};

}  // namespace

Sheet kit_list(const PaperSource& source) {
  Sheet sheet = begun_sheet(source, SheetKind::table, source.said(Phrase::kit_list));
  sheet.tables = kit_tables(source);
  sheet.blocks = KitPrinter(source).print();
  stamp(sheet);
  return sheet;
}

}  // namespace stepward::emit
