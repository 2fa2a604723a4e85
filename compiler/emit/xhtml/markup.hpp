#pragma once
// Elements, classes and words of a web page: the only file of this folder that knows how pugixml holds them.
//
// A page is read by two kinds of parser: the one for XML, and the one that browsers use for a file called .html. So
// that both see the same page, no element but the empty ones of HTML (meta, br) is ever written as `<x/>`, and words
// hold only signs that both allow. A sign that neither allows (a control character, half of a surrogate pair, bytes
// that are no UTF-8) becomes U+FFFD: it is seen to be missing, and never swallowed.

#include <string>
#include <string_view>

#include <pugixml.hpp>

namespace stepward::emit::xhtml {

/// `text` with U+FFFD in the place of everything that may not stand in XML 1.0 or in HTML. A carriage return is a
/// line break.
std::string clean(std::string_view text);

/// A new element at the end of `parent`, with a class unless that is empty.
pugi::xml_node add(pugi::xml_node parent, const char* element, const std::string& classes = {});
/// The same with words in it.
pugi::xml_node add_words(pugi::xml_node parent, const char* element, const std::string& classes, const std::string& text);
void set(pugi::xml_node element, const char* attribute, const std::string& value);
/// Words at the end of `parent`; a line break in them is an element `br`.
void say(pugi::xml_node parent, const std::string& text);
/// A line break of the file, which no reader of the page sees.
void new_line(pugi::xml_node parent);

/// The whole file: doctype and `root`.
std::string as_file(const pugi::xml_document& document);

}  // namespace stepward::emit::xhtml
