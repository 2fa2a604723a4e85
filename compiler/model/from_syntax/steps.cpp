#include "model/from_syntax/steps.hpp"

#include <algorithm>

namespace stepward::model::reading {
namespace {

using What = Statement::What;

class StepReader {
 public:
  explicit StepReader(Context& context) : context_(context), protocol_(context.protocol) {}

  void run() {
    for (std::uint32_t at = 0; at < context_.routines.size(); ++at) read_head(RoutineId{at});
    const bool is_protocol = context_.loaded.files[0].tree.file_kind == "protocol";
    for (const Place& place : context_.declared) {
      if (!is_protocol || !context_.is_root(place)) continue;  // `check_whole` reports phases of other files
      if (context_.node(place).kind == NodeKind::phase) read_phase(place);
    }
    std::uint32_t interruption = 0;
    for (const Place& place : context_.declared) {
      if (context_.node(place).kind == NodeKind::any_time) read_interruption(place, InterruptionId{interruption++});
    }
    for (std::uint32_t at = 0; at < context_.routines.size(); ++at) read_uncalled(RoutineId{at});
  }

 private:
  // ---- routines

  void read_head(RoutineId id) {
    RoutineText& text = context_.routines[id.value];
    Routine& routine = protocol_.routines[id.value];
    for (const Parameter& parameter : text.parameters) routine.parameters.push_back(parameter.name);
    for (const NodeId child : context_.node(text.place).children) {
      const Node& line = context_.tree(text.place)[child];
      if (line.kind == NodeKind::given) context_.read(line, context_.frames->given);
      if (line.kind == NodeKind::may_finish_as) read_finishes(line, text, routine);
    }
  }

  /// Names are kept as words: a library may speak of endings that this protocol does not have.
  void read_finishes(const Node& line, RoutineText& text, Routine& routine) {
    for (std::size_t begin = 0; begin < line.phrase.size();) {
      std::size_t end = begin;
      const auto divides = [&](std::size_t at) {
        return line.phrase[at].kind == syntax::TokenKind::comma || line.phrase[at].text == "or";
      };
      while (end < line.phrase.size() && !divides(end)) ++end;
      const std::string name = resolve::words_of(line.phrase, begin, end);
      begin = end + 1;
      if (name.empty()) continue;
      text.may_finish_as.push_back(name);
      const auto* ending = context_.names.find(name, resolve::only(NameClass::ending));
      if (ending) routine.may_finish_as.push_back(EndingId{ending->meaning.index});
    }
    if (text.may_finish_as.empty()) context_.report(Code::N104, line.span, {"an ending"});
  }

  void read_uncalled(RoutineId id) {
    const RoutineText& text = context_.routines[id.value];
    if (text.called || context_.loaded.files[text.place.file].standard) return;
    const std::size_t lines = protocol_.lines.size(), blocks = protocol_.blocks.size();
    Ids ids;
    Scope scope;
    scope.file = text.place.file;
    scope.dry = true;
    scope.ids = &ids;
    scope.calls.push_back(id);
    for (const Parameter& parameter : text.parameters) {
      scope.parameters.push_back(parameter.name_index);
      Thing anything;
      anything.what = Thing::What::kind;
      scope.bindings.emplace_back(parameter.name_index, anything);
    }
    read_block(context_.node(text.place).children, scope, context_.node(text.place).span);
    std::move(protocol_.lines.begin() + static_cast<std::ptrdiff_t>(lines), protocol_.lines.end(), std::back_inserter(context_.uncalled_lines));
    protocol_.lines.resize(lines);
    drop_blocks_from(blocks);
  }

  /// What was read into these blocks counts no more.
  void drop_blocks_from(std::size_t blocks) {
    protocol_.blocks.resize(blocks);
    std::erase_if(protocol_.open_orders, [&](const OpenOrder& open) { return open.block && open.block.value >= blocks; });
  }

  // ---- phases and interruptions

