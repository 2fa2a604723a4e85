#include "mend/wants.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "mend/vocabulary.hpp"

namespace stepward::mend {
namespace {

using diagnostics::Code;
using diagnostics::Diagnostic;
using model::VerbKind;

std::string arg(const Diagnostic& d, std::size_t n) { return n < d.args.size() ? d.args[n] : std::string(); }

/// Collects what is wanted, each line once, ranked in the order in which it is asked for.
class WantList {
 public:
  WantList(const Diagnostic& finding, const diagnostics::Sink& findings, const model::Protocol& protocol, const Vocabulary& words, model::RoleId doer)
      : d_(finding), findings_(findings), p_(protocol), words_(words), doer_(doer) {}

  Wants take() {
    ask();
    // The same mistake seen by a rule and by touch: either may name what is missing.
    const std::vector<diagnostics::Also> also = d_.also;
    for (const diagnostics::Also& other : also) {
      d_.code = other.code;
      d_.args = other.args;
      ask();
    }
    return std::move(out_);
  }

 private:
  void line(const std::string& words, std::uint32_t farther = 0) { add({words}, farther); }
  void question(const std::string& condition, const std::string& words, std::uint32_t farther = 0) {
    add({"if " + condition, "  " + words, "end if"}, farther);
  }
  void add(std::vector<std::string> lines, std::uint32_t farther) {
    if (known_.insert(lines).second) out_.lines.push_back({std::move(lines), rank_++ + farther});
  }
  void all(const std::vector<std::string>& lines, std::uint32_t farther = 0) {
    for (const std::string& words : lines) line(words, farther);
  }

  void clean_hands(model::RoleId who) {
    out_.verbs.insert(VerbKind::disinfect);
    all(words_.hands_disinfected_by(who));
    all(words_.calls_that(VerbKind::disinfect), 2);
  }
  void clean_thing(const std::string& thing) {
    out_.verbs.insert({VerbKind::disinfect, VerbKind::clean});
    for (const std::string& name : words_.names_of(thing)) all(words_.disinfecting(name));
    const bool is_item = std::any_of(p_.items.begin(), p_.items.end(), [&](const model::Item& item) { return item.name == thing; });
    for (const std::string& words : is_item ? words_.disinfecting(thing) : std::vector<std::string>{})
      question(fmt::format("{} {} worn", thing, thing.back() == 's' ? "are" : "is"), words);
  }
  void lines_of(VerbKind verb, std::uint32_t farther = 0) {
    out_.verbs.insert(verb);
    all(words_.lines_that(verb), farther);
  }
  void calls_of(VerbKind verb) { all(words_.calls_that(verb), 1); }

  void look() {
    out_.verbs.insert(VerbKind::inspect);
    std::string sought;
    for (const Diagnostic& other : findings_) {
      const bool same = (other.code == Code::F201 || other.code == Code::F202) && arg(other, 1) == arg(d_, 1);
      if (same && (" or " + sought + " or ").find(" or " + arg(other, 0) + " or ") == std::string::npos) sought += (sought.empty() ? "" : " or ") + arg(other, 0);
    }
    for (const std::string& name : words_.names_of(arg(d_, 1))) {
      if (!sought.empty()) all(words_.looks_at(name, sought));
      all(words_.looks_at(name, arg(d_, 0)));
    }
  }

  /// What the finding's own declaration says answers it, in the words with which the protocol answers it elsewhere.
  void answer() {
    out_.verbs.insert({VerbKind::clean, VerbKind::declare, VerbKind::report, VerbKind::doff, VerbKind::inspect});
    for (const std::string& name : words_.names_of(arg(d_, 1))) {
      const std::string condition = arg(d_, 0) + " on " + name;
      out_.looked.push_back(name);
      for (const std::string& words : words_.answers_to(arg(d_, 0), name)) question(condition, words);
      // What answers it unasked would be done on runs where nothing is found.
      out_.asked.push_back("if " + condition);
      for (const std::string& words : words_.answers_to(arg(d_, 0), name)) out_.under.push_back({{words}, static_cast<std::uint32_t>(out_.under.size())});
    }
  }

