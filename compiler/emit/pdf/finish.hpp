#pragma once
// What Cairo 1.16 leaves out of a PDF: the language, "show the title", the reading order of fields, XMP metadata.

#include <string>

#include "emit/document/document.hpp"

namespace stepward::emit::pdf {

/// Adds them to a PDF in memory. Empty when `bytes` is no PDF that libqpdf can read; then `why` says so.
std::string finish(const std::string& bytes, const Control& control, const std::string& date, std::string& why);

}  // namespace stepward::emit::pdf
