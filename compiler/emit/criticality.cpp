#include "emit/criticality.hpp"

namespace stepward::emit {
namespace {

using graph::SlipKind;
using slips::Consequence;
using wording::Phrase;

Phrase reason_of(Consequence worst) {
  switch (worst) {
    case Consequence::face: return Phrase::slip_reaches_face;
    case Consequence::skin: return Phrase::slip_reaches_skin;
    case Consequence::clean_side: return Phrase::slip_reaches_clean_side;
    case Consequence::protection: return Phrase::slip_costs_protection;
    case Consequence::left_open: break;
  }
  return Phrase::slip_leaves_open;
}

Phrase look_for(SlipKind slip) {
  switch (slip) {
    case SlipKind::left_out: return Phrase::look_for_left_out;
    case SlipKind::done_early: return Phrase::look_for_done_early;
    case SlipKind::cut_short: return Phrase::look_for_cut_short;
    case SlipKind::clumsy: return Phrase::look_for_clumsy;
    case SlipKind::tears: return Phrase::look_for_tears;
    case SlipKind::overlooked: break;
  }
  return Phrase::look_for_overlooked;
}

const slips::WeakPoint* weak_point_at(const PaperSource& source, model::LineId line) {
  const auto found = source.facts.weak_points.find(line);
  return found == source.facts.weak_points.end() ? nullptr : &found->second;
}

const std::string& own_reason(const PaperSource& source, model::LineId line) { return source.protocol[line].details.critical_because; }

}  // namespace

bool is_critical(const PaperSource& source, model::LineId line) { return !own_reason(source, line).empty() || weak_point_at(source, line); }

std::string why_critical(const PaperSource& source, model::LineId line) {
  const slips::WeakPoint* weak = weak_point_at(source, line);
  return !own_reason(source, line).empty() || !weak ? own_reason(source, line) : source.said(reason_of(weak->worst));
}

std::string weak_point_to_watch(const PaperSource& source, model::LineId line, bool is_watched) {
  const slips::WeakPoint* weak = weak_point_at(source, line);
  std::string text;
  if (!weak) return text;
  for (const SlipKind slip : weak->slips) {
    if (slip == SlipKind::clumsy && is_watched) continue;
    text += (text.empty() ? "" : " ") + source.said(look_for(slip));
  }
  return text;
}

}  // namespace stepward::emit
