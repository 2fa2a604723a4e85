#include "wording/slips.hpp"

namespace stepward::wording {

using graph::SlipKind;

std::string_view slip_name(SlipKind kind) {
  switch (kind) {
    case SlipKind::left_out: return "left out";
    case SlipKind::done_early: return "too early";
    case SlipKind::cut_short: return "time not kept";
    case SlipKind::clumsy: return "clumsy";
    case SlipKind::tears: return "glove tears unseen";
    case SlipKind::overlooked: return "overlooked";
  }
  return "";
}

std::string_view guide_word(SlipKind kind) {
  switch (kind) {
    case SlipKind::left_out: return "no";
    case SlipKind::done_early: return "before";
    case SlipKind::cut_short: return "part of";
    case SlipKind::clumsy: return "as well as";
    case SlipKind::tears:
    case SlipKind::overlooked: return "other than";
  }
  return "";
}

}  // namespace stepward::wording
