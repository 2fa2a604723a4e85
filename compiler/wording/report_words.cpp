// What a report of the walk is about, as the gaps of its sentences.

#include <fmt/format.h>

#include "wording/messages.hpp"
#include "wording/step_text.hpp"
#include "wording/story.hpp"

namespace stepward::wording {
namespace {

using diagnostics::Code;
using effects::Bearer;
using effects::Report;

bool on_hands(const model::Protocol& p, const Bearer& b) {
  if (b.what == Bearer::What::site) return p[b.site].is_hands;
  if (!b.item) return false;
  for (model::SiteId s : p[b.item].worn_on)
    if (p[s].is_hands) return true;
  return false;
}

// The hand of a meeting, or what brushed.
std::string met_with(const model::Protocol& p, const Report& r) {
  if (!r.has_other) return {};
  const bool by_hand = (r.code != Code::P103 && r.code != Code::P107) || on_hands(p, r.other);
  return by_hand ? hand_name(p, r.other) : bearer_name(p, r.other);
}

std::string answers_of(const model::Finding& finding) {
  std::vector<std::string> ways;
  for (const model::Answer& a : finding.answered_by) {
    switch (a.kind) {
      case model::AnswerKind::cleaning: ways.push_back("cleaning"); break;
      case model::AnswerKind::removal: ways.push_back("removal"); break;
      case model::AnswerKind::declaring: ways.push_back("declaring " + a.mark); break;
      case model::AnswerKind::reporting: ways.push_back("reporting"); break;
    }
  }
  return joined(ways, " or ");
}

// The line that gives the first of the answers.
std::string line_that_answers(const model::Finding& finding, const std::string& thing) {
  if (finding.answered_by.empty()) return {};
  const model::Answer& answer = finding.answered_by.front();
  switch (answer.kind) {
    case model::AnswerKind::cleaning: return fmt::format("clean {} from {}", finding.name, thing);
    case model::AnswerKind::removal: return "take off " + thing;
    case model::AnswerKind::declaring: return "declare " + answer.mark;
    case model::AnswerKind::reporting: return fmt::format("report \"{} on {}\"", finding.name, thing);
  }
  return {};
}

// What a place needs is a kind or an item; what is taken off there is named without its wearer, who is named beside it.
std::string missing_there(const model::Protocol& p, const Report& r) {
  if (r.has_thing && r.thing.item) return p[r.thing.item].name;
  if (r.other.item) return p[r.other.item].name;
  return r.kind ? p[r.kind].name : std::string();
}

std::string not_as_declared(const model::Protocol& p, const Report& r) {
  if (r.zone) return fmt::format("{} is not in {}", person_name(p, r.person), p[r.zone].name);
  const std::string thing = bearer_name(p, r.thing);
  return fmt::format("{} {} not worn", thing, is_plural(thing) ? "are" : "is");
}

std::string first_normal_ending(const model::Protocol& p) {
  for (const model::Ending& e : p.endings)
    if (e.normal) return e.name;
  return p.endings.empty() ? std::string() : p.endings.front().name;
}

}  // namespace

std::vector<std::string> report_args(const model::Protocol& p, const Report& r) {
  const std::string thing = r.has_thing ? bearer_name(p, r.thing) : "";
  const std::string finding = r.finding ? p[r.finding].name : "";
  const std::string zone = r.zone ? p[r.zone].name : "";
  const std::string ending = r.ending ? p[r.ending].name : "";
  const model::RoleId who = r.person ? r.person : r.thing.person;
  switch (r.code) {
    case Code::P101: return {met_with(p, r), r.thing.what == effects::Bearer::What::site ? thing : "the face while handling " + thing, person_name(p, who)};
    case Code::P102:
    case Code::P103:
    case Code::P104:
    case Code::P105:
    case Code::P106:
    case Code::P107: return {met_with(p, r), thing, person_name(p, who)};
    case Code::T801:
    case Code::T802:
    case Code::T803: return {p[r.timer].name, ending};
    case Code::P201: return {thing, zone, person_name(p, who)};
    case Code::P202: return {missing_there(p, r), zone, person_name(p, who)};
    case Code::P203:
    case Code::P204: return {person_name(p, who), zone};
    case Code::P205:
    case Code::P301: return {person_name(p, r.person), person_name(p, r.other.person)};
    case Code::P401:
    case Code::P404: return {thing, r.has_other ? bearer_name(p, r.other) : ""};
    case Code::P501:
    case Code::P505: return {thing, r.line && p.lines[r.line.value].agent ? p[p.lines[r.line.value].agent].name : ""};
    case Code::P601: return {finding, thing, answers_of(p[r.finding]), line_that_answers(p[r.finding], thing)};
    case Code::P702: return {not_as_declared(p, r), ending};
    case Code::P602:
    case Code::P701:
    case Code::P703: return {thing, ending};
    case Code::F101: return {first_normal_ending(p)};
    case Code::F201:
    case Code::F202:
    case Code::F601: return {finding, thing};
    case Code::F203: return {p[r.decision].name, joined(p[r.decision].answers, " or ")};
    case Code::R101:
    case Code::R102: return {p[r.rule].name, p[r.rule].number};
    case Code::R105: return {p[r.rule].name, p[r.rule].number, p.set_aside[r.set_aside].agreement.until};
    default: return {thing};
  }
}

}  // namespace stepward::wording
