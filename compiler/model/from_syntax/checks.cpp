// What only the whole shows: parts in the wrong kind of file, choices that nothing uses, covers that hide too much,
// answers that no branch handles, loops that cannot end early, lines that nobody reaches.

#include <algorithm>
#include <set>
#include <utility>

#include "model/from_syntax/techniques.hpp"

namespace stepward::model::reading {
namespace {

using What = Statement::What;

// ---- where a part belongs

const char* protocol_part(NodeKind kind) {
  switch (kind) {
    case NodeKind::variants: return "variants";
    case NodeKind::people: return "people";
    case NodeKind::endings: return "endings";
    case NodeKind::stock: return "before starting, have";
    case NodeKind::rhythm: return "rhythm";
    case NodeKind::copies: return "copies";
    case NodeKind::reading: return "reading";
    case NodeKind::phase: return "phase";
    case NodeKind::any_time: return "any time";
    case NodeKind::pairs_with: return "pairs with";
    case NodeKind::set_aside: return "set aside";
    case NodeKind::local_change: return "local change";
    case NodeKind::answered_slip: return "answer to";
    default: return nullptr;
  }
}

void check_files(Context& context) {
  for (const Place& place : context.declared) {
    const Node& node = context.node(place);
    const std::string& kind = context.tree(place).file_kind;
    const char* part = protocol_part(node.kind);
    if (!part || kind.empty() || kind == "protocol" || kind == "words") continue;  // of words, `translation` tells all
    context.report(Code::N112, node.head, {part, kind == "rules" ? "a file of rules" : "a " + kind});
  }
}

// ---- choices

void check_choices(Context& context) {
  if (context.loaded.files[0].tree.file_kind != "protocol") return;
  for (std::size_t at = 0; at < context.protocol.choices.size(); ++at) {
    const Choice& choice = context.protocol.choices[at];
    if (!context.choice_used[at]) context.report(Code::V101, choice.span, {choice.name});
  }
}

// ---- routines

/// A routine of a library serves many protocols; one that stands in the protocol itself is there to be done.
void check_routines(Context& context) {
  if (context.loaded.files[0].tree.file_kind != "protocol") return;
  if (context.has_errors()) return;  // a call that could not be read is no missing call
  for (std::size_t at = 0; at < context.routines.size(); ++at) {
    const Routine& routine = context.protocol.routines[at];
    if (context.is_root(context.routines[at].place) && !context.routines[at].called)
      context.report(Code::F603, routine.span, {routine.name});
  }
}

// ---- covers

/// A look needs something to see. An item that lies wholly under another on the same part of the body is meant to (a
/// glove under a glove); one that reaches further is not, and was probably named where one of its surfaces was meant.
bool reaches_beyond(const Item& covered, const Item& cover) {
  return std::any_of(covered.worn_on.begin(), covered.worn_on.end(), [&](SiteId site) {
    return std::find(cover.worn_on.begin(), cover.worn_on.end(), site) == cover.worn_on.end();
  });
}

void check_cover(Context& context, const Item& item, ItemId covered) {
  const Item& beneath = context.protocol[covered];
  if (!reaches_beyond(beneath, item)) return;
  std::vector<bool> hidden(beneath.surfaces.size(), false);
  source::Span last;
  for (const Cover& cover : item.goes_over) {
    if (cover.item != covered) continue;
    last = cover.span;
    for (std::size_t at = 0; at < hidden.size(); ++at) hidden[at] = hidden[at] || !cover.part || *cover.part == at;
  }
  for (std::size_t at = 0; at < hidden.size(); ++at) {
    if (beneath.surfaces[at].reach != Reach::inside && !hidden[at]) return;
  }
  context.report(Code::N504, last, {beneath.name, item.name});
}

void check_items(Context& context) {
  for (std::uint32_t at = 0; at < context.protocol.items.size(); ++at) {
    const Item& item = context.protocol.items[at];
    check_usual(context, ItemId{at});
    std::vector<ItemId> seen;
    for (const Cover& cover : item.goes_over) {
      if (!cover.item || std::find(seen.begin(), seen.end(), cover.item) != seen.end()) continue;
      seen.push_back(cover.item);
      check_cover(context, item, cover.item);
    }
  }
}

// ---- steps

class Steps {
 public:
  explicit Steps(Context& context)
      : context_(context), protocol_(context.protocol), ends_(protocol_.blocks.size(), Ends::unknown) {}

