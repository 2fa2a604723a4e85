// A protocol's frame: its variants, who takes part, how it may end, what lies ready, who reads aloud.

#include <algorithm>

#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {
namespace {

class FrameReader {
 public:
  explicit FrameReader(Context& context) : context_(context), protocol_(context.protocol) {}

  void run() {
    context_.choice_used.assign(protocol_.choices.size(), false);
    const bool is_protocol = context_.loaded.files[0].tree.file_kind == "protocol";
    // Choices first: everything else may depend on them.
    each(NodeKind::variants, [&](const Place& place) { read_variants(place); });
    settle_variants();
    each(NodeKind::people, [&](const Place& place) { read_people(place); });
    each(NodeKind::endings, [&](const Place& place) { read_endings(place); });
    each(NodeKind::stock, [&](const Place& place) { read_stock(place); });
    each(NodeKind::rhythm, [&](const Place& place) { read_rhythm(place); });
    each(NodeKind::reading, [&](const Place& place) { read_reading(place); });
    if (is_protocol) check_parts();
  }

 private:
  /// The blocks that only a protocol has are read in the first file alone; `check_whole` reports the others.
  template <class Take>
  void each(NodeKind kind, Take take) {
    for (const Place& place : context_.declared) {
      if (context_.is_root(place) && context_.node(place).kind == kind) take(place);
    }
  }
  template <class Take>
  void each_line(const Place& place, Take take) {
    for (const NodeId child : context_.node(place).children) take(context_.tree(place)[child]);
  }

  void read_variants(const Place& place) {
    each_line(place, [&](const Node& line) {
      if (line.kind == NodeKind::plain) read_choice(line);
    });
    each_line(place, [&](const Node& line) {
      if (line.kind == NodeKind::never_together) read_exclusion(place, line);
    });
  }

  void read_choice(const Node& line) {
    if (context_.misnamed.count(&line) > 0) return;
    const auto reading = context_.read(line, context_.frames->choice);
    if (!reading) return;
    Choice& choice = protocol_.choices[reading->find("choice")->meaning.index];
    choice.only_for = condition_of(context_, line, *reading);
    for (const ChoiceValue& value : choice.only_for) {
      if (value.choice.value < reading->find("choice")->meaning.index) continue;
      context_.report(Code::V105, line.span, {choice.name, protocol_[value.choice].name});
      choice.only_for.clear();
      break;
    }
  }

  void read_exclusion(const Place& place, const Node& line) {
    const auto reading = context_.read(line, context_.frames->values);
    if (!reading) return;
    const std::vector<bool> used = context_.choice_used;
    Exclusion exclusion{condition_of(context_, line, *reading), {}, line.span};
    context_.choice_used = used;  // to be excluded is no use
    for (const NodeId child : line.children) {
      const Node& detail = context_.tree(place)[child];
      if (detail.kind != NodeKind::because) continue;
      if (const auto because = context_.read(detail, context_.frames->text_alone))
        exclusion.because = quoted(detail, *because);
    }
    protocol_.exclusions.push_back(std::move(exclusion));
  }

  /// What a line excludes must be able to meet without it, or it says nothing.
  void check_exclusions() {
    for (const Exclusion& exclusion : protocol_.exclusions) {
      if (exclusion.together.empty()) continue;
      Protocol without;
      without.choices = protocol_.choices;
      if (!can_hold(exclusion.together, all_variants(without))) context_.report(Code::V111, exclusion.span, {names_of(exclusion.together)});
    }
    for (std::uint32_t c = 0; c < protocol_.choices.size(); ++c)
      for (std::uint8_t v = 0; v < protocol_.choices[c].values.size(); ++v) check_value({ChoiceId{c}, v});
  }

  /// A value that is excluded by itself is left out on purpose; one that several lines shut out together is not.
  void check_value(const ChoiceValue& value) {
    if (can_hold({value}, context_.variants)) return;
    const bool on_purpose = std::any_of(protocol_.exclusions.begin(), protocol_.exclusions.end(), [&](const Exclusion& e) {
      return e.together.size() == 1 && e.together[0].choice == value.choice && e.together[0].value == value.value;
    });
    if (on_purpose) return;
    const Choice& choice = protocol_[value.choice];
    auto& shut_out = context_.report(Code::V112, choice.span, {choice.values[value.value].name});
    for (const Exclusion& exclusion : protocol_.exclusions)
      for (const ChoiceValue& v : exclusion.together)
        if (v.choice == value.choice && v.value == value.value) shut_out.places.push_back({exclusion.span, "excluded here"});
  }

  std::string names_of(const VariantCondition& condition) const {
    std::string names;
    for (const ChoiceValue& v : condition) names += (names.empty() ? "" : ", ") + protocol_[v.choice].values[v.value].name;
    return names;
  }

