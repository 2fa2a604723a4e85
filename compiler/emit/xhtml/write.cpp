#include "emit/xhtml/write.hpp"

#include "emit/xhtml/block_writer.hpp"
#include "emit/document/direction.hpp"
#include "emit/xhtml/control_block.hpp"
#include "emit/xhtml/style.hpp"

namespace stepward::emit::xhtml {

namespace {

/// Nothing is fetched and nothing is run, whatever the words of a protocol look like.
constexpr const char* policy = "default-src 'none'; style-src 'unsafe-inline'";

constexpr const char* date_name = "dcterms.date";  // Dublin Core, as in other registers of documents

void add_meta(pugi::xml_node head, const char* name, const std::string& content) {
  pugi::xml_node meta = add(head, "meta");
  set(meta, "name", name);
  set(meta, "content", content);
  new_line(head);
}

void add_head(pugi::xml_node root, const Sheet& sheet, const Options& options, const std::string& mark) {
  pugi::xml_node head = add(root, "head");
  set(add(head, "meta"), "charset", "utf-8");
  new_line(head);
  pugi::xml_node rule = add(head, "meta");
  set(rule, "http-equiv", "Content-Security-Policy");
  set(rule, "content", policy);
  new_line(head);
  add_meta(head, "viewport", "width=device-width, initial-scale=1");
  add_meta(head, "generator", "stepward");
  add_meta(head, date_name, options.date);
  add_words(head, "title", "", page_title(sheet, mark));
  new_line(head);
  // Straight into the text: styles have no line breaks that are to be seen.
  add(head, "style").append_child(pugi::node_pcdata).set_value(clean(styles(sheet, options.paper, mark)).c_str());
}

std::string class_of(SheetKind kind) {
  switch (kind) {
    case SheetKind::card:
    case SheetKind::poster:
    case SheetKind::badge: return "card";
    case SheetKind::script: return "script";
    case SheetKind::breach: return "breaches";
    case SheetKind::table:
    case SheetKind::review: return "ruled";
  }
  return "card";
}

}  // namespace

std::string write(const Sheet& sheet, const Options& options) {
  const std::string mark = options.watermark_draft ? sheet.captions.draft_mark : sheet.control.watermark;
  pugi::xml_document document;
  document.append_child(pugi::node_doctype).set_value("html");
  pugi::xml_node root = document.append_child("html");
  set(root, "xmlns", "http://www.w3.org/1999/xhtml");
  set(root, "lang", sheet.control.language);
  set(root, "xml:lang", sheet.control.language);
  if (reads_right_to_left(sheet.control.language)) set(root, "dir", "rtl");
  add_head(root, sheet, options, mark);
  pugi::xml_node body = add(root, "body", class_of(sheet.kind));
  add_header(body, sheet, mark);
  pugi::xml_node main = add(body, "main");
  BlockWriter blocks(main, sheet);
  for (const Block& block : sheet.blocks) blocks.write(block);
  add_footer(body, sheet);
  return as_file(document);
}

std::string day_of(const std::string& page) {
  const std::string before = std::string("<meta name=\"") + date_name + "\" content=\"";
  const std::size_t at = page.find(before);
  // Only the head is ours to read: what stands behind it are the words of a protocol.
  if (page.rfind("<!DOCTYPE html>", 0) != 0 || at == std::string::npos || at > page.find("</head>")) return {};
  return page.substr(at + before.size(), std::string_view("2000-01-01").size());
}

}  // namespace stepward::emit::xhtml
