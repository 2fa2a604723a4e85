// Web pages: words that could be taken for markup, signs that may not stand in a file, directions, ids, printed faces.
#include <doctest/doctest.h>

#include <algorithm>

#include <pugixml.hpp>

#include "emit/document/check_words.hpp"
#include "emit/document/square_code.hpp"
#include "emit/document/direction.hpp"
#include "emit/xhtml/control_block.hpp"
#include "emit/xhtml/links.hpp"
#include "emit/xhtml/style.hpp"
#include "emit/xhtml/write.hpp"

using namespace stepward::emit;

namespace {

bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size())) ++found;
  return found;
}

/// Every field of every kind of block says `words`.
Sheet sheet_saying(const std::string& words) {
  const Text text{{words, false, ""}, {words, true, "1"}};
  Sheet sheet;
  sheet.tables = {{{Column::What::label, words, 0}, {Column::What::words, words, 1}, {Column::What::figure, words, 1}, {Column::What::tick, words, 0}, {Column::What::pen, words, 1}}};
  sheet.blocks = {ZoneBand{words, words, Hatch::dense},
                  Heading{words, true},
                  Paragraph{text, true},
                  Step{"1", 0, true, false, {text}, text, text, words, {words}},
                  Frame{words, 0, true, text, {{words, text}, {"", text}}},
                  BranchMark{words, 1},
                  Step{words, 1, false, true, {}, text, {}, "", {}},
                  EndMark{text, 1},
                  Notice{text, 0, words},
                  BoxMark{words, words, text, true},
                  SayRow{words, 0, true, {text}, words, text, words, words, words, words, {text}},
                  TableHead{0},
                  TableRow{0, words, true, {text, text}},
                  Notice{text, 0, {}}};
  Control& c = sheet.control;
  for (std::string* field : {&c.kind, &c.title, &c.number, &c.version, &c.status, &c.in_force, &c.review_due, &c.owner, &c.approver, &c.variant, &c.verdict, &c.caution, &c.reminder, &c.watermark})
    *field = words;
  Captions& k = sheet.captions;
  for (std::string* caption : {&k.critical, &k.say, &k.hear, &k.act, &k.clock, &k.look_for, &k.if_not, &k.box, &k.breach, &k.check_words, &k.not_given}) *caption = words;
  k.for_variant = k.version = k.in_force = k.review_due = k.owner = k.approved_by = "x [value]";
  stamp(sheet);
  return sheet;
}

void add_words_of(const pugi::xml_node& node, std::string& words) {
  if (std::string(node.name()) == "style") return;
  if (node.type() == pugi::node_pcdata) words += node.value();
  if (std::string(node.name()) == "br") words += '\n';
  for (const pugi::xml_node& child : node.children()) add_words_of(child, words);
}

struct Read {
  pugi::xml_document document;
  std::string words;
  explicit Read(const std::string& bytes) {
    const pugi::xml_parse_result result = document.load_buffer(bytes.data(), bytes.size(), pugi::parse_default | pugi::parse_ws_pcdata);
    CHECK_MESSAGE(result, result.description());
    add_words_of(document, words);
  }
  pugi::xml_node html() const { return document.child("html"); }
};

}  // namespace

TEST_CASE("pages: words that look like markup stay words, wherever they stand") {
  for (const std::string& words : std::initializer_list<std::string>{"</style><script>alert(1)</script>", "]]>", "<!--", "-->", "&lt;&amp;&#60;", "\"' onload='x\"", "*/ } @import url(x); /*", "\\", "<![CDATA[", "[value]"}) {
    CAPTURE(words);
    const std::string bytes = xhtml::write(sheet_saying(words), {});
    const Read page(bytes);
    CHECK(count(page.words, words) >= 40);
    CHECK(count(bytes, "<script") == 0);
    CHECK(count(bytes, "</style") == 1);
    const std::string style = page.html().child("head").child("style").text().get();
    CHECK(style.find_first_of("<>&") == std::string::npos);
    CHECK((words == "\\" || !has(style, words)));  // every escape begins with that sign
    CHECK(count(style, "{") == count(style, "}"));
    CHECK(count(style, "\"") % 2 == 0);
  }
}

