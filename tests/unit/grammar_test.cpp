// The grammar as a piece of text of its own: it is sound, and the samples below enter every rule of it.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>

#include <tao/pegtl.hpp>
#include <tao/pegtl/contrib/analyze.hpp>
#include <tao/pegtl/contrib/coverage.hpp>

#include "errors.hpp"
#include "ward.hpp"

using namespace stepward;
namespace pegtl = tao::pegtl;

namespace {

/// One sample line for every head, reserved head and end of the keyword list, and for each form of a token.
std::string sample_of_everything() {
  std::string text =
      "\xEF\xBB\xBF\n# a remark before the first line\n  stepward 1 protocol # and one behind it\n"
      "2.  words on gloves \"straight\", \xE2\x80\x9C" "curly\xE2\x80\x9D, \xE2\x80\x9Elow\xE2\x80\x9C, "
      "\xE2\x80\x9Dright\xE2\x80\x9D, \"half curly\xE2\x80\x9D\n"
      "mix 1:10, 0,5, 0.5, 2031-03-15, 1.0.2, 12, nurse\xE2\x80\x99s caf\xC3\xA9 %\n"
      "\xE2\x80\xA2 plain words\n- plain words\n#only a remark\n\n   \n"
      "if not \"quoted\"\nsay \"never closed\n";
#define STEPWARD_HEAD(id, words, closes) text += std::string(words) + " x\nend " closes "\n";
#define STEPWARD_RESERVED(words, closes) text += std::string(words) + " x\nend " closes "\n";
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
    // Lines and reserved lines have no `end` of their own, so their closing rules cannot match either.
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

TEST_CASE("grammar: every file of the library and the examples is read to its end") {
  std::size_t files = 0;
  for (const char* folder : {"stdlib-procedures", "examples"}) {
    const std::filesystem::path root = std::filesystem::path(STEPWARD_SOURCE_DIR) / folder;
    if (!std::filesystem::exists(root)) continue;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(root)) {
      if (entry.path().extension() != ".ward") continue;
      pegtl::file_input<> input(entry.path());
      CAPTURE(entry.path().string());
      CHECK(pegtl::parse<grammar::file>(input));
      CHECK(input.empty());
      ++files;
    }
  }
  CHECK(files > 0);
}

TEST_CASE("keywords: any case, any blanks, and only whole words") {
  using grammar::keyword_length;
  CHECK(keyword_length("body site", "Body \xC2\xA0\tSITE eyes") == 12);
  CHECK(keyword_length("body site", "bodysite") == 0);
  CHECK(keyword_length("test", "tests") == 0);
  CHECK(keyword_length("title", "title\"x\"") == 5);
  CHECK(keyword_length("title", "title\xE2\x80\x9Cx") == 5);
  CHECK(keyword_length("kind", "kind-hearted") == 0);
  CHECK(keyword_length("say", "say\xE2\x80\x99s") == 0);
  CHECK(keyword_length("before starting, have", "before starting, have") == 21);
  CHECK(keyword_length("", "anything") == 0);
}

TEST_CASE("keywords: a shorter head in front of a longer one is noticed") {
  CHECK(grammar::keeps_longest_first(std::array<std::string_view, 2>{"if not", "if"}));
  CHECK_FALSE(grammar::keeps_longest_first(std::array<std::string_view, 2>{"if", "if not"}));
  CHECK(grammar::keeps_longest_first(std::array<std::string_view, 2>{"test", "tests"}));
}

TEST_CASE("error points: each has the code of its finding") {
  using namespace grammar;
  CHECK(is_error_point<unclosed_quote>);
  CHECK(is_error_point<odd_character>);
  CHECK(is_error_point<decimal_comma>);
  CHECK_FALSE(is_error_point<word>);
  CHECK(finding_of<unclosed_quote>::code == diagnostics::Code::L201);
}
