// Nothing of a sheet is dropped on its page, and nothing is invented: the words of every block are taken back out of
// the page and held against plain_text(sheet), block by block.
#include <doctest/doctest.h>

#include <algorithm>
#include <numeric>
#include <set>

#include <pugixml.hpp>

#include "emit/xhtml/links.hpp"
#include "emit/xhtml/write.hpp"
#include "page_papers.hpp"

using namespace stepward;
using namespace stepward::emit;

namespace {

std::string squeezed(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c != ' ' && c != '\n' && c != '\t') out += c;
  }
  return out;
}

void add_words_of(const pugi::xml_node& node, std::string& words) {
  if (node.type() == pugi::node_pcdata) words += node.value();
  for (const pugi::xml_node& child : node.children()) add_words_of(child, words);
}

std::string words_of(const pugi::xml_node& node) {
  std::string words;
  add_words_of(node, words);
  return squeezed(words);
}

/// Where the mark for "critical" stands among the fields of a block's plain text, or none.
std::size_t flag_of(const Block& block) {
  if (const auto* step = std::get_if<Step>(&block)) return step->warnings.size() + 1;
  if (const auto* row = std::get_if<SayRow>(&block)) return row->warnings.size() + 1;
  return std::holds_alternative<TableRow>(block) ? 1 : std::string::npos;
}

/// The words of a block, field by field, out of its line of the plain text.
std::vector<std::string> fields_of(const Block& block, std::string line) {
  std::vector<std::string> fields;
  for (std::size_t bar = 0; (bar = line.find('|')) != std::string::npos; line.erase(0, bar + 1)) fields.push_back(squeezed(line.substr(0, bar)));
  const std::size_t flag = flag_of(block);
  if (flag < fields.size()) fields.erase(fields.begin() + static_cast<std::ptrdiff_t>(flag));
  fields.erase(std::remove(fields.begin(), fields.end(), ""), fields.end());
  // The words of a drawing are short and alike; what counts is that all of them are there, in their order.
  if (std::holds_alternative<Figure>(block)) fields = {std::accumulate(fields.begin(), fields.end(), std::string())};
  return fields;
}

/// The lines of the plain text below its first; a line break inside of a cell belongs to its block.
std::vector<std::string> lines_of_blocks(const Sheet& sheet) {
  std::string text = plain_text(sheet);
  std::vector<std::string> lines;
  for (std::size_t end = 0; (end = text.find("|\n")) != std::string::npos; text.erase(0, end + 2)) lines.push_back(text.substr(0, end + 1));
  lines.erase(lines.begin());
  return lines;
}

/// What the writer may add to the words of a sheet.
std::vector<std::string> own_words(const Captions& c) {
  std::vector<std::string> own;
  for (const std::string* caption : {&c.critical, &c.say, &c.hear, &c.act, &c.clock, &c.look_for, &c.if_not, &c.box, &c.breach}) own.push_back(squeezed(*caption));
  for (const char* sign : {"“", "”", "→", "·"}) own.push_back(sign);
  std::sort(own.begin(), own.end(), [](const auto& a, const auto& b) { return a.size() > b.size(); });
  return own;
}

/// What is left of `words` without the writer's own ones.
std::string without_own(std::string words, const std::vector<std::string>& own) {
  std::string rest;
  while (!words.empty()) {
    const auto found = std::find_if(own.begin(), own.end(), [&](const std::string& each) { return !each.empty() && words.rfind(each, 0) == 0; });
    rest += found == own.end() ? words.substr(0, 1) : "";
    words.erase(0, found == own.end() ? 1 : found->size());
  }
  return rest;
}

/// Reads the words of a page from its beginning, a block at a time.
class Reader {
 public:
  Reader(std::string words, std::vector<std::string> own) : words_(std::move(words)), own_(std::move(own)) {}

  /// Takes the fields of one block out of the words that follow, the longest first, each where it stands first; between
  /// them nothing but the writer's own words may be left. Empty: all is well.
  std::string take(std::vector<std::string> fields) {
    std::stable_sort(fields.begin(), fields.end(), [](const auto& a, const auto& b) { return a.size() > b.size(); });
    std::vector<bool> taken(words_.size() - at_, false);
    std::size_t end = 0;
    for (const std::string& field : fields) {
      const std::size_t place = free_place(field, taken);
      if (place == std::string::npos) return "dropped: " + field;
      std::fill_n(taken.begin() + static_cast<std::ptrdiff_t>(place), field.size(), true);
      end = std::max(end, place + field.size());
    }
    std::string between;
    for (std::size_t i = 0; i < end; ++i) {
      if (!taken[i]) between += words_[at_ + i];
    }
    at_ += end;
    const std::string invented = without_own(between, own_);
    return invented.empty() ? "" : "not of this block: " + invented;
  }

  std::string rest() const { return without_own(words_.substr(at_), own_); }