  void run() {
    // Blocks stand behind those that hold them, so walking backwards knows every inner block first.
    for (std::size_t at = protocol_.blocks.size(); at-- > 0;) settle(BlockId{at});
    const Phase* over = nullptr;
    for (const Phase& phase : protocol_.phases) {
      if (over) {
        context_.report(Code::F103, phase.span, {"phase"});
        break;
      }
      if (ends(phase.block)) over = &phase;
    }
    for (const Interruption& interruption : protocol_.interruptions) {
      if (interruption.block && !ends(interruption.block))
        context_.report(Code::F105, interruption.span, {interruption.name});
    }
    check_decisions();
  }

 private:
  enum class Ends : std::uint8_t { unknown, yes, no };

  bool ends(BlockId block) const { return ends_[block.value] == Ends::yes; }

  bool ends(const Statement& statement) const {
    switch (statement.what) {
      case What::finish:
      case What::resume: return true;
      case What::call: return ends(statement.block);
      case What::question: {
        const bool complete = !statement.arms.empty() && statement.arms.back().is_otherwise;
        return complete && std::all_of(statement.arms.begin(), statement.arms.end(),
                                       [&](const auto& arm) { return ends(arm.block); });
      }
      case What::repeat: return ends(statement.block);
      case What::line:
      case What::together:
      case What::only_for: return false;  // another variant goes past it
    }
    return false;
  }

  void settle(BlockId id) {
    const Block& block = protocol_[id];
    Ends& result = ends_[id.value];
    result = Ends::no;
    for (std::size_t at = 0; at < block.statements.size(); ++at) {
      const Statement& statement = block.statements[at];
      if (statement.what == What::question) check_chain(statement);
      if (statement.what == What::repeat) check_loop(statement);
      if (result == Ends::yes || !ends(statement)) continue;
      result = Ends::yes;
      if (at + 1 < block.statements.size()) context_.report(Code::F103, block.statements[at + 1].span, {"line"});
    }
  }

  /// An `if` that goes through the answers of one decision must go through all of them, or say `otherwise`.
  void check_chain(const Statement& statement) {
    DecisionId decision;
    std::vector<bool> asked;
    for (const Statement::Arm& arm : statement.arms) {
      if (arm.is_otherwise) return;
      if (arm.condition.all && arm.condition.atoms.size() > 1) return;
      for (const Atom& atom : arm.condition.atoms) {
        if (atom.what != Atom::What::answer || atom.negated || (decision && atom.decision != decision)) return;
        decision = atom.decision;
        asked.resize(protocol_[decision].answers.size());
        if (atom.answer < asked.size()) asked[atom.answer] = true;
      }
    }
    const auto named = std::count(asked.begin(), asked.end(), true);
    if (!decision || named < 2) return;
    std::string missing;
    for (std::size_t at = 0; at < asked.size(); ++at) {
      if (!asked[at]) missing += (missing.empty() ? "" : ", ") + protocol_[decision].answers[at];
    }
    if (!missing.empty()) context_.report(Code::F401, statement.span, {protocol_[decision].name, missing});
  }

  void check_decisions() {
    for (const Line& line : protocol_.lines) {
      if (line.verb != VerbKind::decide || context_.decision_asked[line.decision.value]) continue;
      context_.decision_asked[line.decision.value] = true;  // told once
      const Decision& decision = protocol_[line.decision];
      std::string all;
      for (const std::string& answer : decision.answers) all += (all.empty() ? "" : ", ") + answer;
      context_.report(Code::F401, line.span, {decision.name, all});
    }
  }

  // ---- loops

  void check_loop(const Statement& loop) {
    if (loop.until.atoms.empty()) return;  // could not be read
    const bool any = std::any_of(loop.until.atoms.begin(), loop.until.atoms.end(),
                                 [&](const Atom& atom) { return can_change(loop.block, atom); });
    if (!any) context_.report(Code::F301, loop.until.span);
  }

