// All cuts of a phrase, the coarser ones preferred, two that differ refused.

#include <doctest/doctest.h>

#include <deque>
#include <sstream>

#include "resolve/cutting.hpp"

namespace {

using namespace stepward;
using resolve::NameClass;

/// Words become word tokens, "," a comma, digits a number.
std::vector<syntax::Token> tokens(const std::string& line) {
  std::vector<syntax::Token> list;
  std::istringstream in(line);
  std::uint32_t at = 0;
  for (std::string word; in >> word;) {
    syntax::Token token;
    token.kind = word == ","                                                 ? syntax::TokenKind::comma
                 : word.find_first_not_of("0123456789") == std::string::npos ? syntax::TokenKind::number
                                                                             : syntax::TokenKind::word;
    token.text = token.written = word;
    token.span = {source::FileId{0u}, at, at + static_cast<std::uint32_t>(word.size())};
    at += static_cast<std::uint32_t>(word.size()) + 1;
    list.push_back(token);
  }
  return list;
}

struct Table {
  resolve::NameTable names;
  std::deque<resolve::Frame> kept;
  std::uint32_t count = 0;
  void item(const char* name) { names.add(name, {NameClass::item, count++}, {}); }
  void surface(const char* name) { names.add(name, {NameClass::surface, 0}, {}); }
  void technique(const char* name) { names.add(name, {NameClass::technique, count++}, {}); }

  std::vector<std::string> readings(const std::string& frame, const std::string& line) {
    const resolve::Frame compiled(names, {}, frame);
    const auto phrase = tokens(line);
    resolve::Cutter cutter(names);
    std::vector<std::string> shown;
    for (const auto& reading : cutter.cut(resolve::Phrase(names, phrase), 0, compiled).readings) {
      shown.push_back(resolve::shown_with_bars(reading, phrase));
    }
    return shown;
  }
  /// The words of the answer point into their frame, so the table keeps it.
  resolve::Stop stop(const std::string& frame, const std::string& line) {
    const resolve::Frame& compiled = kept.emplace_back(names, resolve::Shapes{}, frame);
    const auto phrase = tokens(line);
    resolve::Cutter cutter(names);
    return cutter.cut(resolve::Phrase(names, phrase), 0, compiled).stop;
  }
};

constexpr const char* removal = "[<part:surface> of] <x:item> [using <technique>]";
using Readings = std::vector<std::string>;

}  // namespace

TEST_CASE("a name may hold joining words, and no cut is greedy") {
  Table table;
  table.item("hood");
  table.technique("gather from behind");
  table.technique("gather");
  CHECK(table.readings(removal, "hood using gather from behind") == Readings{"hood | using | gather from behind"});
  table.item("hood using tape");
  CHECK(table.readings(removal, "hood using gather") == Readings{"hood | using | gather"});
  CHECK(table.readings(removal, "hood using tape") == Readings{"hood using tape"});
}

TEST_CASE("a name that takes more words in the same place is meant") {
  Table table;
  table.surface("front");
  table.item("hood");
  table.item("front of hood");
  CHECK(table.readings(removal, "front of hood") == Readings{"front of hood"});
}

TEST_CASE("two readings with different cuts both stay") {
  Table table;
  table.surface("left");
  table.surface("left of outer");
  table.item("layer");
  table.item("outer of layer");
  CHECK(table.readings(removal, "left of outer of layer").size() == 2);
}

TEST_CASE("a phrase is cut completely or not at all, and the first word no cut can pass is known") {
  Table table;
  table.item("outer gloves");
  table.technique("peel");
  CHECK(table.readings(removal, "outer gloves using").empty());
  CHECK(table.stop(removal, "outer gloves using").position == 3);
  CHECK(table.stop(removal, "outer gloves using").classes == resolve::only(NameClass::technique));
  const auto unknown = table.stop(removal, "outer glovs using peel");
  CHECK(unknown.position == 0);
  CHECK(unknown.classes == (resolve::only(NameClass::item) | resolve::only(NameClass::surface)));
  CHECK(table.stop(removal, "outer gloves quickly").position == 2);
  CHECK(table.stop(removal, "outer gloves quickly").words == std::vector<std::string_view>{"using"});
}

TEST_CASE("frames know alternatives, repetition, numbers and labels") {
  Table table;
  table.item("gown");
  table.item("mask");
  CHECK(table.readings("<n:NUMBER> <x:item> (, <x:item>)*", "2 gown , mask , gown") ==
        Readings{"2 | gown | , | mask | , | gown"});
  CHECK(table.readings("{a=is/are} worn | <w:WORDS> only", "are worn") == Readings{"are | worn"});
  CHECK(table.readings("{a=is/are} worn | <w:WORDS> only", "a free name only") == Readings{"a free name | only"});
  CHECK(table.readings("<w:WORDS>", "one two three four five six seven").empty());
  CHECK(table.readings("<w:WORDS>", "one of two").empty());
  CHECK(table.readings("<w:ANY>", "one of two") == Readings{"one of two"});
}

TEST_CASE("shapes are put in with their prefix") {
  Table table;
  table.item("gown");
  resolve::Shapes shapes{{"thing", "<x:item>"}, {"pair", "$thing(a.) and $thing(b.)"}};
  const resolve::Frame frame(table.names, shapes, "$pair(first.)");
  const auto phrase = tokens("gown and gown");
  resolve::Cutter cutter(table.names);
  const auto cut = cutter.cut(resolve::Phrase(table.names, phrase), 0, frame);
  REQUIRE(cut.readings.size() == 1);
  CHECK(cut.readings[0].has("first.a.x"));
  CHECK(cut.readings[0].has("first.b.x"));
}

TEST_CASE("parameters count only where they are bound") {
  resolve::NameTable names;
  names.add("place", {NameClass::parameter, 7}, {});
  const resolve::Frame frame(names, {}, "<x:item,parameter>");
  const auto phrase = tokens("place");
  resolve::Cutter cutter(names);
  CHECK(cutter.cut(resolve::Phrase(names, phrase), 0, frame).readings.empty());
  CHECK(cutter.cut(resolve::Phrase(names, phrase), 0, frame, {7}).readings.size() == 1);
}

TEST_CASE("names near to a misspelt one are found by letters and by words") {
  resolve::NameTable names;
  for (const char* name : {"outer gloves", "inner gloves", "coverall", "plastic apron"})
    names.add(name, {NameClass::item, 0}, {});
  names.add("coveralls rack", {NameClass::spot, 0}, {});
  const auto items = resolve::only(NameClass::item);
  CHECK(resolve::nearest_name(names, "coverral", items) == "coverall");
  CHECK(resolve::nearest_name(names, "gloves outer", items) == "outer gloves");
  CHECK(resolve::nearest_name(names, "plastik aporn", items) == "plastic apron");
  CHECK_FALSE(resolve::nearest_name(names, "submarine", items).has_value());
  CHECK(resolve::distance("abcd", "abdc") == 1);
  CHECK(resolve::distance("outer gloves", "gloves outer") == 1);
}
