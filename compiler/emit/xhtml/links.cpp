#include "emit/xhtml/links.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace stepward::emit::xhtml {

namespace {

bool is_plain(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.'; }

}  // namespace

std::string id_of(const std::string& label) {
  std::string id = "at-";
  for (const char c : label) id += is_plain(c) ? std::string(1, c) : fmt::format("_{:02x}", static_cast<unsigned char>(c));
  return id;
}

Links::Links(const Sheet& sheet) {
  for (const Block& block : sheet.blocks) labels_.insert(label_of(block));
  labels_.erase("");
}

void Links::mark(pugi::xml_node element, const std::string& label) {
  if (!label.empty() && marked_.insert(label).second) set(element, "id", id_of(label));
}

void Links::say(pugi::xml_node parent, const Text& text) const {
  for (const Run& run : text) say_run(parent, run);
}

void Links::say_run(pugi::xml_node parent, const Run& run) const {
  // A blank in front of a link is no part of it.
  const bool leads = labels_.count(run.target) > 0;
  const std::size_t begin = leads ? std::min(run.text.find_first_not_of(' '), run.text.size()) : 0;
  if (begin > 0) xhtml::say(parent, run.text.substr(0, begin));
  if (begin == run.text.size()) return;
  pugi::xml_node inner = parent;
  if (leads) {
    inner = add(inner, "a");
    set(inner, "href", '#' + id_of(run.target));
  }
  if (run.strong) inner = add(inner, "strong");
  xhtml::say(inner, run.text.substr(begin));
}

}  // namespace stepward::emit::xhtml
