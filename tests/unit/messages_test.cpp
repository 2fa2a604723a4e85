// Every code has sentences, and the sentences keep the rules of the house.
#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>

#include "diagnostics/diagnostic.hpp"
#include "wording/messages.hpp"
#include "wording/story.hpp"

using namespace stepward;

TEST_CASE("messages: every code has a headline in the house style") {
  for (std::size_t i = 0; i < diagnostics::code_count(); ++i) {
    const auto code = static_cast<diagnostics::Code>(i);
    CAPTURE(diagnostics::code_name(code));
    const wording::Message* message = wording::message_of(code);
    CHECK(message != nullptr);
    if (message == nullptr) continue;
    const std::string headline(message->headline);
    REQUIRE_FALSE(headline.empty());
    CHECK(wording::count_words(headline) <= 12);
    CHECK_FALSE(std::isupper(static_cast<unsigned char>(headline.front())));
    CHECK(headline.back() != '.');
    CHECK(headline.back() != '!');
  }
}

TEST_CASE("messages: no sentence speaks of the program's own parts") {
  for (std::size_t i = 0; i < diagnostics::code_count(); ++i) {
    const auto code = static_cast<diagnostics::Code>(i);
    CAPTURE(diagnostics::code_name(code));
    const wording::Message* message = wording::message_of(code);
    CHECK(message != nullptr);
    if (message == nullptr) continue;
    for (const char* word : {"token", "syntax", "parse", "identifier", "invalid", "illegal", "unexpected", "node"}) {
      CHECK(message->headline.find(word) == std::string_view::npos);
      CHECK(message->hint.find(word) == std::string_view::npos);
      CHECK(message->fix.find(word) == std::string_view::npos);
    }
  }
}

TEST_CASE("messages: gaps are filled in any order and a missing argument shows") {
  CHECK(wording::fill("{1} before {0}", {"gloves", "apron"}) == "apron before gloves");
  CHECK(wording::fill("only {2}", {"one"}) == "only …");
  CHECK(wording::fill("{x} {", {"one"}) == "{x} {");
  CHECK(wording::fill("{0}", {"{0}"}) == "{0}");
}

TEST_CASE("messages: a caption is looked up by its key or shown as it is") {
  CHECK(wording::caption("needed before", {}) == "it must be closed before this line");
  CHECK(wording::caption("soil found", {}) == "soil found");
}

TEST_CASE("codes: names and codes lead to each other") {
  for (std::size_t i = 0; i < diagnostics::code_count(); ++i) {
    const auto code = static_cast<diagnostics::Code>(i);
    diagnostics::Code found{};
    CHECK(diagnostics::parse_code(diagnostics::code_name(code), found));
    CHECK(found == code);
  }
  diagnostics::Code none{};
  CHECK_FALSE(diagnostics::parse_code("L1", none));
  CHECK_FALSE(diagnostics::parse_code("", none));
}

TEST_CASE("codes: a finding starts with the severity of its code") {
  CHECK(diagnostics::make(diagnostics::Code::L307, {}).severity == diagnostics::Severity::warning);
  CHECK(diagnostics::make(diagnostics::Code::L201, {}).severity == diagnostics::Severity::error);
}