  void read_phase(const Place& place) {
    const Node& node = context_.node(place);
    Phase phase;
    phase.span = node.span;
    if (const auto reading = context_.read(node, context_.frames->text_alone)) phase.name = quoted(node, *reading);
    phase.called = phase.name;
    for (const Phase& other : protocol_.phases) {
      if (other.name == phase.name && !phase.name.empty()) {
        context_.report(Code::N107, node.span, {phase.name}).places.push_back({other.span, "declared first"});
      }
    }
    Ids ids;
    Scope scope;
    scope.file = place.file;
    scope.path = phase.name;
    scope.ids = &ids;
    phase.block = read_block(node.children, scope, node.span);
    protocol_.phases.push_back(std::move(phase));
  }

  void read_interruption(const Place& place, InterruptionId id) {
    if (!context_.is_root(place) || context_.tree(place).file_kind != "protocol") return;
    const Node& node = context_.node(place);
    Ids ids;
    Scope scope;
    scope.file = place.file;
    scope.path = "any time " + protocol_[id].name;
    scope.ids = &ids;
    scope.in_interruption = true;
    bool happens = false;
    for (const NodeId child : node.children) {
      const Node& line = context_.tree(place)[child];
      if (line.kind != NodeKind::happens) continue;
      happens = true;
      if (auto happening = read_happening(line))
        protocol_.interruptions[id.value].happens.push_back(std::move(*happening));
    }
    if (!happens) context_.report(Code::N114, protocol_[id].span, {protocol_[id].name, "what happens"});
    const BlockId block = read_block(node.children, scope, node.span);
    protocol_.interruptions[id.value].block = block;
  }

  std::optional<Happening> read_happening(const Node& line) {
    const auto reading = context_.read(line, context_.frames->happens);
    if (!reading) return std::nullopt;
    Happening happening;
    happening.span = line.span;
    auto things = things_of(context_, line, reading->segments);
    if (!things.empty()) happening.thing = std::move(things.front());
    if (const Segment* who = reading->find("role")) {
      happening.who = RoleId{who->meaning.index};
      check_takes_part(context_, happening.who, span_of(line, *who));
    }
    if (const Segment* met = reading->find("met")) {
      happening.thing.what = Thing::What::role;
      happening.thing.role = RoleId{met->meaning.index};
      happening.thing.span = span_of(line, *met);
      check_takes_part(context_, happening.thing.role, happening.thing.span);
    }
    happening.what = reading->has("soiled")    ? Happening::What::soiled
                     : reading->has("torn")    ? Happening::What::torn
                     : reading->has("touches") ? Happening::What::touches
                     : reading->has("falls")   ? Happening::What::falls
                                               : Happening::What::nothing;
    if (happening.thing.of) check_takes_part(context_, happening.thing.of, happening.thing.span);
    return happening;
  }

  // ---- blocks

  BlockId read_block(const std::vector<NodeId>& nodes, const Scope& outer, source::Span span) {
    const BlockId id{protocol_.blocks.size()};
    protocol_.blocks.push_back({{}, span});
    if (outer.depth >= deepest_blocks) {
      context_.report(Code::F108, span, {std::to_string(deepest_blocks)});
      return id;
    }
    Scope scope = outer;
    ++scope.depth;
    const syntax::Tree& tree = context_.loaded.files[scope.file].tree;
    scope.in_rhythm = scope.in_rhythm && std::none_of(nodes.begin(), nodes.end(), [&](NodeId node) {
                        return tree[node].kind == NodeKind::out_of_rhythm;
                      });
    std::vector<Statement> statements;
    const std::size_t open_before = protocol_.open_orders.size();
    for (const NodeId node : nodes) read_into(statements, {scope.file, node}, scope);
    protocol_.blocks[id.value].statements = std::move(statements);
    for (std::size_t o = open_before; o < protocol_.open_orders.size(); ++o)
      if (!protocol_.open_orders[o].block) protocol_.open_orders[o].block = id;
    return id;
  }

  void read_into(std::vector<Statement>& statements, const Place& place, const Scope& scope) {
    const NodeKind kind = context_.node(place).kind;
    const bool is_step = kind == NodeKind::plain || kind == NodeKind::do_routine;
    const bool may_be_changed = is_step && scope.in_routine() && !scope.in_change &&
                                is_changed(scope.calls.back());
    if (may_be_changed) return read_changed(statements, place, scope);
    read_step(statements, place, scope);
  }

