#pragma once
// What stands around the blocks of a page: its title, the head with number and version, the foot with dates, people,
// check words, square code, verdict and caution.

#include "emit/document/document.hpp"
#include "emit/xhtml/markup.hpp"

namespace stepward::emit::xhtml {

/// What the browser's tab says, and its own header when it prints. `mark`: DRAFT or the like, in front; may be empty.
std::string page_title(const Sheet& sheet, const std::string& mark);
/// The landmark `header`, with the mark in words above everything else.
void add_header(pugi::xml_node body, const Sheet& sheet, const std::string& mark);
/// The landmark `footer`.
void add_footer(pugi::xml_node body, const Sheet& sheet);

/// "version 2.0 · approved".
std::string version_and_status(const Sheet& sheet);

}  // namespace stepward::emit::xhtml
