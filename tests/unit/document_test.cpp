// The page-neutral document: digest, check words, plain text.
#include <doctest/doctest.h>

#include <set>

#include "emit/document/check_words.hpp"
#include "emit/document/digest.hpp"
#include "emit/document/document.hpp"

using namespace stepward::emit;

TEST_CASE("digest: the published test vectors of SHA-256") {
  CHECK(short_hash(sha256("abc"), 32) == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(short_hash(sha256(""), 32) == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  CHECK(short_hash(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"), 32) ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  CHECK(short_hash(sha256(std::string(1000000, 'a')), 4) == "cdc76e5c");
}

TEST_CASE("check words: 256 different, short, plain words") {
  std::set<std::string_view> words;
  for (int i = 0; i < 256; ++i) {
    const std::string_view word = check_word(static_cast<std::uint8_t>(i));
    words.insert(word);
    CHECK(word.size() >= 4);
    CHECK(word.size() <= 8);
    for (const char c : word) CHECK((c >= 'a' && c <= 'z'));
  }
  CHECK(words.size() == 256);
}

TEST_CASE("check words: four of them, changed by any printed word, not by the verdict") {
  Sheet sheet;
  sheet.control.number = "TST-01";
  sheet.control.version = "1.2";
  sheet.blocks = {Heading{"Arrive"}, Step{"1", 0, false, false, {}, {{"STAND", true, ""}}, {}, "", {}}};
  stamp(sheet);
  Sheet other = sheet;
  other.control.verdict = "checked against 3 rules";
  stamp(other);
  CHECK(other.control.check_words == sheet.control.check_words);
  std::get<Step>(other.blocks[1]).clock = "1 min";
  stamp(other);
  CHECK(other.control.check_words != sheet.control.check_words);
  CHECK(sheet.control.code.rfind("TST-01 1.2 ", 0) == 0);
  CHECK(sheet.control.code.size() == std::string("TST-01 1.2 ").size() + 12);
}

TEST_CASE("plain text: every field of every kind of block is in it") {
  Sheet sheet;
  Step step;
  step.label = "l1";
  step.act = {{"a1", true, ""}};
  step.manner = {{"m1", false, ""}};
  step.clock = "c1";
  step.side = {"s1"};
  step.warnings = {{{"w1", false, ""}}};
  SayRow row;
  row.label = "l2";
  row.say = "y2";
  row.act = {{"a2", false, ""}};
  row.hear = "h2";
  row.look_for = "k2";
  row.clock = "c2";
  row.if_not = "n2";
  row.warnings = {{{"w2", false, ""}}};
  row.remarks = {{{"r2", false, ""}}};
  Frame frame{"l3", 0, true, {{"q3", true, ""}}, {{"YES", {{"t3", false, ""}}}}};
  sheet.blocks = {ZoneBand{"z0", "risk0", Hatch::none},
                  Heading{"h0"},
                  step,
                  row,
                  frame,
                  Notice{{{"o4", false, ""}}, 0, "l4"},
                  BranchMark{"b5", 1},
                  BoxMark{"l6", "t6", {{"w6", false, ""}}, false},
                  EndMark{{{"e7", false, ""}}, 0},
                  Paragraph{{{"p8", false, ""}}, false},
                  TableHead{0},
                  TableRow{0, "l9", true, {{{"td9", false, ""}}}}};
  sheet.tables = {{{Column::What::words, "th9", 1}}};
  const std::string text = plain_text(sheet);
  for (const char* word :
       {"z0", "risk0", "h0", "l1", "a1",  "m1", "c1", "s1", "w1", "l2", "y2", "a2", "h2", "k2",  "c2", "n2",
        "w2", "r2",    "l3", "q3", "YES", "t3", "o4", "l4", "b5", "l6", "t6", "w6", "e7", "p8", "th9", "l9", "td9"}) {
    CHECK_MESSAGE(text.find(word) != std::string::npos, word);
  }
}