  void read_step(std::vector<Statement>& statements, const Place& place, const Scope& scope) {
    if (context_.node(place).kind == NodeKind::any_order) return read_order(statements, place, scope);
    if (auto statement = read_statement(place, scope)) statements.push_back(std::move(*statement));
  }

  // ---- lines whose order is to be found

  /// They are put into the block around them. Each is moved as a whole, so whatever ends a run or is itself open has no place.
  void read_order(std::vector<Statement>& statements, const Place& place, const Scope& scope) {
    const std::size_t first = statements.size();
    const auto& children = context_.node(place).children;
    const auto is = [&](NodeId node, NodeKind kind) { return context_.tree(place)[node].kind == kind; };
    Scope inner = scope;
    inner.in_rhythm = scope.in_rhythm && std::none_of(children.begin(), children.end(), [&](NodeId node) { return is(node, NodeKind::out_of_rhythm); });
    for (const NodeId child : children) {
      const source::Span span = context_.tree(place)[child].span;
      if (is(child, NodeKind::finish_as) || is(child, NodeKind::resume) || is(child, NodeKind::any_order))
        context_.report(Code::F114, span, {std::string(context_.files.text(span))});
      else
        read_into(statements, {place.file, child}, inner);
    }
    const std::size_t count = statements.size() - first;
    const source::Span span = context_.node(place).span;
    if (count > most_ordered) context_.report(Code::F115, span, {std::to_string(count), std::to_string(most_ordered)});
    for (std::size_t i = first; i < statements.size(); ++i) refuse_loops(statements[i]);
    protocol_.open_orders.push_back({{}, static_cast<std::uint32_t>(first), static_cast<std::uint32_t>(count), span});
  }

  /// A repeat among the lines, or under a question of theirs. A routine has an end of its own, and moves with what it repeats.
  void refuse_loops(const Statement& line) {
    std::vector<const Statement*> open{&line};
    while (!open.empty()) {
      const Statement& at = *open.back();
      open.pop_back();
      if (at.what == What::call) continue;
      if (at.what == What::repeat) {
        context_.report(Code::F113, at.span);
        continue;
      }
      std::vector<BlockId> inside{at.block};
      for (const Statement::Arm& arm : at.arms) inside.push_back(arm.block);
      for (const BlockId block : inside)
        if (block)
          for (const Statement& statement : protocol_[block].statements) open.push_back(&statement);
    }
  }

  // ---- steps that this protocol changes for itself

  bool is_changed(RoutineId routine) const {
    return std::any_of(protocol_.local_changes.begin(), protocol_.local_changes.end(),
                       [&](const LocalChange& change) { return change.routine == routine; });
  }

  /// The step is read as the routine has it, since only then its id is known; what replaces it takes it back.
  void read_changed(std::vector<Statement>& statements, const Place& place, const Scope& scope) {
    const std::size_t lines = protocol_.lines.size(), blocks = protocol_.blocks.size(), reported = context_.reported();
    auto statement = read_statement(place, scope);
    const std::string id = id_of_step(place, statement);
    if (!id.empty()) context_.steps_of_changed[scope.calls.back().value].insert(id);
    const auto change = change_at(scope.calls.back(), id);
    if (change == protocol_.local_changes.size()) {
      if (statement) statements.push_back(std::move(*statement));
      return;
    }
    context_.changes[change].met = true;
    LocalChange& said = protocol_.local_changes[change];
    said.step = context_.node(place).span;
    if (!scope.dry) ++said.calls;
    if (said.what == LocalChange::What::add_after) {
      if (statement) statements.push_back(std::move(*statement));
    } else {
      protocol_.lines.resize(lines);
      drop_blocks_from(blocks);
      context_.take_back(reported);
    }
    read_change(statements, change, id, has_given_id(place), scope);
  }

