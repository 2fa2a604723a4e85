#include "wording/story.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "wording/messages.hpp"

namespace stepward::wording {
namespace {

using effects::Bearer;
using effects::Cause;
using effects::FieldMeaning;
using Of = FieldMeaning::What;

std::string whose(const model::Protocol& p, model::RoleId person) {
  return person && person != p.acts ? person_name(p, person) + "'s " : "";
}

// "the plastic apron", but "helper's gloves" and "bare hands".
std::string with_article(const model::Protocol& p, const Bearer& b) {
  const bool owned = (b.what == Bearer::What::worn || b.what == Bearer::What::site) && b.person && b.person != p.acts;
  const bool hands = b.what == Bearer::What::site && p[b.site].is_hands;
  return (owned || hands ? "" : "the ") + bearer_name(p, b);
}

// "the outside of the apron" says no more than "the apron".
std::string part_name(const model::Protocol& p, const Bearer& b, std::uint8_t part) {
  if (!b.item || part >= p[b.item].surfaces.size() || p[b.item].surfaces.size() == 1) return {};
  const std::string& name = p[b.item].surfaces[part].name;
  return name == "outside" ? std::string() : name;
}

/// Words for one change.
class Clause {
 public:
  Clause(const model::Protocol& protocol, const ChangeInWords& change, const std::vector<Bearer>& named)
      : p_(protocol), change_(change), named_(named) {}

  std::string by_cause() const {
    using W = Cause::What;
    const Cause& c = change_.cause;
    switch (c.what) {
      case W::none: return by_field();
      case W::meets: return meeting();
      case W::pulled_off:
        return fmt::format("coming off, {} may dirty {}", subject(c.first), hand_name(p_, c.second));
      case W::brushes:
        return fmt::format("{} {} and may dirty {}", subject(c.first), one(c.first) ? "brushes" : "brush", second());
      case W::rests_inside: return fmt::format("the inside rests on and may dirty {}", second());
      case W::leaves: return fmt::format("{} {} off", subject(c.first), one(c.first) ? "is" : "are");
      case W::goes_on: return fmt::format("{} {} on", subject(c.first), one(c.first) ? "is" : "are");
      case W::disinfected: return fmt::format("{} {} clean", second(), one(c.second) ? "is" : "are");
      case W::wetted: return fmt::format("{} {} left wet", subject(c.first), one(c.first) ? "is" : "are");
      case W::cleaned: return fmt::format("dirt may be left on {}", second());
      case W::looked: return by_look();
      case W::torn: return fmt::format("dirt may already have come through to {}", second());
      case W::exposed: return fmt::format("{} may get dirty there", second());
      case W::moved: return "in another place now";
      case W::answered: return "an answer is given";
      case W::declared: return "it is declared";
      case W::recorded: return "it is written down";
      case W::struck: return "something interrupts";
      case W::happens:
        return fmt::format("it reaches {}{}", second(),
                           change_.field.what == Of::level ? ", " + level() : std::string());
      case W::passed: return fmt::format("{} {} in the hand", subject(c.first), one(c.first) ? "is" : "are");
      case W::remembered: return change_.after == 0 ? "what was done before no longer counts" : "the rule starts here";
      case W::counted: return "another round begins";
    }
    return {};
  }

 private:
  // Changes that follow from a law of their own, such as a look that a touch makes out of date.
  std::string by_field() const {
    const Bearer& b = change_.field.bearer;
    switch (change_.field.what) {
      case Of::level: return level_after(b);
      case Of::known: return by_look();
      case Of::owed: return by_look();
      case Of::reached: return fmt::format("dirt may have reached {}", with_article(p_, b));
      case Of::unlooked: return fmt::format("nobody has looked at {} since", with_article(p_, b));
      case Of::in_hand: return fmt::format("{} {} in the hand", with_article(p_, b), one(b) ? "is" : "are");
      case Of::worn:
      case Of::order:
      case Of::worst:
      case Of::wet:
      case Of::zone:
      case Of::declared:
      case Of::recorded:
      case Of::answer:
      case Of::struck:
      case Of::loop:
      case Of::running:
      case Of::monitor:
      case Of::missed:
      case Of::told:
      case Of::scratch: return {};
    }
    return {};
  }

