#include "wording/story.hpp"

#include <fmt/format.h>

namespace stepward::wording {
namespace {

using effects::Bearer;
using effects::Cause;
using effects::FieldMeaning;

std::string item_name(const model::Protocol& p, model::ItemId i) { return p[i].name; }

bool on_hands(const model::Protocol& p, const Bearer& b) {
  if (b.what == Bearer::What::site) return p[b.site].is_hands;
  if (!b.item) return false;
  for (model::SiteId s : p[b.item].worn_on) if (p[s].is_hands) return true;
  return false;
}

std::string whose(const model::Protocol& p, model::RoleId person) {
  return person && person != p.acts ? person_name(p, person) + "'s " : "";
}

std::string met_part(const model::Protocol& p, const Bearer& b, std::uint8_t part) {
  if (!b.item || part == 0xFF || part >= p[b.item].surfaces.size()) return bearer_name(p, b);
  const std::string& surface = p[b.item].surfaces[part].name;
  // "the outside of the apron" says no more than "the apron".
  return surface == "outside" ? bearer_name(p, b) : fmt::format("{} of {}", surface, bearer_name(p, b));
}

std::string hand_name(const model::Protocol& p, const Bearer& b) {
  if (b.what == Bearer::What::site) return whose(p, b.person) + "bare hands";
  return fmt::format("{}hands ({})", whose(p, b.person), item_name(p, b.item));
}

}  // namespace

std::string person_name(const model::Protocol& p, model::RoleId role) { return role ? p[role].name : "someone"; }

std::string bearer_name(const model::Protocol& p, const Bearer& b) {
  switch (b.what) {
    case Bearer::What::worn: return whose(p, b.person) + item_name(p, b.item);
    case Bearer::What::fresh: return "fresh " + item_name(p, b.item);
    case Bearer::What::site: return whose(p, b.person) + p[b.site].name;
    case Bearer::What::spot: return p[b.spot].name;
  }
  return {};
}

std::string surface_name(const model::Protocol& p, const Bearer& b, std::uint8_t part) { return met_part(p, b, part); }

std::string level_name(std::uint32_t level) {
  switch (level) {
    case effects::kSoiled: return "soiled";
    case effects::kSuspect: return "may carry";
    default: return "clean";
  }
}

std::vector<std::string> report_args(const model::Protocol& p, const effects::Report& r) {
  using diagnostics::Code;
  const std::string thing = r.has_thing ? bearer_name(p, r.thing) : "";
  const std::string other = r.has_other ? bearer_name(p, r.other) : "";
  const std::string hand = r.has_other && on_hands(p, r.other) ? hand_name(p, r.other) : other;
  const std::string finding = r.finding ? p[r.finding].name : "";
  const std::string zone = r.zone ? p.zones[r.zone.value].name : "";
  const std::string person = r.person ? person_name(p, r.person) : r.has_thing && r.thing.person ? person_name(p, r.thing.person) : "";
  switch (r.code) {
    case Code::P101:
    case Code::P102:
    case Code::P103:
    case Code::P104:
    case Code::P105:
    case Code::P106: return {hand, thing, person};
    case Code::P201: return {thing, zone, person};
    case Code::P202:
      if (r.has_thing) return {thing, zone, person};
      return {r.other.item ? p[r.other.item].name : r.arm < p.kinds.size() ? p.kinds[r.arm].name : "", zone, person};
    case Code::P203:
    case Code::P204: return {person, zone};
    case Code::P205:
    case Code::P301: return {person, person_name(p, r.other.person)};
    case Code::P401:
    case Code::P404: return {thing, other};
    case Code::P601: return {finding, thing};
    case Code::P702: return {r.has_thing ? thing : person, r.zone ? zone : "", r.ending ? p[r.ending].name : ""};
    case Code::P701:
    case Code::P703:
    case Code::P602: return {thing, r.ending ? p[r.ending].name : ""};
    case Code::F201:
    case Code::F202: return {finding, thing};
    case Code::R101:
    case Code::R102: return {p[r.rule].name, p[r.rule].number};
    default: return {thing, other};
  }
}

std::string change_sentence(const model::Protocol& p, const effects::System& system, const FieldMeaning& f, std::uint32_t before,
                            std::uint32_t after, const Cause& c) {
  using W = Cause::What;
  (void)system;
  (void)before;
  const std::string level = f.what == FieldMeaning::What::level ? level_name(after) : "";
  switch (c.what) {
    case W::none: return {};
    case W::meets: return fmt::format("{} meet {}: {}", hand_name(p, c.first), met_part(p, c.second, c.second_part), level);
    case W::pulled_off: return fmt::format("pulled off unclean, {} leaves {}: {}", bearer_name(p, c.first), hand_name(p, c.second), level);
    case W::brushes: return fmt::format("{} brushes {}: {}", met_part(p, c.first, c.first_part), met_part(p, c.second, c.second_part), level);
    case W::rests_inside: return fmt::format("inside of {} rests on {}: {}", bearer_name(p, c.first), met_part(p, c.second, c.second_part), level);
    case W::leaves: return fmt::format("{} is off", bearer_name(p, c.first));
    case W::goes_on: return fmt::format("{} is on", bearer_name(p, c.first));
    case W::disinfected: return fmt::format("{} is clean", bearer_name(p, c.second));
    case W::wetted: return fmt::format("{} is wet", bearer_name(p, c.second));
    case W::cleaned: return fmt::format("soil is wiped off {}: {}", bearer_name(p, c.second), level.empty() ? "may carry" : level);
    case W::looked: return {};
    case W::torn: return fmt::format("the tear lets it reach {}: {}", met_part(p, c.second, c.second_part), level);
    case W::exposed: return fmt::format("the place reaches {}: {}", met_part(p, c.second, c.second_part), level);
    case W::moved: return "in another place now";
    case W::answered: return {};
    case W::declared: return "it is declared";
    case W::recorded: return "it is recorded";
    case W::struck: return {};
    case W::happens: return fmt::format("it reaches {}: {}", met_part(p, c.second, c.second_part), level);
    case W::passed: return fmt::format("{} is in the hand", bearer_name(p, c.first));
    case W::remembered: return {};
    case W::counted: return {};
  }
  return {};
}

}  // namespace stepward::wording
