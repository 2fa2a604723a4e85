#pragma once
// How a protocol is with some of its texts changed: what the search for mends asks.
//
// The files that are not changed come from wherever the protocol came from. A whole look is what `check` does, the entry that
// the protocol pairs with included, but for the words of other languages: whoever adds a line adds those afterwards.

#include <string>

#include "base/file_access.hpp"
#include "mend/search.hpp"

namespace stepward::driver {

/// `access` has to live as long as the answer, and may be asked from several threads at once.
mend::Recheck recheck_of(const std::string& file, const FileAccess& access, const std::string& today);

}  // namespace stepward::driver
