#include "graph/from_model.hpp"

#include <algorithm>
#include <utility>

#include "graph/open_order.hpp"
#include "model/variants.hpp"

namespace stepward::graph {
namespace {

// Blocks are laid out from their end towards their start: every statement is then built knowing what follows it.
class Flattener {
 public:
  Flattener(const model::Protocol& protocol, const model::Variant& variant, Contexts contexts, const std::vector<OpenRun>& open = {})
      : protocol_(protocol), contexts_(contexts), open_(open) {
    graph_.variant = variant;
  }

  std::vector<Choice> take_choices() { return std::move(choices_); }

  Graph flatten() {
    lay_out_phases();
    const std::size_t count = protocol_.interruptions.size();
    graph_.strikes_lead_to.assign(1, std::vector<NodeId>(count));
    for (std::size_t i = 0; i < count; ++i) graph_.strikes_lead_to[0][i] = lay_out_handler(model::InterruptionId(i));
    if (contexts_ == Contexts::apart) stand_apart(count);
    graph_.handler_start = graph_.strikes_lead_to[0];
    return std::move(graph_);
  }

 private:
  void lay_out_phases() {
    NodeId after = add({.kind = NodeKind::off_the_end, .span = protocol_.phases.empty() ? protocol_.document.span : protocol_.phases.back().span});
    for (std::size_t i = protocol_.phases.size(); i-- > 0;) {
      phase_ = model::PhaseId(i);
      after = block(protocol_.phases[i].block, after);
    }
    graph_.start = after;
    phase_ = {};
  }

  NodeId lay_out_handler(model::InterruptionId id) {
    handler_ = id;
    const std::size_t first = graph_.nodes.size();
    const NodeId end = add({.kind = NodeKind::off_the_end, .span = protocol_[id].span});
    const NodeId start = block(protocol_[id].block, end);
    handler_ = {};
    bool resumes = false;
    for (std::size_t n = first; n < graph_.nodes.size(); ++n) resumes |= graph_.nodes[n].kind == NodeKind::resume;
    if (context_ == 0) resumes_.push_back(resumes);
    return start;
  }

  // Context 0 keeps those that resume; each of the others opens a context, in which those that resume stand again.
  void stand_apart(std::size_t count) {
    std::vector<std::uint32_t> opens(count, 0);
    for (std::size_t i = 0; i < count; ++i) {
      if (resumes_[i]) continue;
      opens[i] = ++contexts_used_;
      for (Node& node : graph_.nodes) if (node.handler == model::InterruptionId(i)) node.context = opens[i];
    }
    for (context_ = 1; context_ <= contexts_used_; ++context_) {
      graph_.strikes_lead_to.push_back(graph_.strikes_lead_to[0]);
      for (std::size_t i = 0; i < count; ++i)
        if (resumes_[i]) graph_.strikes_lead_to[context_][i] = lay_out_handler(model::InterruptionId(i));
    }
  }

  NodeId block(model::BlockId id, NodeId after) {
    if (!id) return after;
    const auto& statements = protocol_[id].statements;
    const model::BlockId around = std::exchange(in_, id);
    for (std::size_t i = statements.size(); i-- > 0;) {
      const std::size_t run = open_run(id, i);
      after = run < open_.size() ? choice(run, after) : statement(statements[i], after);
      if (run < open_.size()) i = open_[run].first;
    }
    in_ = around;
    return after;
  }

  /// The run whose last statement this is; as many as there are: none.
  std::size_t open_run(model::BlockId block, std::size_t last) const {
    const auto ends = [&](const OpenRun& run) { return run.block == block && run.count > 0 && run.first + run.count == last + 1; };
    return static_cast<std::size_t>(std::find_if(open_.begin(), open_.end(), ends) - open_.begin());
  }

  /// Every statement of the run leads back to the choice.
  NodeId choice(std::size_t run, NodeId after) {
    const OpenRun& open = open_[run];
    const auto& statements = protocol_[open.block].statements;
    Choice made{add({.kind = NodeKind::choice, .span = statements[open.first].span}), static_cast<std::uint32_t>(run), {}, after};
    for (std::uint32_t i = 0; i < open.count; ++i) made.begins.push_back(statement(statements[open.first + i], made.node));
    choices_.push_back(std::move(made));
    return choices_.back().node;
  }

  NodeId statement(const model::Statement& s, NodeId after) {
    using What = model::Statement::What;
    switch (s.what) {
      case What::line: return line(s, after);
      case What::question: return question(s, after);
      case What::only_for: return model::holds(s.only_for, graph_.variant) ? block(s.block, after) : after;
      case What::repeat: return repeat(s, after);
      case What::call: return block(s.block, after);
      case What::together: return together(s, after);
      case What::finish: return add({.kind = NodeKind::finish, .ending = s.ending, .span = s.span});
      case What::resume: return add({.kind = NodeKind::resume, .span = s.span});
    }
    return after;
  }

  NodeId line(const model::Statement& s, NodeId after) {
    const model::Line& l = protocol_[s.line];
    if (!model::holds(l.only_for, graph_.variant)) return after;
    const std::vector<NodeKind> moments = moments_of(l);
    NodeId end;
    for (std::size_t m = moments.size(); m-- > 0;) {
      after = add({.kind = moments[m], .line = s.line, .next = after, .span = l.span});
      if (m == 1) end = after;
    }
    if (end) graph_.nodes[end.value].struck_returns_to = after;  // the wetting is done anew
    return after;
  }