TEST_CASE("pages: signs that no file may hold are seen to be missing, and nothing behind them is lost") {
  const std::string no_text = "\xEF\xBF\xBD";
  // Well-formedness by XML 1.0, production [2] Char; the HTML standard's "control" and "noncharacter".
  for (const std::string& sign : {std::string("\x01"), std::string("\x0B"), std::string("\0", 1), std::string("\x7F"), std::string("\xC2\x85"), std::string("\xEF\xBF\xBE"),
                                 std::string("\xEF\xB7\x90"), std::string("\xF0\x9F\xBF\xBF"), std::string("\xFF"), std::string("\xC3")}) {
    CAPTURE(sign);
    CHECK(xhtml::clean("a" + sign + "b") == "a" + no_text + "b");
    const std::string bytes = xhtml::write(sheet_saying("a" + sign + "b"), {});
    const Read page(bytes);
    CHECK(count(page.words, "a" + no_text + "b") >= 40);
    CHECK(!has(bytes, "a" + sign + "b"));
  }
  CHECK(xhtml::clean("a\r\nb\rc\td") == "a\nb\nc\td");
  CHECK(xhtml::clean("\xED\xA0\x80") == no_text + no_text + no_text);
  // What is text in any script stays as it is.
  const std::string scripts = "é ß ж 手指 ידיים أيدي हाथ 🧤 e\xCC\x81 \xC2\xA0 \xE2\x80\x8F";
  CHECK(xhtml::clean(scripts) == scripts);
  CHECK(count(Read(xhtml::write(sheet_saying(scripts), {})).words, scripts) >= 40);
}

TEST_CASE("pages: no element but the empty ones of HTML is written as empty, since a browser would leave it open") {
  Sheet sheet = sheet_saying("");
  const std::string bytes = xhtml::write(sheet, {});
  for (std::size_t end = bytes.find("/>"); end != std::string::npos; end = bytes.find("/>", end + 1)) {
    const std::size_t begin = bytes.rfind('<', end);
    const std::string name = bytes.substr(begin + 1, bytes.find_first_of(" /", begin + 1) - begin - 1);
    CAPTURE(name);
    CHECK((name == "meta" || name == "br" || name == "col" || name == "rect" || name == "path"));
  }
  CHECK(bytes.rfind("<!DOCTYPE html>", 0) == 0);
}

TEST_CASE("pages: line breaks of a cell are kept") {
  const Read page(xhtml::write(sheet_saying("one\ntwo"), {}));
  CHECK(count(page.words, "one\ntwo") >= 40);
}

TEST_CASE("pages: a page fetches nothing and runs nothing") {
  const std::string bytes = xhtml::write(sheet_saying("words"), {});
  for (const char* part : {"src=", "<link", "<script", "@import", "url(", "href=\"http"}) CHECK_MESSAGE(!has(bytes, part), part);
  CHECK(has(bytes, "default-src 'none'"));
}

TEST_CASE("pages: a step can be reached by its label, the first one where a label stands twice") {
  Sheet sheet;
  const Step step{"3a", 0, false, false, {}, {{"go on at 9, or at ", false, ""}, {" 3a", true, "3a"}, {"9", true, "9"}}, {}, "", {}};
  sheet.blocks = {step, step};
  const Read page(xhtml::write(sheet, {}));
  const pugi::xml_node list = page.html().child("body").child("main").child("ul");
  const pugi::xml_node first = list.child("li"), second = first.next_sibling("li");
  CHECK(std::string(first.child("div").attribute("id").value()) == "at-3a");
  CHECK(!second.child("div").attribute("id"));
  const pugi::xml_node act = first.child("div").find_child_by_attribute("class", "body").child("p");
  CHECK(std::string(act.child("a").attribute("href").value()) == "#at-3a");
  // The blank stands in front of the link; what is not on this sheet is no link.
  CHECK(std::string(act.child("a").child("strong").text().get()) == "3a");
  CHECK(std::distance(act.children("a").begin(), act.children("a").end()) == 1);
  CHECK(xhtml::id_of("B1.1 é\"") == "at-B1.1_20_c3_a9_22");
}