  void settle_variants() {
    context_.variants = all_variants(protocol_);
    if (context_.variants.empty() && !protocol_.choices.empty()) {
      auto& none = context_.report(Code::V107, protocol_.choices.front().span);
      for (const Exclusion& exclusion : protocol_.exclusions) none.places.push_back({exclusion.span, "excluded here"});
    }
    const bool any_left = !context_.variants.empty() && context_.variants.size() < most_variants;
    if (any_left) check_exclusions();
    if (context_.variants.size() >= most_variants) {
      context_.report(Code::V109, protocol_.choices.back().span, {std::to_string(most_variants)});
    }
  }

  void read_people(const Place& place) {
    people_ = true;
    each_line(place, [&](const Node& line) {
      if (line.kind != NodeKind::plain) return;
      const auto reading = context_.read(line, context_.frames->person);
      if (!reading) return;
      const RoleId role{reading->find("role")->meaning.index};
      if (reading->has("acts")) return read_acting(line, role);
      PersonStart& person = person_of(role);
      if (reading->has("dressed")) {
        person.ends_dressed = true;
        if (const Segment* next = reading->find("next")) person.continue_with = written(line, *next);
      } else {
        read_start(line, *reading, person);
      }
    });
    for (const PersonStart& person : protocol_.people) {
      if (!person.zone)
        context_.report(Code::N114, context_.node(place).head, {protocol_[person.role].name, "where to begin"});
    }
    if (!protocol_.acts)
      context_.report(Code::N120, context_.node(place).head);
    else
      person_of_acting(place);
  }

  void person_of_acting(const Place& place) {
    const bool there = std::any_of(protocol_.people.begin(), protocol_.people.end(),
                                   [&](const PersonStart& person) { return person.role == protocol_.acts; });
    if (!there)
      context_.report(Code::N114, context_.node(place).head, {protocol_[protocol_.acts].name, "where to begin"});
  }

  void read_acting(const Node& line, RoleId role) {
    if (protocol_.acts) {
      context_.report(Code::N113, line.span, {"who acts"}).places.push_back({acts_, "said first"});
      return;
    }
    protocol_.acts = role;
    acts_ = line.span;
  }

  PersonStart& person_of(RoleId role) {
    for (PersonStart& person : protocol_.people) {
      if (person.role == role) return person;
    }
    protocol_.people.push_back({role, {}, {}, false, {}});
    return protocol_.people.back();
  }

  void read_start(const Node& line, const Reading& reading, PersonStart& person) {
    if (const Segment* zone = reading.find("zone")) {
      if (person.zone)
        context_.report(Code::N113, span_of(line, *zone), {"where " + protocol_[person.role].name + " begins"});
      else
        person.zone = ZoneId{zone->meaning.index};
    }
    for (Wearing& wearing : read_wearing(line, reading)) person.wearing.push_back(std::move(wearing));
  }

  std::vector<Wearing> read_wearing(const Node& line, const Reading& reading) {
    std::vector<Wearing> list;
    const VariantCondition only_for = condition_of(context_, line, reading);
    for (Thing& thing : things_of(context_, line, reading.segments)) {
      check_choice(thing, only_for);
      list.push_back({std::move(thing), only_for});
    }
    return list;
  }

  /// A choice that is worn must have a value that is an item wherever the line holds.
  void check_choice(const Thing& thing, const VariantCondition& only_for) {
    if (thing.what == Thing::What::choice) check_choice_is_open(context_, thing, only_for);
  }

  void read_endings(const Place& place) {
    each_line(place, [&](const Node& line) {
      if (line.kind != NodeKind::plain || context_.misnamed.count(&line) > 0) return;
      const auto reading = context_.read(line, context_.frames->ending);
      if (!reading) return;
      Ending& ending = protocol_.endings[reading->find("ending")->meaning.index];
      ending.normal = words(line, *reading->find("nature")) == "normal";
      if (const Segment* next = reading->find("next")) ending.continue_with = written(line, *next);
      for (const NodeId child : line.children) {
        const Node& detail = context_.tree(place)[child];
        if (detail.kind != NodeKind::plain) continue;
        if (const auto said = context_.read(detail, context_.frames->ending_line))
          read_ending_line(detail, *said, ending);
      }
    });
    if (protocol_.endings.empty()) context_.report(Code::N119, context_.node(place).head, {"ending"});
  }

  void read_ending_line(const Node& line, const Reading& reading, Ending& ending) {
    if (reading.has("clean")) {
      for (Thing& thing : things_of(context_, line, reading.segments)) ending.clean.push_back(std::move(thing));
      return;
    }
    const RoleId who{reading.find("role")->meaning.index};
    if (reading.has("where"))
      ending.where.push_back({who, ZoneId{reading.find("zone")->meaning.index}, line.span});
    else
      ending.wears.push_back({who, read_wearing(line, reading), line.span});
  }