  /// The nodes that a line takes: a disinfection that is waited for takes two.
  static std::vector<NodeKind> moments_of(const model::Line& l) {
    if (l.verb == model::VerbKind::disinfect && !l.without_waiting) return {NodeKind::line, NodeKind::contact_end};
    return {NodeKind::line};
  }

  // One person's share of a `together`, and at each moment the one that an interruption comes back to.
  struct Share {
    struct Moment { NodeKind kind; model::LineId line; std::size_t returns_to; };
    model::RoleId who;
    std::vector<Moment> moments;
  };

  std::vector<Share> shares_of(const model::Statement& s) const {
    std::vector<Share> out;
    for (const model::Statement& each : protocol_[s.block].statements) {
      const model::Line& l = protocol_[each.line];
      if (!model::holds(l.only_for, graph_.variant)) continue;
      auto share = std::find_if(out.begin(), out.end(), [&](const Share& have) { return have.who == l.who; });
      if (share == out.end()) share = out.insert(out.end(), {l.who, {}});
      const std::size_t wetting = share->moments.size();
      for (const NodeKind kind : moments_of(l)) share->moments.push_back({kind, each.line, wetting});
    }
    return out;
  }

  NodeId together(const model::Statement& s, NodeId after) {
    at_once_ = ++blocks_at_once_;
    const NodeId first = contexts_ == Contexts::one ? block(s.block, after) : lattice(s, after);
    at_once_ = 0;
    return first;
  }

  NodeId lattice(const model::Statement& s, NodeId after) {
    std::vector<Share> shares = shares_of(s);
    shares.resize(2);
    const auto &one = shares[0].moments, &other = shares[1].moments;
    std::vector<std::vector<NodeId>> at(one.size() + 1, std::vector<NodeId>(other.size() + 1, after));
    for (std::size_t i = one.size() + 1; i-- > 0;)
      for (std::size_t j = other.size() + 1; j-- > 0;) {
        if (i == one.size() && j == other.size()) continue;
        const NodeId second = j < other.size() ? moment(other[j], at[i][j + 1]) : NodeId();
        if (i == one.size()) { at[i][j] = second; continue; }
        at[i][j] = moment(one[i], at[i + 1][j]);
        if (!second) continue;
        graph_.nodes[at[i][j].value].instead.push_back(second);
        graph_.nodes[second.value].stands_beside = true;
      }
    for (std::size_t i = 0; i <= one.size(); ++i)
      for (std::size_t j = 0; j <= other.size(); ++j) {
        const std::size_t back_i = i < one.size() ? one[i].returns_to : i, back_j = j < other.size() ? other[j].returns_to : j;
        if (back_i != i || back_j != j) graph_.nodes[at[i][j].value].struck_returns_to = at[back_i][back_j];
      }
    return at[0][0];
  }

  NodeId moment(const Share::Moment& m, NodeId next) {
    return add({.kind = m.kind, .line = m.line, .next = next, .span = protocol_[m.line].span});
  }

  NodeId question(const model::Statement& s, NodeId after) {
    Node node{.kind = NodeKind::question, .next = after, .span = s.span};
    for (const auto& arm : s.arms)
      node.arms.push_back({arm.is_otherwise ? nullptr : &arm.condition, arm.span, block(arm.block, after)});
    return add(std::move(node));
  }

  NodeId repeat(const model::Statement& s, NodeId after) {
    Node test{.kind = NodeKind::loop_test, .next = after, .until = &s.until, .loop = graph_.loops++, .at_most = s.at_most, .span = s.span};
    graph_.loop_bounds.push_back(s.at_most);
    test.fallback = block(s.fallback, after);
    const NodeId id = add(std::move(test));
    const NodeId body = block(s.block, id);
    graph_.nodes[id.value].body = body;
    return body;
  }

  NodeId add(Node node) {
    node.handler = handler_;
    node.phase = phase_;
    node.in = in_;
    node.context = context_;
    node.at_once = at_once_;
    graph_.nodes.push_back(std::move(node));
    return NodeId(graph_.nodes.size() - 1);
  }

  const model::Protocol& protocol_;
  Contexts contexts_;
  std::vector<OpenRun> open_;
  std::vector<Choice> choices_;
  std::uint32_t context_ = 0, contexts_used_ = 0;
  std::uint32_t at_once_ = 0, blocks_at_once_ = 0;
  std::vector<bool> resumes_;
  Graph graph_;
  model::PhaseId phase_;
  model::BlockId in_;
  model::InterruptionId handler_;
};

}  // namespace

Graph from_model(const model::Protocol& protocol, const model::Variant& variant, Contexts contexts) {
  return Flattener(protocol, variant, contexts).flatten();
}

GraphWithChoices with_open_order(const model::Protocol& protocol, const model::Variant& variant, const std::vector<OpenRun>& open) {
  Flattener flattener(protocol, variant, Contexts::apart, open);
  Graph graph = flattener.flatten();
  return {std::move(graph), flattener.take_choices()};
}

}  // namespace stepward::graph
