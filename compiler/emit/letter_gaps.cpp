#include "emit/letter_gaps.hpp"

#include <vector>

#include "wording/act_phrases.hpp"

namespace stepward::emit {

std::string LetterGaps::before(const PaperSource& source, const std::string& label) {
  if (label.size() != 1) return {};
  std::vector<std::string> missing;
  for (; next_ < label[0]; ++next_) missing.emplace_back(1, next_);
  next_ = static_cast<char>(label[0] + 1);
  return missing.empty() ? std::string() : source.said(wording::Phrase::letters_not_used, {{"letters", wording::all_of(source.protocol.tongue, missing)}});
}

}  // namespace stepward::emit