  bool has_given_id(const Place& place) const {
    const auto& details = context_.node(place).children;
    return std::any_of(details.begin(), details.end(), [&](NodeId d) { return context_.tree(place)[d].kind == NodeKind::known_as; });
  }

  /// What cannot be read has the id that `known as` gives it, or none.
  std::string id_of_step(const Place& place, const std::optional<Statement>& statement) const {
    if (statement && statement->what == What::line) return last_of_id(protocol_[statement->line].id);
    if (statement && statement->what == What::call) return called_as_;
    for (const NodeId child : context_.node(place).children) {
      const Node& detail = context_.tree(place)[child];
      if (detail.kind == NodeKind::known_as) return resolve::words_of(detail.phrase, 0, detail.phrase.size());
    }
    return {};
  }

  std::size_t change_at(RoutineId routine, const std::string& id) const {
    const auto found = std::find_if(protocol_.local_changes.begin(), protocol_.local_changes.end(),
                                    [&](const LocalChange& c) { return c.routine == routine && c.at == id && !id.empty(); });
    return static_cast<std::size_t>(found - protocol_.local_changes.begin());
  }

  /// The lines of a change have ids of their own, so that they move none of the routine's; only the first one of a
  /// replacement takes over the id of the step.
  void read_change(std::vector<Statement>& statements, std::size_t change, const std::string& id, bool given, const Scope& scope) {
    const Place& place = context_.changes[change].place;
    Ids ids;
    Scope inner = scope;
    inner.file = place.file;
    inner.in_change = true;
    inner.ids = &ids;
    inner.path += " / changed at " + id;
    const std::string kept = protocol_.local_changes[change].what == LocalChange::What::replace ? scope.path + " / " + id : std::string();
    inner.keeps_id = kept;
    inner.keeps_given = given;
    const auto& children = context_.node(place).children;
    inner.in_rhythm = scope.in_rhythm && std::none_of(children.begin(), children.end(), [&](NodeId node) {
                        return context_.tree(place)[node].kind == NodeKind::out_of_rhythm;
                      });
    for (const NodeId child : children) {
      const NodeKind kind = context_.tree(place)[child].kind;
      const bool takes_over = kind == NodeKind::plain || kind == NodeKind::do_routine;
      Scope here = inner;
      if (!takes_over) here.keeps_id.clear();
      read_step(statements, {place.file, child}, here);
      if (takes_over) inner.keeps_id.clear();
    }
  }

  std::optional<Statement> read_statement(const Place& place, const Scope& scope) {
    switch (context_.node(place).kind) {
      case NodeKind::plain: return read_action(place, scope);
      case NodeKind::if_question: return read_question(place, scope);
      case NodeKind::only_for: return read_only_for(place, scope);
      case NodeKind::repeat: return read_repeat(place, scope);
      case NodeKind::together: return read_together(place, scope);
      case NodeKind::do_routine: return read_call(place, scope);
      case NodeKind::finish_as: return read_finish(place, scope);
      case NodeKind::resume: return read_resume(place, scope);
      default: return std::nullopt;  // heads of the block itself, or out of place and reported by parse
    }
  }

  /// Routines that call each other twice double at each step; both lines and calls have to be counted to stop that.
  bool is_overfull(const Node& node) {
    if (overfull_) return true;
    overfull_ = protocol_.lines.size() >= most_lines || protocol_.blocks.size() >= 2 * most_lines;
    if (overfull_) context_.report(Code::F107, node.span, {std::to_string(most_lines)});
    return overfull_;
  }

  std::optional<Statement> read_action(const Place& place, const Scope& scope) {
    if (is_overfull(context_.node(place))) return std::nullopt;
    const auto line = read_line(context_, place, scope);
    if (!line) return std::nullopt;
    Statement statement;
    statement.line = *line;
    statement.span = context_.node(place).span;
    return statement;
  }