  void read_stock(const Place& place) {
    each_line(place, [&](const Node& line) {
      if (line.kind != NodeKind::plain) return;
      const auto reading = context_.read(line, context_.frames->stock);
      if (!reading) return;
      const auto count = whole(line.phrase[reading->find("n")->begin].text, 99'999);
      if (!count || *count == 0) context_.report(Code::T706, line.span, {words(line, *reading->find("n"))});
      const auto things = things_of(context_, line, reading->segments);
      check_unit(context_, line, *reading, things.front());
      protocol_.stock.push_back({count.value_or(1), things.front(), line.span});
    });
  }

  void read_rhythm(const Place& place) {
    Rhythm& rhythm = protocol_.rhythm;
    rhythm.given = true;
    rhythm.span = context_.node(place).head;
    each_line(place, [&](const Node& line) {
      if (line.kind != NodeKind::plain) return;
      const auto reading = context_.read(line, context_.frames->rhythm);
      if (!reading) return;
      const std::string does = words(line, *reading->find("does"));
      RoleId& who = does == "reads"     ? rhythm.reads
                    : does == "repeats" ? rhythm.repeats
                    : does == "acts"    ? rhythm.acts
                                        : rhythm.confirms;
      if (who) context_.report(Code::N113, line.span, {"who " + does});
      who = RoleId{reading->find("role")->meaning.index};
      check_takes_part(context_, who, line.span);
    });
  }

  void read_reading(const Place& place) {
    const Node& node = context_.node(place);
    if (const auto reading = context_.read(node, context_.frames->reading)) {
      const bool perfect = words(node, *reading->find("reading")) == "perfect";
      protocol_.reading = perfect ? HandReading::perfect : HandReading::ordinary;
    }
  }

  void check_parts() {
    const source::Span file = context_.loaded.files[0].tree.root().span;
    if (!people_) context_.report(Code::N119, file, {"\"people\" block"});
    if (protocol_.endings.empty() && !has(NodeKind::endings)) context_.report(Code::N119, file, {"\"endings\" block"});
    if (!has(NodeKind::phase)) context_.report(Code::N119, file, {"phase"});
  }

  bool has(NodeKind kind) const {
    return std::any_of(context_.declared.begin(), context_.declared.end(), [&](const Place& place) {
      return context_.is_root(place) && context_.node(place).kind == kind;
    });
  }

  static std::string written(const Node& line, const Segment& segment) {
    std::string text;
    for (std::size_t at = segment.begin; at < segment.end; ++at)
      text += (at > segment.begin ? " " : "") + line.phrase[at].written;
    return text;
  }

  Context& context_;
  Protocol& protocol_;
  bool people_ = false;
  source::Span acts_;
};

}  // namespace

void check_choice_is_open(Context& context, const Thing& thing, const VariantCondition& within) {
  const Choice& choice = context.protocol[thing.choice];
  for (const Variant& variant : context.variants) {
    if (!holds(within, variant)) continue;
    const int value = variant[thing.choice.value];
    if (value < 0) {
      context.report(Code::V108, thing.span, {choice.name, variant_name(context.protocol, variant)});
      return;
    }
    const ChoiceOption& option = choice.values[static_cast<std::size_t>(value)];
    if (!option.item) {
      context.report(Code::V110, thing.span, {option.name, choice.name});
      return;
    }
  }
}

void check_takes_part(Context& context, RoleId who, source::Span at) {
  const auto& people = context.protocol.people;
  if (people.empty()) return;  // the missing block was reported
  const bool there = std::any_of(people.begin(), people.end(), [&](const PersonStart& p) { return p.role == who; });
  if (!there) context.report(Code::N121, at, {context.protocol[who].name});
}

void check_unit(Context& context, const Node& line, const Reading& reading, const Thing& thing) {
  const Segment* unit = reading.find("unit");
  if (!unit) return;
  const Protocol& protocol = context.protocol;
  std::vector<std::string> counted;
  const auto of_item = [&](ItemId item) {
    for (const KindId kind : protocol[item].kinds) counted.push_back(protocol[kind].counted_by);
  };
  if (thing.what == Thing::What::supply) counted.push_back(protocol[thing.supply].counted_by);
  if (thing.what == Thing::What::item) of_item(thing.item);
  if (thing.what == Thing::What::choice) {
    for (const ChoiceOption& option : protocol[thing.choice].values) {
      if (option.item) of_item(option.item);
    }
  }
  const std::string given = words(line, *unit);
  if (std::find(counted.begin(), counted.end(), given) == counted.end()) {
    context.report(Code::N118, span_of(line, *unit), {std::string(context.files.text(thing.span)), given});
  }
}

void read_frame(Context& context) { FrameReader(context).run(); }

}  // namespace stepward::model::reading
