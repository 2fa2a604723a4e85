// What the grammar reads: the library, the examples, and keywords in every form.
#include <doctest/doctest.h>

#include <array>
#include <filesystem>
#include <string>

#include <tao/pegtl.hpp>

#include "errors.hpp"
#include "ward.hpp"

using namespace stepward;
namespace pegtl = tao::pegtl;

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
