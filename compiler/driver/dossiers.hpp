#pragma once
// What the review dossier is made from, gathered from a walked protocol and from the files that it was read from.
//
// A dossier says by its hashes what was checked. They are of the bytes that lie on the disk, as everybody else can work them
// out, so the files are read once more; if one of them is no longer what was checked, there is no dossier.

#include <optional>
#include <string>

#include "driver/papers.hpp"
#include "emit/dossier/facts.hpp"

namespace stepward::driver {

/// The one paper that is made only when it is asked for by name.
inline constexpr const char* dossier_name = "dossier";

struct DossierRequest {
  std::string today;                    ///< ISO 8601
  std::uint64_t limit = 20'000'000;     ///< that the check was given
  unsigned workers = 1;
};

/// `why` says which file is no longer what was checked; then there are no facts. The protocol has to be walked.
std::optional<emit::dossier::Facts> dossier_facts(const Compilation& made, const FileAccess& access, const DossierRequest& request, std::string& why);

/// As its author wrote it or in the words of a dictionary.
std::vector<Paper> papers_of_dossier(const Compilation& made, const emit::dossier::Facts& facts, const translation::Dictionary* words = nullptr);

}  // namespace stepward::driver