TEST_CASE("pages: branches are lists inside of the item that they hang on") {
  const auto step = [](const char* label, Level level) { return Step{label, level, false, false, {}, {{"ACT", true, ""}}, {}, "", {}}; };
  Sheet sheet;
  sheet.blocks = {step("1", 0), BranchMark{"Q1: YES", 1}, step("1a", 1), BranchMark{"Q2: YES", 2}, step("1a1", 2), step("1b", 1), BranchMark{"Q1: NO", 1}, step("1c", 1), step("2", 0)};
  const Read page(xhtml::write(sheet, {}));
  const pugi::xml_node trunk = page.html().child("body").child("main").child("ul");
  CHECK(std::distance(trunk.children("li").begin(), trunk.children("li").end()) == 2);
  const pugi::xml_node item = trunk.child("li");
  CHECK(std::distance(item.children("ul").begin(), item.children("ul").end()) == 2);
  CHECK(std::distance(item.children("p").begin(), item.children("p").end()) == 2);
  const pugi::xml_node branch = item.child("ul");
  CHECK(std::distance(branch.children("li").begin(), branch.children("li").end()) == 2);
  CHECK(branch.child("li").child("ul").child("li"));
}

TEST_CASE("pages: languages that are written from right to left say so") {
  for (const char* tag : {"ar", "AR-EG", "he", "fa", "ur", "ps-AF", "az-Arab", "yi"}) CHECK_MESSAGE(reads_right_to_left(tag), tag);
  for (const char* tag : {"en", "es", "und", "ur-Latn", "hi", "zh-Hant", "arn", ""}) CHECK_MESSAGE(!reads_right_to_left(tag), tag);
  Sheet sheet = sheet_saying("ידיים");
  CHECK(!Read(xhtml::write(sheet, {})).html().attribute("dir"));
  sheet.control.language = "he";
  const Read page(xhtml::write(sheet, {}));
  CHECK(std::string(page.html().attribute("dir").value()) == "rtl");
  CHECK(std::string(page.html().attribute("lang").value()) == "he");
  CHECK(std::string(page.html().attribute("xml:lang").value()) == "he");
}

TEST_CASE("pages: a table has heads for its columns and its rows, and words that run across belong to the rows below") {
  const Read page(xhtml::write(sheet_saying("words"), {}));
  const pugi::xml_node table = page.document.select_node("//table").node();
  CHECK(table.attribute("aria-labelledby"));
  CHECK(page.document.select_nodes("//thead//th[@scope='col']").size() == 5);
  CHECK(page.document.select_nodes("//tbody//th[@scope='row']").size() == 1);
  const pugi::xml_node across = page.document.select_node("//th[@scope='rowgroup']").node();
  CHECK(std::string(across.attribute("colspan").value()) == "5");
}

TEST_CASE("pages: OVERDUE and SET ASIDE stand with their reasons in the head, in the title and on every printed face") {
  Sheet sheet = sheet_saying("words");
  sheet.control.watermark = "DRAFT";
  sheet.control.marks = {{"OVERDUE", "The review was due.", false}, {"SET ASIDE", "See the sign-off page."}};
  const Read page(xhtml::write(sheet, {}));
  CHECK(std::string(page.html().child("head").child("title").text().get()).rfind("DRAFT · OVERDUE · SET ASIDE – ", 0) == 0);
  std::vector<std::string> words;
  for (const pugi::xpath_node& each : page.document.select_nodes("//header/p[@class='mark-why']")) words.push_back(each.node().child("strong").text().get() + std::string(each.node().last_child().value()));
  CHECK(words == std::vector<std::string>{"OVERDUE The review was due.", "SET ASIDE See the sign-off page."});
  CHECK(has(page.html().child("head").child("style").text().get(), "@top-center { content: \"DRAFT"));
}