  /// The lines of an `if` stand in one list, divided by its `otherwise` lines.
  Statement read_question(const Place& place, const Scope& scope) {
    const Node& node = context_.node(place);
    const syntax::Tree& tree = context_.tree(place);
    Statement statement;
    statement.what = What::question;
    statement.span = node.span;
    const Node* head = &node;
    std::vector<NodeId> lines;
    const auto close = [&] {
      Statement::Arm arm;
      arm.span = head->span;
      arm.is_otherwise = head->kind == NodeKind::otherwise;
      if (!arm.is_otherwise) arm.condition = read_condition(context_, *head, scope);
      arm.block = read_block(lines, scope, head->span);
      statement.arms.push_back(std::move(arm));
      lines.clear();
    };
    for (const NodeId child : node.children) {
      const bool divides = tree[child].kind == NodeKind::otherwise || tree[child].kind == NodeKind::otherwise_if;
      if (!divides) {
        lines.push_back(child);
        continue;
      }
      close();
      head = &tree[child];
      lines = head->children;
    }
    close();
    return statement;
  }

  Statement read_only_for(const Place& place, const Scope& scope) {
    const Node& node = context_.node(place);
    Statement statement;
    statement.what = What::only_for;
    statement.span = node.span;
    Scope inner = scope;
    if (const auto reading = context_.read(node, context_.frames->values)) {
      statement.only_for = condition_of(context_, node, *reading, scope.only_for);
      inner.only_for.insert(inner.only_for.end(), statement.only_for.begin(), statement.only_for.end());
    }
    statement.block = read_block(node.children, inner, node.span);
    return statement;
  }

  Statement read_repeat(const Place& place, const Scope& scope) {
    const Node& node = context_.node(place);
    const syntax::Tree& tree = context_.tree(place);
    Statement statement;
    statement.what = What::repeat;
    statement.span = node.span;
    if (const auto reading = context_.read(node, context_.frames->at_most)) {
      const auto count = whole(node.phrase[reading->find("n")->begin].text, most_told_apart);
      if (!count || *count == 0)
        context_.report(Code::F106, span_of(node, *reading->find("n")), {words(node, *reading->find("n"))});
      statement.at_most = count.value_or(1);
    }
    std::vector<NodeId> body, fallback;
    std::vector<NodeId>* into = &body;
    source::Span fallback_span = node.span;
    for (const NodeId child : node.children) {
      const Node& line = tree[child];
      if (line.kind == NodeKind::until) {
        statement.until = read_condition(context_, line, scope);
        continue;
      }
      if (line.kind != NodeKind::if_still_not) {
        into->push_back(child);
        continue;
      }
      into = &fallback;
      fallback = line.children;
      fallback_span = line.span;
    }
    if (fallback.empty() && !(fallback_span == node.span)) context_.report(Code::F112, fallback_span);
    statement.block = read_block(body, scope, node.span);
    statement.fallback = read_block(fallback, scope, fallback_span);
    return statement;
  }

  /// What each of two persons does at once: plain lines only, so that every way of mixing them can be walked.
  Statement read_together(const Place& place, const Scope& scope) {
    const Node& node = context_.node(place);
    Statement statement;
    statement.what = What::together;
    statement.span = node.span;
    std::vector<NodeId> lines;
    bool plain = true;
    for (const NodeId child : node.children) {
      const Node& line = context_.tree(place)[child];
      const bool fits = line.kind == NodeKind::plain || line.kind == NodeKind::out_of_rhythm;
      if (fits)
        lines.push_back(child);
      else
        context_.report(Code::F109, line.span);
      plain = plain && fits;
    }
    statement.block = read_block(lines, scope, node.span);
    if (!scope.dry && plain) check_together(context_, statement);
    return statement;
  }

  // ---- calls

  std::optional<Statement> read_call(const Place& place, const Scope& scope) {
    const Node& node = context_.node(place);
    if (is_overfull(node)) return std::nullopt;
    const auto reading = context_.read(node, context_.frames->call_routine, 0, scope.parameters);
    if (!reading) return std::nullopt;
    Statement statement;
    statement.what = What::call;
    statement.span = node.span;
    statement.routine = RoutineId{reading->find("routine")->meaning.index};
    RoutineText& text = context_.routines[statement.routine.value];
    text.called = text.called || !scope.dry;
    const Bindings bindings = bind(context_, node, *reading, scope, text);
    for (const auto& bound : bindings) statement.arguments.push_back(bound.second);
    check_finishes(context_, node, text, scope);
    if (std::find(scope.calls.begin(), scope.calls.end(), statement.routine) != scope.calls.end()) {
      context_.report(Code::N305, node.span, {protocol_[statement.routine].name});
      return std::nullopt;
    }
    statement.block = expand(place, statement.routine, bindings, scope);
    return statement;
  }