  void put_around_if_worn(const char* how) {
    for (const std::string& name : words_.names_of(arg(d_, 0))) {
      const std::size_t whose = name.find(" of ");
      const std::string thing = name.substr(0, whose);
      const std::string by = whose == std::string::npos ? "" : " by " + name.substr(whose + 4);
      out_.questions.push_back(fmt::format("if {}{} {} worn{}", how, thing, thing.back() == 's' ? "are" : "is", by));
    }
  }

  void take_off(const std::string& thing) {
    out_.verbs.insert(VerbKind::doff);
    for (const std::string& name : words_.names_of(thing)) all(words_.removals_of(name));
  }

  /// What is put on above it may have been left on.
  void take_off_what_covers(const std::string& thing) {
    for (const model::Item& item : p_.items) {
      const bool hides_it = std::any_of(item.goes_over.begin(), item.goes_over.end(), [&](const model::Cover& over) { return over.item && p_[over.item].name == thing; });
      if (hides_it) take_off(item.name);
    }
  }

  void moves() {
    out_.verbs.insert(VerbKind::move);
    all(words_.ways());
  }

  void rule() {
    const auto rule = std::find_if(p_.rules.begin(), p_.rules.end(), [&](const model::Rule& r) { return r.number == arg(d_, 1); });
    if (rule == p_.rules.end()) return;
    out_.moves = d_.code == Code::R101;
    if (rule->pattern == model::Pattern::at_least) line("wait " + written(rule->bound));
    if (rule->pattern == model::Pattern::at_least || rule->pattern == model::Pattern::within) return;
    for (const model::Event& event : rule->require.events) asked_for(event);
    if (rule->has_then)
      for (const model::Event& event : rule->then.events) asked_for(event);
    // Of what must not happen here, the line itself may stand too early or too late.
    for (const model::Event& event : rule->trigger.events)
      if (const auto verb = verb_of(event.what)) out_.verbs.insert(*verb);
    if (std::any_of(rule->trigger.events.begin(), rule->trigger.events.end(), [&](const model::Event& e) { return is_bare_skin(e.subject); })) out_.verbs.insert(VerbKind::don);
  }

  bool is_of_the_body() const {
    return std::any_of(p_.sites.begin(), p_.sites.end(), [&](const model::Site& site) { return !site.is_hands && site.name == arg(d_, 0); });
  }

  /// The body was reached: the protocol's own first aid, where a question shows that it happened.
  void exposure() {
    out_.asked = words_.questions();
    for (const std::string& words : words_.calls_that(VerbKind::declare)) out_.under.push_back({{words}, static_cast<std::uint32_t>(out_.under.size())});
  }

  static std::string written(model::Duration time) {
    const bool whole = time.seconds % 60 == 0;
    const std::uint32_t count = whole ? time.seconds / 60 : time.seconds;
    return fmt::format("{} {}{}", count, whole ? "minute" : "second", count == 1 ? "" : "s");
  }

  void asked_for(const model::Event& event) {
    const auto verb = verb_of(event.what);
    if (!verb) return;
    const model::RoleId who = event.who.what == model::Person::What::role ? event.who.role : doer_;
    if (*verb == VerbKind::act) return;  // what a free act is for, its author knows
    out_.verbs.insert(*verb);
    if (*verb == VerbKind::disinfect && is_hands(event.subject)) all(words_.hands_disinfected_by(who));
    if (*verb == VerbKind::disinfect && event.subject.item) clean_thing(p_[event.subject.item].name);
    if (*verb == VerbKind::inspect)
      for (const std::string& name : words_.names_of(item_or_kind(event.subject))) all(words_.looks_at(name, event.finding ? p_[event.finding].name : "soil"));
    if (*verb == VerbKind::record)
      all(words_.recording(event.record ? p_.records[event.record.value].name : "", who));
    lines_of(*verb, 1);
    calls_of(*verb);
  }

  bool is_hands(const model::Subject& subject) const {
    return subject.what == model::Subject::What::hands || is_bare_skin(subject);
  }
  /// What must not happen to bare hands may happen to gloves, which may have been put on too late.
  bool is_bare_skin(const model::Subject& subject) const { return subject.what == model::Subject::What::site && p_[subject.site].is_hands; }
  std::string item_or_kind(const model::Subject& subject) const {
    if (subject.item) return p_[subject.item].name;
    if (subject.what == model::Subject::What::hands) return "hands";
    return subject.site ? p_[subject.site].name : std::string();
  }