TEST_CASE("pages: DRAFT stands above everything, in the title and on every printed face") {
  Sheet sheet = sheet_saying("words");
  sheet.control.watermark = "";
  sheet.captions.draft_mark = "DRAFT";
  CHECK(!has(xhtml::write(sheet, {}), "DRAFT"));
  xhtml::Options options;
  options.watermark_draft = true;
  const Read page(xhtml::write(sheet, options));
  CHECK(std::string(page.html().child("head").child("title").text().get()).rfind("DRAFT", 0) == 0);
  CHECK(std::string(page.html().child("body").child("header").child("p").text().get()) == "DRAFT");
  CHECK(has(page.html().child("head").child("style").text().get(), "@top-center { content: \"DRAFT\""));
}

TEST_CASE("pages: the date of a page can be read back, and no date out of its words") {
  xhtml::Options options;
  options.date = "2031-02-03";
  const std::string words = "<meta name=\"dcterms.date\" content=\"2099-01-01\">";
  CHECK(xhtml::day_of(xhtml::write(sheet_saying(words), options)) == "2031-02-03");
  CHECK(xhtml::day_of("") == "");
  CHECK(xhtml::day_of("%PDF-1.7 " + words) == "");
  CHECK(xhtml::day_of("<!DOCTYPE html><html><head></head><body>" + words) == "");
}

TEST_CASE("pages: printed faces have the size of their paper, and the margins of their kind") {
  Sheet sheet = sheet_saying("words");
  const auto style_on = [&](const char* paper) { return xhtml::styles(sheet, paper, ""); };
  CHECK(has(style_on("A4"), "size: 210mm 297mm; margin: 18mm 12mm 23mm 12mm;"));
  CHECK(has(style_on("letter"), "size: 8.5in 11in;"));
  CHECK(has(style_on("a5"), "size: 148mm 210mm;"));
  CHECK(has(style_on("A3"), "size: 297mm 420mm;"));
  CHECK(has(style_on("ID-1"), "size: 85.6mm 53.98mm;"));
  CHECK(has(style_on("papyrus"), "@page { margin: 18mm 12mm"));
  sheet.kind = SheetKind::script;
  CHECK(has(style_on("A5"), "size: 210mm 148mm; margin: 18mm 10mm 23mm 20mm;"));
  sheet.control.language = "he";  // the rings are on the other side
  CHECK(has(style_on("A5"), "size: 210mm 148mm; margin: 18mm 20mm 23mm 10mm;"));
  CHECK(has(style_on("A4"), "counter(page) \" / \" counter(pages)"));
}

TEST_CASE("pages: a step of a card has a box for a pen, one of a poster or a badge card has none") {
  Sheet sheet = sheet_saying("words");
  const auto boxes = [&](SheetKind kind) {
    sheet.kind = kind;
    return count(xhtml::write(sheet, {}), "class=\"tick\"");
  };
  const std::size_t of_the_table = 1;
  CHECK(boxes(SheetKind::card) == of_the_table + 2);
  CHECK(boxes(SheetKind::poster) == of_the_table);
  CHECK(boxes(SheetKind::badge) == of_the_table);
}

TEST_CASE("pages: a string of CSS ends where it should") {
  CHECK(xhtml::css_string("AMH-IP 12") == "\"AMH\\2d IP 12\"");
  CHECK(xhtml::css_string("a\"b\\c\n</style>") == "\"a\\22 b\\5c c\\a \\3c \\2f style\\3e \"");
  CHECK(xhtml::css_string("é") == "\"é\"");
}

TEST_CASE("square code: its finder pattern and quiet zone are where ISO/IEC 18004 puts them") {
  const SquareCode code = square_code("AMH-IP-012 2.0 0123456789ab");
  // Version 3 is the least that holds 27 bytes with level M (capacity 42 bytes): 29 modules, and 4 on each side.
  CHECK(code.width == 29 + 8);
  CHECK(code.runs.front().row == 4);
  CHECK(code.runs.front().column == 4);
  CHECK(code.runs.front().length == 7);
  for (const DarkRun& run : code.runs) CHECK((run.column >= 4 && run.column + run.length <= code.width - 4));
  CHECK(square_code("").width == 0);
  CHECK(square_code(std::string(4000, 'x')).width == 0);
}
