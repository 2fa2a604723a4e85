#include "slips/consequence.hpp"

#include <algorithm>

namespace stepward::slips {

using diagnostics::Code;
using explore::Weight;

std::string_view consequence_name(Consequence c) {
  switch (c) {
    case Consequence::face: return "face";
    case Consequence::skin: return "skin or clothing";
    case Consequence::clean_side: return "clean side";
    case Consequence::protection: return "protection";
    case Consequence::left_open: return "left open";
  }
  return "";
}

namespace {

/// Nobody's bare hands are treated through what the same person wears on them: whoever tries sees the gloves.
bool is_under_own_glove(const model::Protocol& protocol, const effects::Report& r) {
  using What = effects::Bearer::What;
  if (r.code != Code::P103 || !r.line || !r.has_other || r.thing.what != What::site || !protocol[r.thing.site].is_hands) return false;
  const model::VerbKind verb = protocol[r.line].verb;
  const bool dresses = verb == model::VerbKind::don || verb == model::VerbKind::doff;
  return !dresses && r.other.what == What::worn && r.other.person == r.thing.person;
}

/// Nobody puts on bare hands what must never come there without seeing that they are bare.
bool is_on_own_bare_hands(const model::Protocol& protocol, const effects::Report& r) {
  if (r.code != Code::P501 || !r.line || r.thing.what != effects::Bearer::What::site || !protocol[r.thing.site].is_hands) return false;
  return protocol[r.line].who == r.thing.person;
}

/// What a hand brings onto a thing, the disinfectant that it brings there takes off again.
bool is_made_good_for(const effects::Report& r) { return r.is_treated && (r.code == Code::P103 || r.code == Code::P106); }

}  // namespace

Weight weight_of(const model::Protocol& protocol, const effects::Report& report) {
  if (report.rule) return Weight::note;
  if (report.severity != diagnostics::Severity::error) return Weight::none;
  if (is_under_own_glove(protocol, report) || is_on_own_bare_hands(protocol, report)) return Weight::stop;
  if (is_made_good_for(report)) return Weight::none;
  switch (report.code) {
    case Code::P101:
    case Code::P102:
    case Code::P103:
    case Code::P104:
    case Code::P105:
    case Code::P106:
    case Code::P107:
    case Code::P201:
    case Code::P202:
    case Code::P203:
    case Code::P301:
    case Code::P501:
    case Code::P503:
    case Code::P601:
    case Code::P602:
    case Code::P703: return Weight::harm;
    // All others say that something cannot be done, cannot be answered, or is still worn where it must not be.
    default: return Weight::stop;
  }
}

Consequence consequence_of(const model::Protocol& protocol, const effects::Report& report) {
  // Whatever the report is called: dirt on a body is worse than dirt on what is worn on it.
  const auto is_face = [&](const effects::Bearer& b) {
    const auto mucous = [&](model::SiteId s) { return protocol[s].nature == model::SiteNature::mucous; };
    if (b.what == effects::Bearer::What::site) return b.site && mucous(b.site);
    return b.item && std::any_of(protocol[b.item].worn_on.begin(), protocol[b.item].worn_on.end(), mucous);
  };
  switch (report.code) {
    case Code::P101: return Consequence::face;
    case Code::P103:
    case Code::P602: return report.has_thing && is_face(report.thing) ? Consequence::face : Consequence::skin;
    case Code::P102: return Consequence::skin;
    // Shut in between two pairs of gloves, or under one.
    case Code::P104: return report.other.what == effects::Bearer::What::site ? Consequence::skin : Consequence::protection;
    case Code::P105:
    case Code::P106:
    case Code::P107:
    case Code::P201:
    case Code::P703:
      if (!report.has_thing || report.thing.what != effects::Bearer::What::site) return Consequence::clean_side;
      return is_face(report.thing) ? Consequence::face : Consequence::skin;
    case Code::P202:
    case Code::P203:
    case Code::P301:
    case Code::P501: return Consequence::protection;
    default: return Consequence::left_open;
  }
}

}  // namespace stepward::slips
