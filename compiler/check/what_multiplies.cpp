#include "check/what_multiplies.hpp"

#include <algorithm>
#include <map>

#include "explore/state_set.hpp"
#include "wording/story.hpp"

namespace stepward::check {
namespace {

using What = effects::FieldMeaning::What;

constexpr std::uint32_t most_states_counted = 100'000;
constexpr double worth_naming = 1.2;
constexpr std::size_t most_named = 3;

/// Something that varies, and the fields in which it shows.
struct Source {
  std::string name;
  source::Span at;
  std::vector<explore::Slot> slots;
};

class Sources {
 public:
  Sources(const model::Protocol& protocol, const Prepared& prepared) : protocol_(protocol), prepared_(prepared) {}

  std::vector<Source> all() {
    add_interruptions();
    add_decisions();
    add_looks();
    return std::move(sources_);
  }

 private:
  // Also where an interruption comes back to differs from run to run.
  void add_interruptions() {
    for (std::uint32_t i = 0; i < protocol_.interruptions.size(); ++i) {
      const model::Interruption& it = protocol_.interruptions[i];
      Source source{"interruption " + it.name, it.span, {}};
      if (i < prepared_.packed.back.size()) source.slots.push_back(prepared_.packed.back[i]);
      add(std::move(source), [&](const effects::FieldMeaning& m) { return m.what == What::struck && m.index == i; });
    }
  }

  void add_decisions() {
    for (std::uint32_t d = 0; d < protocol_.decisions.size(); ++d)
      add({"decision " + protocol_.decisions[d].name, protocol_.decisions[d].span, {}},
          [&](const effects::FieldMeaning& m) { return m.what == What::answer && m.index == d; });
  }

  // What was found on a thing shows in what is known of it, owed for it, and in how dirty it is.
  void add_looks() {
    std::map<effects::Bearer, std::vector<explore::Slot>> known;
    for (std::size_t f = 0; f < prepared_.system.fields.size(); ++f)
      if (const effects::FieldMeaning& m = prepared_.system.fields[f].meaning; m.what == What::known && prepared_.packed.fields[f].mask)
        known[m.bearer].push_back(prepared_.packed.fields[f]);
    for (const auto& [bearer, slots] : known) {
      const effects::Bearer& its = bearer;
      add({"looks at " + wording::bearer_name(protocol_, bearer), first_line_that_writes(slots), {}}, [&](const effects::FieldMeaning& m) {
        return m.bearer == its && (m.what == What::known || m.what == What::owed || m.what == What::level || m.what == What::unlooked);
      });
    }
  }

  template <class Belongs>
  void add(Source source, Belongs&& belongs) {
    for (std::size_t f = 0; f < prepared_.system.fields.size(); ++f)
      if (prepared_.packed.fields[f].mask && belongs(prepared_.system.fields[f].meaning)) source.slots.push_back(prepared_.packed.fields[f]);
    if (!source.slots.empty()) sources_.push_back(std::move(source));
  }

  // Nodes are laid out from the end of a protocol, so the highest one is the first line.
  source::Span first_line_that_writes(const std::vector<explore::Slot>& slots) const {
    const explore::Packed& packed = prepared_.packed;
    for (std::uint32_t n = static_cast<std::uint32_t>(packed.nodes.size()); n-- > 0;) {
      if (!prepared_.graph.nodes[n].line) continue;
      for (std::uint32_t e = packed.nodes[n].edges.first; e < packed.nodes[n].edges.last; ++e)
        if (writes(packed.edges[e], slots)) return protocol_[prepared_.graph.nodes[n].line].span;
    }
    return protocol_.document.span;
  }

  bool writes(const explore::PackedEdge& edge, const std::vector<explore::Slot>& slots) const {
    for (std::uint32_t i = edge.ops.first; i < edge.ops.last; ++i) {
      const explore::PackedOp& op = prepared_.packed.ops[i];
      if (op.what != explore::PackedOp::Do::write) continue;
      for (const explore::Slot& s : slots)
        if (s.word == op.a.word && (~op.keep & std::uint64_t(s.mask) << s.shift)) return true;
    }
    return false;
  }

  const model::Protocol& protocol_;
  const Prepared& prepared_;
  std::vector<Source> sources_;
};

/// How many of the last states differ when these fields are left out.
std::size_t different(const explore::Result& result, const std::vector<explore::Slot>& left_out) {
  std::vector<std::uint64_t> hashes;
  for (std::uint32_t s = result.size() - std::min(result.size(), most_states_counted); s < result.size(); ++s) {
    std::uint64_t w[explore::most_words];
    std::copy_n(result.state(s), result.words, w);
    for (const explore::Slot& slot : left_out) explore::put(w, slot, 0);
    hashes.push_back(explore::StateSet::hash(w, result.words));
  }
  std::sort(hashes.begin(), hashes.end());
  return static_cast<std::size_t>(std::unique(hashes.begin(), hashes.end()) - hashes.begin());
}

}  // namespace

std::vector<Multiplier> what_multiplies(const model::Protocol& protocol, const Prepared& prepared, const explore::Result& result) {
  std::vector<Multiplier> out;
  const auto all = static_cast<double>(different(result, {}));
  for (const Source& source : Sources(protocol, prepared).all())
    if (const double factor = all / static_cast<double>(std::max<std::size_t>(1, different(result, source.slots))); factor >= worth_naming)
      out.push_back({source.name, factor, source.at});
  std::stable_sort(out.begin(), out.end(), [](const Multiplier& a, const Multiplier& b) { return a.factor > b.factor; });
  if (out.size() > most_named) out.resize(most_named);
  return out;
}

}  // namespace stepward::check
