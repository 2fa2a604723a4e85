#pragma once
// The pages of docs/findings/, inside the program. `base/embed_texts.cmake` writes the
// definition.

#include <span>
#include <string_view>

namespace stepward::driver {

/// One page: its code ("P401") and its text.
struct FindingPage {
  std::string_view code;
  std::string_view text;
};

/// All pages, ordered by code. A code may have none.
std::span<const FindingPage> finding_pages();

}  // namespace stepward::driver
