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

std::string slips_said(const std::vector<SlipKind>& kinds) {
  std::string list;
  for (const SlipKind kind : kinds) list += (list.empty() ? "" : ", ") + std::string(slip_name(kind));
  return list.empty() ? "every slip" : list;
}

Phrase slip_phrase(SlipKind kind) {
  switch (kind) {
    case SlipKind::left_out: return Phrase::dossier_slip_left_out;
    case SlipKind::done_early: return Phrase::dossier_slip_too_early;
    case SlipKind::cut_short: return Phrase::dossier_slip_time_not_kept;
    case SlipKind::clumsy: return Phrase::dossier_slip_clumsy;
    case SlipKind::tears: return Phrase::dossier_slip_tears;
    case SlipKind::overlooked: return Phrase::dossier_slip_overlooked;
  }
  return Phrase::dossier_slip_left_out;
}

std::string slips_in_words(const model::Tongue& tongue, const std::vector<SlipKind>& kinds) {
  std::string list;
  for (const SlipKind kind : kinds) list += (list.empty() ? "" : ", ") + phrase(tongue, slip_phrase(kind));
  return list.empty() ? phrase(tongue, Phrase::every_slip) : list;
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
