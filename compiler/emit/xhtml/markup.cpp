#include "emit/xhtml/markup.hpp"

#include <algorithm>
#include <cstdint>
#include <sstream>

#include "base/text.hpp"

namespace stepward::emit::xhtml {

namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";
constexpr std::string_view empty_elements[] = {"meta", "br", "col", "path", "rect"};

/// How many bytes the character takes that begins with this one, if it is well-formed UTF-8.
std::size_t length_of(unsigned char first) { return first < 0x80 ? 1 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4; }

std::uint32_t code_point(std::string_view character) {
  if (character.size() == 1) return static_cast<unsigned char>(character[0]);
  std::uint32_t code = static_cast<unsigned char>(character[0]) & (0xFFu >> (character.size() + 1));
  for (const char byte : character.substr(1)) code = code << 6 | (static_cast<unsigned char>(byte) & 0x3F);
  return code;
}

/// XML 1.0, production [2] Char, without what the HTML standard calls control characters and noncharacters.
bool may_stand(std::uint32_t code) {
  if (code == '\t' || code == '\n') return true;
  if (code < 0x20 || (code >= 0x7F && code < 0xA0)) return false;
  const bool noncharacter = (code >= 0xFDD0 && code <= 0xFDEF) || (code & 0xFFFE) == 0xFFFE;
  return !noncharacter && (code < 0xD800 || code > 0xDFFF);
}

bool is_empty_element(std::string_view name) {
  return std::find(std::begin(empty_elements), std::end(empty_elements), name) != std::end(empty_elements);
}

void say_line(pugi::xml_node parent, std::string_view line) {
  if (!line.empty()) parent.append_child(pugi::node_pcdata).set_value(std::string(line).c_str());
}

}  // namespace

std::string clean(std::string_view text) {
  std::string all;
  while (!text.empty()) {
    const std::string_view character = text.substr(0, length_of(static_cast<unsigned char>(text[0])));
    const bool is_text = text::first_bad_byte(character) == std::string_view::npos;
    if (character == "\r") {
      if (text.substr(0, 2) != "\r\n") all += '\n';
    } else {
      all += is_text && may_stand(code_point(character)) ? character : replacement;
    }
    text.remove_prefix(is_text ? character.size() : 1);
  }
  return all;
}

pugi::xml_node add(pugi::xml_node parent, const char* element, const std::string& classes) {
  pugi::xml_node node = parent.append_child(element);
  if (!classes.empty()) set(node, "class", classes);
  // An empty text keeps `<td></td>` from being written as `<td/>`, which HTML reads as an open tag.
  if (!is_empty_element(element)) node.append_child(pugi::node_pcdata).set_value("");
  return node;
}

pugi::xml_node add_words(pugi::xml_node parent, const char* element, const std::string& classes, const std::string& text) {
  pugi::xml_node node = add(parent, element, classes);
  say(node, text);
  return node;
}

void set(pugi::xml_node element, const char* attribute, const std::string& value) {
  element.append_attribute(attribute).set_value(clean(value).c_str());
}

void say(pugi::xml_node parent, const std::string& text) {
  const std::string words = clean(text);
  std::string_view rest = words;
  for (std::size_t end = 0; (end = rest.find('\n')) != std::string_view::npos; rest.remove_prefix(end + 1)) {
    say_line(parent, rest.substr(0, end));
    add(parent, "br");
  }
  say_line(parent, rest);
}

void new_line(pugi::xml_node parent) { parent.append_child(pugi::node_pcdata).set_value("\n"); }

std::string as_file(const pugi::xml_document& document) {
  std::ostringstream file;
  document.save(file, "", pugi::format_raw | pugi::format_no_declaration, pugi::encoding_utf8);
  return file.str() + '\n';
}

}  // namespace stepward::emit::xhtml