 private:
  std::size_t free_place(const std::string& field, const std::vector<bool>& taken) const {
    for (std::size_t place = words_.find(field, at_); place != std::string::npos; place = words_.find(field, place + 1)) {
      const auto first = taken.begin() + static_cast<std::ptrdiff_t>(place - at_);
      if (std::none_of(first, first + static_cast<std::ptrdiff_t>(field.size()), [](bool t) { return t; })) return place - at_;
    }
    return std::string::npos;
  }

  std::string words_;
  std::vector<std::string> own_;
  std::size_t at_ = 0;
};

/// The first block whose words are not on the page as they are on the sheet; empty: there is none.
std::string what_differs(const Sheet& sheet, const std::string& page_words) {
  Reader reader(page_words, own_words(sheet.captions));
  const std::vector<std::string> lines = lines_of_blocks(sheet);
  if (lines.size() != sheet.blocks.size()) return "the plain text has another number of blocks";
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const std::string fault = reader.take(fields_of(sheet.blocks[i], lines[i]));
    if (!fault.empty()) return "block " + std::to_string(i) + " (" + lines[i] + "): " + fault;
  }
  return reader.rest().empty() ? "" : "behind the last block: " + reader.rest();
}

struct Page {
  std::string bytes;
  pugi::xml_document document;

  explicit Page(const Sheet& sheet) : bytes(xhtml::write(sheet, {})) {
    const pugi::xml_parse_result read = document.load_buffer(bytes.data(), bytes.size(), pugi::parse_default | pugi::parse_ws_pcdata);
    CHECK_MESSAGE(read, read.description());
  }
  pugi::xml_node part(const char* name) const { return document.child("html").child("body").child(name); }
};

void check_control_block(const Page& page, const Sheet& sheet) {
  const Control& c = sheet.control;
  const std::string head = words_of(page.part("header")), foot = words_of(page.part("footer"));
  for (const std::string& words : {c.title, c.number, filled(sheet.captions.version, c.version), c.status, c.kind, c.variant, c.reminder, c.watermark})
    CHECK_MESSAGE(head.find(squeezed(words)) != std::string::npos, "the head has: " << words);
  for (const std::string& words : {date_words(c.in_force, sheet.captions), date_words(c.review_due, sheet.captions), c.status, c.owner, c.approver,
                                   sheet.captions.check_words_explained + c.check_words, c.verdict, c.caution})
    CHECK_MESSAGE(foot.find(squeezed(words)) != std::string::npos, "the foot has: " << words);
  CHECK(page.part("footer").child("svg").attribute("aria-label").value() == c.code);
}

void check_ids(const pugi::xml_node& node, std::set<std::string>& ids) {
  if (const pugi::xml_attribute id = node.attribute("id")) CHECK_MESSAGE(ids.insert(id.value()).second, "once: " << id.value());
  for (const pugi::xml_node& child : node.children()) check_ids(child, ids);
}

std::size_t count_links(const pugi::xml_node& node, const std::set<std::string>& ids) {
  std::size_t count = 0;
  if (std::string(node.name()) == "a") {
    ++count;
    CHECK_MESSAGE(ids.count(node.attribute("href").value() + 1) == 1, "leads somewhere: " << node.attribute("href").value());
  }
  for (const pugi::xml_node& child : node.children()) count += count_links(child, ids);
  return count;
}

}  // namespace

TEST_CASE("pages: every word of every block, and no other, on all papers of the example and of library protocols") {
  for (const std::string& file : test::looked_at()) {
    std::size_t blocks = 0, links = 0;
    for (const auto& [name, sheet] : test::all_papers(file)) {
      CAPTURE(name);
      const Page page(sheet);
      const std::string difference = what_differs(sheet, words_of(page.part("main")));
      CHECK_MESSAGE(difference.empty(), difference);
      check_control_block(page, sheet);
      std::set<std::string> ids;
      check_ids(page.document, ids);
      links += count_links(page.document, ids);
      blocks += sheet.blocks.size();
      CHECK(page.bytes == Page(sheet).bytes);
    }
    CAPTURE(file);
    CHECK(blocks > 50);
    // A protocol without questions sends nobody anywhere.
    if (file.find("examples/") == 0) CHECK(links > 100);
  }
}

TEST_CASE("pages: the comparison finds a word that is dropped, one that is added, and one that moved to another block") {
  for (const auto& [name, sheet] : test::all_papers("stdlib-procedures/protocols/hand-rub.ward")) {
    CAPTURE(name);
    const std::string words = words_of(Page(sheet).part("main"));
    REQUIRE(what_differs(sheet, words).empty());
    // One by one, since any word could be the one that is not looked at.
    for (std::size_t at = 0; at < words.size(); at += 7) {
      if ((words[at] & 0x80) != 0) continue;
      std::string shorter = words, longer = words;
      shorter.erase(at, 1);
      longer.insert(at, "x");
      CHECK(!what_differs(sheet, shorter).empty());
      CHECK(!what_differs(sheet, longer).empty());
    }
    const std::size_t half = words.size() / 2;
    CHECK(!what_differs(sheet, words.substr(half) + words.substr(0, half)).empty());
  }
}