  BlockId expand(const Place& place, RoutineId routine, const Bindings& bindings, const Scope& scope) {
    const Place& body = context_.routines[routine.value].place;
    std::string name;
    for (const NodeId child : context_.node(place).children) {
      const Node& detail = context_.tree(place)[child];
      if (detail.kind == NodeKind::known_as && name.empty()) name = given_id(context_, detail, scope);
    }
    if (!scope.keeps_id.empty()) name = last_of_id(scope.keeps_id);
    else if (name.empty()) name = next_id(scope, protocol_[routine].name);
    Ids ids;
    Scope inner = scope;
    inner.file = body.file;
    inner.path = scope.keeps_id.empty() ? scope.path + " / " + name : scope.keeps_id;
    inner.in_change = false;
    inner.keeps_id.clear();
    inner.bindings = bindings;
    inner.parameters.clear();
    for (const auto& bound : bindings) inner.parameters.push_back(bound.first);
    inner.calls.push_back(routine);
    inner.in_interruption = false;
    inner.ids = &ids;
    const BlockId block = read_block(context_.node(body).children, inner, context_.node(place).span);
    called_as_ = name;
    return block;
  }

  // ---- ends

  std::optional<Statement> read_finish(const Place& place, const Scope& scope) {
    const Node& node = context_.node(place);
    const std::string name = resolve::words_of(node.phrase, 0, node.phrase.size());
    if (scope.in_routine() && !name.empty()) {
      const auto& own = context_.routines[scope.calls.back().value].may_finish_as;
      if (std::find(own.begin(), own.end(), name) == own.end()) {
        context_.report(Code::N306, node.span, {protocol_[scope.calls.back()].name, name})
            .places.push_back({protocol_[scope.calls.back()].span, "the routine"});
      } else if (scope.dry) {
        return Statement{};  // its ending belongs to whichever protocol calls it; the statement is thrown away
      }
    }
    const auto reading = context_.read(node, context_.frames->one_ending);
    if (!reading) return std::nullopt;
    Statement statement;
    statement.what = What::finish;
    statement.span = node.span;
    statement.ending = EndingId{reading->find("ending")->meaning.index};
    return statement;
  }

  std::optional<Statement> read_resume(const Place& place, const Scope& scope) {
    const Node& node = context_.node(place);
    if (!scope.in_interruption) {
      context_.report(Code::F104, node.span);
      return std::nullopt;
    }
    Statement statement;
    statement.what = What::resume;
    statement.span = node.span;
    return statement;
  }

  Context& context_;
  Protocol& protocol_;
  bool overfull_ = false;
  std::string called_as_;  ///< the id of the call that was put in place last
};

}  // namespace

std::string next_id(const Scope& scope, const std::string& name) {
  std::string id = name;
  do {
    const std::uint32_t count = ++scope.ids->counts[name];
    if (count > 1) id = name + " " + std::to_string(count);
  } while (scope.ids->given.count(id) > 0);
  return id;
}

std::string given_id(Context& context, const Node& detail, const Scope& scope) {
  if (detail.kind != NodeKind::known_as) return {};
  const std::string id = resolve::words_of(detail.phrase, 0, detail.phrase.size());
  if (id.empty()) {
    context.report(Code::N109, detail.span);
    return {};
  }
  const auto [before, is_first] = scope.ids->given.emplace(id, detail.span);
  if (!is_first) context.report(Code::N107, detail.span, {id}).places.push_back({before->second, "declared first"});
  return id;
}

void read_steps(Context& context) { StepReader(context).run(); }

}  // namespace stepward::model::reading
