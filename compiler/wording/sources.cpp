#include "wording/sources.hpp"

#include <algorithm>

namespace stepward::wording {
namespace {

std::string with_text(std::string mark, const std::string& text) { return text.empty() ? mark : std::move(mark) + ": " + text; }

}  // namespace

std::string source_phrase(const model::Source& source) {
  switch (source.mark) {
    case model::SourceMark::read: return source.text;
    case model::SourceMark::quoted_by_another: return with_text("as another tells it", source.text);
    case model::SourceMark::from_memory: return with_text("only from memory", source.text);
    case model::SourceMark::common_practice: return with_text("only common practice", source.text);
    case model::SourceMark::local: return with_text("decided here", source.text);
  }
  return source.text;
}

std::string best_source_phrase(const std::vector<model::Source>& sources) {
  const auto best = std::min_element(sources.begin(), sources.end(), [](const auto& a, const auto& b) { return a.mark < b.mark; });
  return best == sources.end() ? std::string() : source_phrase(*best);
}

}  // namespace stepward::wording
