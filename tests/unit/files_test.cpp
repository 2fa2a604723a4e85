// Text, lines and columns.
#include <doctest/doctest.h>

#include "base/text.hpp"
#include "source/files.hpp"

using namespace stepward;

TEST_CASE("files: a byte-order mark and carriage returns are dropped") {
  source::Files files;
  const source::FileId id = files.add("a.ward", "\xEF\xBB\xBFone\r\ntwo\rthree");
  CHECK(files.text(id) == "one\ntwo\nthree");
  CHECK(files.line_count(id) == 3);
  CHECK(files.line_text(id, 2) == "two");
  CHECK(files.line_text(id, 4).empty());
}

TEST_CASE("files: positions count characters from one") {
  source::Files files;
  const source::FileId id = files.add("a.ward", "a\nca\xC3\xB1on x\n");
  CHECK(files.position(id, 0).line == 1);
  const source::Position x = files.position(id, 9);
  CHECK(x.line == 2);
  CHECK(x.column == 7);
  CHECK(files.position(id, 9999).line == 2);
  CHECK(files.line_count(id) == 2);
}

TEST_CASE("files: an empty file has one empty line") {
  source::Files files;
  const source::FileId id = files.add("a.ward", "");
  CHECK(files.line_count(id) == 1);
  CHECK(files.line_text(id, 1).empty());
  CHECK(files.position(id, 0).column == 1);
}

TEST_CASE("text: the first bad byte is found wherever it stands") {
  CHECK(text::first_bad_byte("plain") == std::string_view::npos);
  CHECK(text::first_bad_byte("caf\xC3\xA9") == std::string_view::npos);
  CHECK(text::first_bad_byte("ab\xFF") == 2);
  CHECK(text::first_bad_byte("ab\xC3") == 2);
  CHECK(text::first_bad_byte("\xED\xA0\x80") == 0);
}

TEST_CASE("text: folding ignores case, composition and the kind of apostrophe") {
  CHECK(text::fold("Outer-Gloves") == "outer-gloves");
  CHECK(text::fold("CAF\xC3\x89") == text::fold("cafe\xCC\x81"));
  CHECK(text::fold("nurse\xE2\x80\x99s") == "nurse's");
}

TEST_CASE("text: widths follow the terminal") {
  CHECK(text::display_width("abc") == 3);
  CHECK(text::display_width("caf\xC3\xA9") == 4);
  CHECK(text::display_width("\xE6\x89\x8B") == 2);
}

TEST_CASE("text: slips of typing are counted") {
  CHECK(text::edit_distance("gloves", "gloves") == 0);
  CHECK(text::edit_distance("gloevs", "gloves") == 1);
  CHECK(text::edit_distance("glove", "gloves") == 1);
  CHECK(text::edit_distance("", "abc") == 3);
}