  bool can_change(BlockId top, const Atom& atom) const {
    std::vector<BlockId> open{top};
    while (!open.empty()) {
      const Block& block = protocol_[open.back()];
      open.pop_back();
      for (const Statement& statement : block.statements) {
        if (statement.what == What::line && changes(protocol_[statement.line], atom)) return true;
        for (const Statement::Arm& arm : statement.arms) open.push_back(arm.block);
        if (statement.block) open.push_back(statement.block);
        if (statement.fallback) open.push_back(statement.fallback);
      }
    }
    return false;
  }

  bool changes(const Line& line, const Atom& atom) const {
    const bool changes_clothes = line.verb == VerbKind::don || line.verb == VerbKind::doff;
    switch (atom.what) {
      case Atom::What::found: return line.verb == VerbKind::inspect && looks_for(line, atom);
      case Atom::What::worn:
        return changes_clothes && std::any_of(line.things.begin(), line.things.end(),
                                              [&](const Thing& t) { return may_be_same(t, atom.thing); });
      case Atom::What::hands_bare: return changes_clothes;
      case Atom::What::answer: return line.verb == VerbKind::decide && line.decision == atom.decision;
      case Atom::What::declared: return line.verb == VerbKind::declare && line.mark == atom.mark;
      case Atom::What::recorded:
        return line.verb == VerbKind::record &&
               std::find(line.records.begin(), line.records.end(), atom.record) != line.records.end();
      case Atom::What::in_zone: return line.verb == VerbKind::move && line.who == atom.who;
    }
    return false;
  }

  bool looks_for(const Line& line, const Atom& atom) const {
    const bool for_it = std::any_of(line.findings.begin(), line.findings.end(), [&](FindingId finding) {
      return std::find(atom.findings.begin(), atom.findings.end(), finding) != atom.findings.end();
    });
    return for_it && std::any_of(line.things.begin(), line.things.end(),
                                 [&](const Thing& t) { return may_be_same(t, atom.thing); });
  }

  /// Whether two things can be one and the same in some variant. Hands may be any glove, or the site itself.
  bool may_be_same(const Thing& a, const Thing& b) const {
    if (a.what == Thing::What::hands || b.what == Thing::What::hands || a.what == Thing::What::kind ||
        b.what == Thing::What::kind)
      return true;
    for (const Variant& variant : context_.variants) {
      const ItemId first = item_of(protocol_, a, variant), second = item_of(protocol_, b, variant);
      if (first && first == second) return true;
    }
    return a.what == b.what && a.site == b.site && a.spot == b.spot && a.item == b.item && a.choice == b.choice;
  }

  Context& context_;
  const Protocol& protocol_;
  std::vector<Ends> ends_;
};

}  // namespace

namespace {

// A walk keeps which of several something is (where a person stands, how a decision came out, whose wetting a surface bears) in one
// of 32 values. Nothing is one of them where nothing may be so.
void check_told_apart(Context& context) {
  const Protocol& protocol = context.protocol;
  const auto refuse = [&](source::Span at, const char* what, std::size_t most) { context.report(Code::N132, at, {what, std::to_string(most)}); };
  if (protocol.zones.size() > most_told_apart) refuse(protocol.zones[most_told_apart].span, "zones", most_told_apart);
  for (const Decision& decision : protocol.decisions)
    if (decision.answers.size() > most_told_apart - 1) refuse(decision.span, "answers", most_told_apart - 1);
  std::set<std::pair<RoleId, AgentId>> wettings;
  for (const Line& line : protocol.lines) {
    const bool another = line.without_waiting && wettings.insert({line.who, line.agent}).second;
    if (another && wettings.size() == most_told_apart) refuse(line.span, "persons and disinfectants that leave something wet", most_told_apart - 1);
  }
}

}  // namespace

void check_whole(Context& context) {
  check_told_apart(context);
  check_files(context);
  check_choices(context);
  check_routines(context);
  check_items(context);
  Steps(context).run();
}

}  // namespace stepward::model::reading
