// The grammar as a piece of text of its own: it is sound, and the samples below enter every rule of it. What PEGTL makes
// of several hundred rules for these two questions takes a compiler minutes, so they stand alone and are asked once.
#include <doctest/doctest.h>

#include <map>
#include <string>

#include <tao/pegtl.hpp>
#include <tao/pegtl/contrib/analyze.hpp>
#include <tao/pegtl/contrib/coverage.hpp>

#include "ward.hpp"

using namespace stepward;
namespace pegtl = tao::pegtl;

namespace {

/// One sample line for every head and end of the keyword list, and for each form of a token.
std::string sample_of_everything() {
  std::string text =
      "\xEF\xBB\xBF\n# a remark before the first line\n  stepward 1 protocol # and one behind it\n"
      "2.  words on gloves \"straight\", \xE2\x80\x9C" "curly\xE2\x80\x9D, \xE2\x80\x9Elow\xE2\x80\x9C, "
      "\xE2\x80\x9Dright\xE2\x80\x9D, \"half curly\xE2\x80\x9D\n"
      "mix 1:10, 0,5, 0.5, 2031-03-15, 1.0.2, 12, nurse\xE2\x80\x99s caf\xC3\xA9 %\n"
      "\xE2\x80\xA2 plain words\n- plain words\n#only a remark\n\n   \n"
      "if not \"quoted\"\nsay \"never closed\n";
#define STEPWARD_HEAD(id, words, closes) text += std::string(words) + " x\nend " closes "\n";
#include "keywords.def"
  return text + "no line end";
}

/// How often each rule matched when `text` was read.
pegtl::coverage_result read_with_coverage(const std::string& text) {
  pegtl::coverage_result result;
  pegtl::memory_input<> input(text, "sample");
  CHECK(pegtl::coverage<grammar::file>(input, result));
  return result;
}

}  // namespace

TEST_CASE("grammar: no rule can read nothing for ever") { CHECK(pegtl::analyze<grammar::file>(-1) == 0); }

TEST_CASE("grammar: the samples enter and match every rule") {
  const pegtl::coverage_result result = read_with_coverage(sample_of_everything());
  std::size_t rules = 0;
  for (const auto& [name, counts] : result) {
    if (name.find("stepward::grammar::") != 0) continue;
    // `plain` stands in the keyword list without words: it is what no head opens, and its rules can never match.
    // Lines have no `end` of their own, so their closing rules cannot match either.
    const bool without_words = name.find("keyword<stepward::grammar::FixedText<1>") != std::string_view::npos ||
                               name.find("_plain") != std::string_view::npos;
    if (name.find("after_head<stepward::grammar::FixedText<1>") != std::string_view::npos) continue;
    ++rules;
    CAPTURE(std::string(name));
    CHECK(counts.start > 0);
    const bool closing_of_a_line = name.find("closing_") != std::string_view::npos;
    if (!without_words && !closing_of_a_line) CHECK(counts.success > 0);
  }
  CHECK(rules > 300);
}

TEST_CASE("grammar: every end of the keyword list is read as what it closes") {
  const pegtl::coverage_result result = read_with_coverage(sample_of_everything());
  std::map<std::string_view, std::size_t> expected;
#define STEPWARD_HEAD(id, words, closes) \
  if (!std::string_view(closes).empty()) expected[pegtl::demangle<grammar::closing_##id>()] = 1;
#include "keywords.def"
  for (const auto& [name, times] : expected) {
    CAPTURE(std::string(name));
    CHECK(result.at(name).success >= times);
  }
}
