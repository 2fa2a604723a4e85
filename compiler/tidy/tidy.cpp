#include "tidy/tidy.hpp"

#include <algorithm>

#include "diagnostics/render.hpp"
#include "parse/parse.hpp"
#include "tidy/layout.hpp"
#include "tidy/same_reading.hpp"

namespace stepward::tidy {

Tidied tidy(source::FileId file, std::string_view text, diagnostics::Sink& sink) {
  diagnostics::Sink found;
  const syntax::Tree before = parse::parse(file, text, found);
  const bool read = diagnostics::count(found).errors == 0;
  std::move(found.begin(), found.end(), std::back_inserter(sink));
  if (!read) return {Outcome::not_read, {}};

  std::string laid_out = lay_out(before, text);
  diagnostics::Sink none;
  const syntax::Tree after = parse::parse(file, laid_out, none);
  if (!same_reading(before, text, after, laid_out)) return {Outcome::would_differ, {}};
  return {Outcome::tidy, std::move(laid_out)};
}

}  // namespace stepward::tidy