  std::string by_look() const {
    const FieldMeaning& f = change_.field;
    const std::string thing = with_article(p_, f.bearer);
    if (f.what == Of::level) return fmt::format("{}, {}", thing, level());
    if (f.what == Of::unlooked) return fmt::format("{} {} looked at", thing, one(f.bearer) ? "is" : "are");
    if (!f.finding) return {};
    const std::string& finding = p_[f.finding].name;
    if (f.what == Of::owed)
      return fmt::format("{} on {} {}", finding, thing, change_.after ? "is to be dealt with" : "is dealt with");
    if (change_.after == effects::is_ended) return fmt::format("the look at {} no longer counts", thing);
    return fmt::format("{} on {}", change_.after == effects::is_found ? finding : "no " + finding, thing);
  }

  // The field says which way the dirt went: onto the hand, or onto what it met.
  std::string meeting() const {
    const Cause& c = change_.cause;
    const std::string hand = hand_name(p_, c.first);
    if (loses_sterility()) return fmt::format("{} meet {} and are no longer sterile", hand, second());
    if (change_.field.bearer == c.first) return fmt::format("{} may dirty {}", second(), hand);
    return fmt::format("{} may dirty {}", hand, second());
  }

  /// "the goggles may carry", "the gown is soiled".
  std::string level_after(const Bearer& b) const {
    if (change_.after == effects::kSuspect) return with_article(p_, b) + " may carry dirt";
    return fmt::format("{} {} {}", with_article(p_, b), one(b) ? "is" : "are", level());
  }
  bool loses_sterility() const { return change_.field.what == Of::level && change_.before == effects::kSterile && change_.after == effects::kClean; }
  std::string level() const {
    if (change_.field.what != Of::level) return "may carry dirt";
    return loses_sterility() ? "no longer sterile" : level_name(change_.after);
  }
  bool one(const Bearer& b) const { return !is_plural(bearer_name(p_, b)); }
  bool is_named(const Bearer& b) const { return std::find(named_.begin(), named_.end(), b) != named_.end(); }
  std::string subject(const Bearer& b) const { return is_named(b) ? one(b) ? "it" : "they" : with_article(p_, b); }

  std::string second() const {
    const Bearer& b = change_.cause.second;
    const std::string part = part_name(p_, b, change_.cause.second_part);
    if (is_named(b)) return part.empty() ? one(b) ? "it" : "them" : "the " + part;
    return part.empty() ? with_article(p_, b) : fmt::format("the {} of {}", part, with_article(p_, b));
  }

  const model::Protocol& p_;
  const ChangeInWords& change_;
  const std::vector<Bearer>& named_;
};

}  // namespace

std::string person_name(const model::Protocol& p, model::RoleId role) { return role ? p[role].name : "someone"; }

std::string bearer_name(const model::Protocol& p, const Bearer& b) {
  switch (b.what) {
    case Bearer::What::worn: return b.item ? whose(p, b.person) + p[b.item].name : std::string();
    case Bearer::What::fresh: return b.item ? "fresh " + p[b.item].name : std::string();
    case Bearer::What::site: return b.site ? whose(p, b.person) + p[b.site].name : std::string();
    case Bearer::What::spot: return b.spot ? p[b.spot].name : std::string();
  }
  return {};
}

std::string hand_name(const model::Protocol& p, const Bearer& b) {
  if (b.what == Bearer::What::site) return bearer_name(p, b);
  return fmt::format("{}hands ({})", whose(p, b.person), b.item ? p[b.item].name : "");
}

std::string level_name(std::uint32_t level) {
  switch (level) {
    case effects::kSoiled: return "soiled";
    case effects::kSuspect: return "may carry dirt";
    case effects::kSterile: return "sterile";
    default: return "clean";
  }
}

std::string change_sentence(const model::Protocol& p, const ChangeInWords& change, const std::vector<Bearer>& named) {
  return Clause(p, change, named).by_cause();
}

bool goes_without_saying(Cause::What what) {
  using W = Cause::What;
  switch (what) {
    case W::leaves:
    case W::goes_on:
    case W::looked:
    case W::moved:
    case W::answered:
    case W::declared:
    case W::recorded:
    case W::struck:
    case W::passed:
    case W::counted: return true;
    case W::none:
    case W::meets:
    case W::pulled_off:
    case W::brushes:
    case W::rests_inside:
    case W::disinfected:
    case W::wetted:
    case W::cleaned:
    case W::torn:
    case W::exposed:
    case W::happens:
    case W::remembered: return false;
  }
  return false;
}

std::size_t count_words(std::string_view sentence) {
  std::size_t words = 0;
  bool inside = false;
  for (const char c : sentence) {
    if (c != ' ' && !inside) ++words;
    inside = c != ' ';
  }
  return words;
}

}  // namespace stepward::wording
