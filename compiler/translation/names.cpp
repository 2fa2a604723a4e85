#include "translation/names.hpp"

namespace stepward::translation {
namespace {

void visit_phrases(model::Wording& wording, const std::function<void(std::string&)>& visit) {
  for (auto* phrases : {&wording.words, &wording.spoken, &wording.watch, &wording.if_not, &wording.warning}) {
    for (model::Phrase& phrase : *phrases) visit(phrase.text);
  }
}

void visit_document(model::DocumentControl& document, const NameVisitor& visit) {
  visit.plain(document.title);
  visit.plain(document.replaces);
  visit.plain(document.applies_to);
  for (auto* signatures : {&document.written_by, &document.reviewed_by, &document.approved_by}) {
    for (model::Signature& signature : *signatures) visit.plain(signature.office);
  }
}

}  // namespace

void visit_names(model::Protocol& protocol, const NameVisitor& visit) {
  const auto all = [&](auto& things) {
    for (auto& thing : things) visit.named(thing);
  };
  all(protocol.zones);
  all(protocol.roles);
  all(protocol.sites);
  all(protocol.kinds);
  all(protocol.findings);
  all(protocol.spots);
  all(protocol.supplies);
  all(protocol.items);
  all(protocol.agents);
  all(protocol.choices);
  all(protocol.endings);
  all(protocol.decisions);
  all(protocol.marks);
  all(protocol.records);
  all(protocol.recipients);
  all(protocol.timers);
  all(protocol.phases);
  all(protocol.routines);
  all(protocol.interruptions);
  for (model::Kind& kind : protocol.kinds) visit.unit(kind.counted_by, kind.counted_by_several);
  for (model::Supply& supply : protocol.supplies) visit.unit(supply.counted_by, supply.counted_by_several);
  for (model::Item& item : protocol.items) {
    for (model::Surface& surface : item.surfaces) visit.part(surface.called);
  }
  // A number is the same in every language; the title behind it is not.
  for (model::Ending& ending : protocol.endings) {
    if (ending.continue_with.find(' ') != std::string::npos) visit.plain(ending.continue_with);
  }
  for (model::Technique& technique : protocol.techniques) visit.plain(technique.drops_into);
  for (model::Choice& choice : protocol.choices) {
    for (model::ChoiceOption& value : choice.values) visit.plain(value.name);
  }
  for (model::Decision& decision : protocol.decisions) {
    for (std::string& answer : decision.answers) visit.plain(answer);
  }
  for (model::Agent& agent : protocol.agents) {
    visit.plain(agent.stock.name);
    visit.plain(agent.diluent);
  }
  for (model::SetAside& aside : protocol.set_aside) visit.plain(aside.agreement.by.office);
  for (model::LocalChange& change : protocol.local_changes) visit.plain(change.agreement.by.office);
  for (model::AnsweredSlip& answer : protocol.answered_slips) {
    visit.plain(answer.place);
    visit.plain(answer.agreement.by.office);
  }
  visit_document(protocol.document, visit);
}

void visit_texts(model::Protocol& protocol, const std::function<void(std::string&)>& visit) {
  for (model::VerbWording& verb : protocol.verb_wordings) visit_phrases(verb.wording, visit);
  for (model::Technique& technique : protocol.techniques) visit_phrases(technique.wording, visit);
  for (model::Line& line : protocol.lines) {
    model::Details& details = line.details;
    for (std::string* text : {&details.critical_because, &details.say, &details.watch, &details.if_not, &details.warning, &details.note,
                              &details.because, &line.text}) {
      visit(*text);
    }
  }
  for (model::Exclusion& exclusion : protocol.exclusions) visit(exclusion.because);
  for (model::SetAside& aside : protocol.set_aside) visit(aside.agreement.reason);
  for (model::LocalChange& change : protocol.local_changes) visit(change.agreement.reason);
  for (model::AnsweredSlip& answer : protocol.answered_slips) visit(answer.agreement.reason);
}

}  // namespace stepward::translation