  void ask() {
    const model::RoleId who = words_.role_called(arg(d_, 2));
    switch (d_.code) {
      case Code::P101: case Code::P103: case Code::P104: case Code::P105: case Code::P106:
        clean_hands(who);
        clean_thing(arg(d_, 0));
        clean_thing(arg(d_, 1));
        return;
      case Code::P102:
        clean_thing(arg(d_, 1));
        lines_of(VerbKind::don);
        return;
      case Code::P107: lines_of(VerbKind::don); calls_of(VerbKind::don); clean_hands(who); return;
      case Code::P201:
        if (is_of_the_body()) return exposure();
        clean_thing(arg(d_, 0)); clean_hands(who); take_off(arg(d_, 0)); return;
      case Code::P202: moves(); for (const std::string& name : words_.names_of(arg(d_, 0))) line("put on " + name); lines_of(VerbKind::don); out_.verbs.insert(VerbKind::doff); return;
      case Code::P203: out_.verbs.insert(VerbKind::move); return;
      case Code::P205:
        for (const model::Zone& zone : p_.zones) line(fmt::format("{} moves to {}", arg(d_, 0), zone.name));
        moves();
        return;
      case Code::P204: case Code::P702: moves(); lines_of(VerbKind::don, 2); return;
      case Code::P401: take_off(arg(d_, 1)); return;
      case Code::P402: put_around_if_worn(""); out_.verbs.insert({VerbKind::don, VerbKind::doff}); return;
      case Code::P403: put_around_if_worn("no "); take_off(arg(d_, 0)); return;
      case Code::P404: out_.verbs.insert(VerbKind::don); take_off(arg(d_, 1)); return;
      case Code::P405: put_around_if_worn(""); take_off_what_covers(arg(d_, 0)); out_.verbs.insert({VerbKind::inspect, VerbKind::don, VerbKind::doff}); return;
      case Code::P501: out_.verbs.insert(VerbKind::don); return;
      case Code::P503: out_.moves = false; line("wait contact time"); return;
      case Code::P504:
        for (const std::string& name : words_.names_of(arg(d_, 0))) out_.questions.push_back("if soil on " + name);
        for (const std::string& name : words_.names_of(arg(d_, 0))) all(words_.looks_at(name, "soil"));
        out_.verbs.insert(VerbKind::inspect);
        return;
      case Code::P601: answer(); return;
      case Code::P602: exposure(); calls_of(VerbKind::declare); lines_of(VerbKind::declare); clean_thing(arg(d_, 0)); return;
      case Code::P701: take_off(arg(d_, 0)); return;
      case Code::P703: if (is_of_the_body()) exposure(); clean_thing(arg(d_, 0)); clean_hands(words_.role_called("")); return;
      case Code::F201: case Code::F202: look(); return;
      case Code::F203: line(fmt::format("decide {} as {}", arg(d_, 0), arg(d_, 1))); lines_of(VerbKind::decide); return;
      case Code::T801: out_.moves = false; line("start timer " + arg(d_, 0)); return;
      case Code::T802: case Code::T803: out_.moves = false; line("stop timer " + arg(d_, 0)); return;
      case Code::T811: out_.moves = false; return;
      case Code::R101: case Code::R103: rule(); return;
      default: return;  // only findings of the walk come here, and of those P301, P505, F101 and F601 want no line
    }
  }

  Diagnostic d_;
  const diagnostics::Sink& findings_;
  const model::Protocol& p_;
  const Vocabulary& words_;
  model::RoleId doer_;
  Wants out_;
  std::set<std::vector<std::string>> known_;
  std::uint32_t rank_ = 0;
};

}  // namespace

bool is_of_the_walk(Code code) {
  const std::string_view name = diagnostics::code_name(code);
  const bool is_flow = code == Code::F201 || code == Code::F202 || code == Code::F203 || code == Code::F301 || code == Code::F601 || code == Code::F101;
  const bool is_time = code == Code::T801 || code == Code::T802 || code == Code::T803 || code == Code::T811;
  return name[0] == 'P' || (name[0] == 'R' && code != Code::R205) || is_flow || is_time;
}

Wants wants_of(const Diagnostic& finding, const diagnostics::Sink& findings, const model::Protocol& protocol, const Outline& outline, model::RoleId doer) {
  const Vocabulary words(protocol, outline);
  return WantList(finding, findings, protocol, words, doer).take();
}

}  // namespace stepward::mend
