#include "emit/pdf/fault.hpp"

namespace stepward::emit::pdf {

namespace {

/// "; it fits on A4 or Letter"
std::string way_out(const Fault& fault) {
  if (!fault.fits_on.empty()) return "; it fits on " + fault.fits_on;
  return "; it fits on no paper that this is printed on: shorten it";
}

}  // namespace

std::string sentence(const Fault& fault) {
  const std::string hint = fault.package.empty() ? std::string() : " (install the package " + fault.package + ")";
  switch (fault.what) {
    case Fault::What::no_font: return "the font family " + fault.text + " is missing" + hint;
    case Fault::What::no_glyph:
      return fault.where + ": no font here can write " + fault.text + (hint.empty() ? "; no package would help: write it in other words" : hint);
    case Fault::What::too_wide: return fault.where + ": a word of “" + fault.text + "” is wider than its column on " + fault.paper + way_out(fault);
    case Fault::What::too_tall: return fault.where + ": too long for one face of " + fault.paper + way_out(fault);
    case Fault::What::cannot_write: return fault.where + ": " + fault.text;
  }
  return {};
}

}  // namespace stepward::emit::pdf
