#pragma once
// What Cairo 1.16 leaves out of a PDF: the language, "show the title", the reading order of fields, XMP metadata.

#include <string>

#include "emit/document/document.hpp"

namespace stepward::emit::pdf {

/// Adds them to a PDF in memory. Empty when `bytes` is no PDF that libqpdf can read; then `why` says so.
std::string finish(const std::string& bytes, const Control& control, const std::string& date, std::string& why);

/// The day that a PDF of this program bears as its date, ISO 8601; empty when `bytes` is none.
std::string day_of(const std::string& bytes);

}  // namespace stepward::emit::pdf
