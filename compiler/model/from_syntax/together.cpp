// `together`: two persons at once, on things that they do not share.
//
// Every way of mixing the lines of the two is walked, so what they do must not depend on who is quicker: nobody can
// promise a stopwatch. A thing that both handle would be such a dependence, and so would be a hand: a glove that the
// helper takes off the wearer while the wearer wipes something is refused here, before any walk.

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "model/from_syntax/steps.hpp"

namespace stepward::model::reading {
namespace {

/// Something that can be handled by one person at a time.
struct Handled {
  Thing::What what = Thing::What::item;
  std::uint32_t id = 0;
  RoleId whose;
  friend bool operator<(const Handled& a, const Handled& b) {
    return std::tie(a.what, a.id, a.whose.value) < std::tie(b.what, b.id, b.whose.value);
  }
};

class Together {
 public:
  Together(Context& context, const Statement& statement)
      : context_(context), protocol_(context.protocol), statement_(statement) {}

  void check() {
    std::map<RoleId, source::Span> people;
    for (const Statement& s : protocol_[statement_.block].statements) people.try_emplace(protocol_[s.line].who, s.span);
    if (people.size() != 2) {
      context_.report(Code::F110, statement_.span);
      return;
    }
    for (const Statement& s : protocol_[statement_.block].statements) handles(protocol_[s.line]);
  }

 private:
  void handles(const Line& line) {
    for (const Thing& thing : line.things) handles(line, thing);
    if (uses_hands(line)) note(line, {Thing::What::hands, 0, line.who}, line.verb_span);
    if (line.verb == VerbKind::pass) note(line, {Thing::What::hands, 0, line.to}, line.span);
    if (line.verb == VerbKind::doff || line.verb == VerbKind::don) {
      const bool gloves = std::any_of(line.things.begin(), line.things.end(), [&](const Thing& t) { return is_of_hands(t); });
      if (gloves) note(line, {Thing::What::hands, 0, line.of}, line.span);
    }
  }

  void handles(const Line& line, const Thing& thing) {
    const RoleId whose = thing.of ? thing.of : line.of ? line.of : protocol_.acts;
    switch (thing.what) {
      case Thing::What::item: note(line, {thing.what, thing.item.value, whose}, thing.span); break;
      case Thing::What::choice:
        for (const ChoiceOption& value : protocol_[thing.choice].values)
          if (value.item) note(line, {Thing::What::item, value.item.value, whose}, thing.span);
        break;
      case Thing::What::site: note(line, {thing.what, thing.site.value, whose}, thing.span); break;
      case Thing::What::spot: note(line, {thing.what, thing.spot.value, {}}, thing.span); break;
      case Thing::What::hands: note(line, {thing.what, 0, thing.of ? thing.of : line.who}, thing.span); break;
      case Thing::What::kind:
      case Thing::What::supply:
      case Thing::What::role: break;
    }
  }

  bool is_of_hands(const Thing& thing) const {
    const auto on_hands = [&](ItemId item) {
      const auto& on = protocol_[item].worn_on;
      return std::any_of(on.begin(), on.end(), [&](SiteId site) { return protocol_[site].is_hands; });
    };
    if (thing.what == Thing::What::item) return on_hands(thing.item);
    if (thing.what != Thing::What::choice) return false;
    const auto& values = protocol_[thing.choice].values;
    return std::any_of(values.begin(), values.end(), [&](const ChoiceOption& v) { return v.item && on_hands(v.item); });
  }

  void note(const Line& line, const Handled& what, source::Span at) {
    const auto [before, fresh] = handled_by_.try_emplace(what, std::pair{line.who, at});
    if (fresh || before->second.first == line.who || told_) return;
    told_ = true;
    const std::string name = what.what == Thing::What::hands ? "hands of " + protocol_[what.whose].name
                                                             : std::string(context_.files.text(at));
    context_.report(Code::F111, at, {name}).places.push_back({before->second.second, "the other person"});
  }

  Context& context_;
  const Protocol& protocol_;
  const Statement& statement_;
  std::map<Handled, std::pair<RoleId, source::Span>> handled_by_;
  bool told_ = false;
};

}  // namespace

void check_together(Context& context, const Statement& statement) { Together(context, statement).check(); }

}  // namespace stepward::model::reading
