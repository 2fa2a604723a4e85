#include "model/from_syntax.hpp"

#include <algorithm>
#include <iterator>

#include "model/from_syntax/passes.hpp"

namespace stepward::model {
namespace reading {

/// Declarations in their order; the slots were made by `declare_names` in the same order, so counting finds them.
class DeclarationReader {
 public:
  explicit DeclarationReader(Context& context) : context_(context) {}

  void run() {
    std::uint32_t item = 0;
    for (const Place& place : context_.declared) {
      if (context_.node(place).kind == NodeKind::item) read_surfaces_of_item(context_, place, ItemId{item++});
    }
    for (const Place& place : context_.declared) read(place);
  }

 private:
  void read(const Place& place) {
    Protocol& protocol = context_.protocol;
    switch (context_.node(place).kind) {
      case NodeKind::zone: read_zone(context_, place, protocol.zones[zones_++]); break;
      case NodeKind::role: read_role(context_, place, protocol.roles[roles_++]); break;
      case NodeKind::body_site: read_site(context_, place, SiteId{sites_++}); break;
      case NodeKind::kind: read_kind(context_, place, protocol.kinds[kinds_++]); break;
      case NodeKind::finding: read_finding(context_, place, protocol.findings[findings_++]); break;
      case NodeKind::fixture: read_fixture(context_, place, protocol.spots[spots_++]); break;
      case NodeKind::surface: read_free_surface(context_, place, protocol.spots[spots_++]); break;
      case NodeKind::supply: read_supply(context_, place, protocol.supplies[supplies_++]); break;
      case NodeKind::item: read_item(context_, place, ItemId{items_++}); break;
      case NodeKind::agent: read_agent(context_, place, protocol.agents[agents_++]); break;
      case NodeKind::technique: read_technique(context_, place, TechniqueId{techniques_++}); break;
      case NodeKind::verb: read_verb(context_, place); break;
      default: break;  // the frame, the steps and the rules have passes of their own
    }
  }

  Context& context_;
  std::uint32_t zones_ = 0, roles_ = 0, sites_ = 0, kinds_ = 0, findings_ = 0, spots_ = 0, supplies_ = 0, items_ = 0,
                agents_ = 0, techniques_ = 0;
};

void read_declarations(Context& context) {
  DeclarationReader(context).run();
  read_stocks(context);
  read_usual_agent(context);
}

}  // namespace reading

bool prevents_walk(diagnostics::Code code) {
  using diagnostics::Code;
  const char family = diagnostics::code_name(code)[0];
  const bool static_only = code == Code::F112 || code == Code::F301 || code == Code::F401 || code == Code::N501;
  return !static_only && family != 'D' && family != 'T' && family != 'X';
}

std::optional<Protocol> build(const resolve::Loaded& loaded, const source::Files& files, diagnostics::Sink& sink,
                              const BuildOptions& options) {
  if (loaded.files.empty()) return std::nullopt;
  reading::Context context(loaded, files);
  context.today = options.today;
  reading::declare_names(context);
  reading::introduce_names(context);
  context.decision_asked.assign(context.protocol.decisions.size(), false);
  reading::read_documents(context, options.today);
  reading::read_declarations(context);
  reading::read_frame(context);
  reading::read_copies(context);
  reading::read_changes(context);
  reading::read_steps(context);
  reading::check_changes(context);
  reading::check_usual_agent(context);
  reading::read_rules(context);
  reading::read_set_asides(context);
  reading::read_answers(context);
  reading::check_whole(context);
  const auto hand_over = [&] {
    auto found = context.findings();
    std::move(found.begin(), found.end(), std::back_inserter(sink));
  };
  hand_over();
  const bool meaningless = std::any_of(sink.begin(), sink.end(), [](const diagnostics::Diagnostic& finding) {
    return finding.severity == diagnostics::Severity::error && prevents_walk(finding.code);
  });
  if (meaningless) return std::nullopt;
  reading::check_texts(context);  // lines of which something is unknown can be held against nothing
  hand_over();
  return std::move(context.protocol);
}

}  // namespace stepward::model
