// Findings in order, on a terminal and as JSON.
#include <doctest/doctest.h>

#include <string>

#include "diagnostics/render.hpp"

using namespace stepward;
using diagnostics::Code;

namespace {

struct Sample {
  source::Files files;
  source::FileId file;
  diagnostics::Sink sink;

  explicit Sample(std::string text) { file = files.add("exit.ward", std::move(text)); }
  source::Span find(std::string_view words) const {
    const auto at = static_cast<std::uint32_t>(files.text(file).find(words));
    return {file, at, at + static_cast<std::uint32_t>(words.size())};
  }
};

}  // namespace

TEST_CASE("text: headline, source line, caret and fix stand as in the manual") {
  Sample sample("phase \"Apron\"\n  end if\nend phase\n");
  const auto finding = diagnostics::make(Code::L302, sample.find("end if"), {"if"});
  CHECK(diagnostics::as_text(finding, sample.files) ==
        "error L302 exit.ward:2:3  nothing is open that \"end if\" could close\n"
        "   2 |   end if\n"
        "     |   ^^^^^^\n");
}

TEST_CASE("text: the caret counts cells, so wide letters and tabs do not move it") {
  Sample sample("\tsay \xE6\x89\x8B caf\xC3\xA9 %\n");
  const auto finding = diagnostics::make(Code::L202, sample.find("%"), {"\"%\""});
  const std::string text = diagnostics::as_text(finding, sample.files);
  CHECK(text.find("exit.ward:1:13  ") != std::string::npos);
  CHECK(text.find("   1 |  say \xE6\x89\x8B caf\xC3\xA9 %\n     |              ^\n") != std::string::npos);
}

TEST_CASE("text: a span over several lines is marked on its first line only") {
  Sample sample("one two\nthree\n");
  auto finding = diagnostics::make(Code::L202, {sample.file, 4, 13}, {"x"});
  CHECK(diagnostics::as_text(finding, sample.files).find("     |     ^^^\n") != std::string::npos);
}

TEST_CASE("text: a finding at the end of the file still has a caret") {
  Sample sample("ab");
  auto finding = diagnostics::make(Code::L202, {sample.file, 2, 2}, {"x"});
  CHECK(diagnostics::as_text(finding, sample.files).find("   1 | ab\n     |   ^\n") != std::string::npos);
}

TEST_CASE("text: a very long line is cut to what stands around the mark") {
  Sample sample(std::string(5000, 'a') + " qqqq " + std::string(5000, 'b') + "\n");
  const std::string text =
      diagnostics::as_text(diagnostics::make(Code::L202, sample.find("qqqq"), {"x"}), sample.files);
  CHECK(text.size() < 600);
  CHECK(text.find("exit.ward:1:5002") != std::string::npos);
  const std::size_t line = text.find("   1 | ");
  const std::size_t caret = text.find("^^^^");
  const std::size_t second = text.find('\n', line) + 1;
  CHECK(text.find("qqqq") - line - 2 == caret - second);  // the mark of the cut takes three bytes and one cell
}

TEST_CASE("text: bytes that are no text are shown as question marks") {
  Sample sample("zone caf\xE9 x\n");
  const std::string text =
      diagnostics::as_text(diagnostics::make(Code::L113, {sample.file, 8, 9}, {"9"}), sample.files);
  CHECK(text.find("   1 | zone caf? x\n     |         ^\n") != std::string::npos);
}

TEST_CASE("text: story, reason, source and company of a finding are told in this order") {
  Sample sample("take off coverall\n");
  auto finding = diagnostics::make(Code::L202, sample.find("coverall"), {"x"});
  finding.story = {{"", "observer inspects suit: soil found", false}, {"", "soil cleaned", true}};
  finding.because = "A reason.";
  finding.source = "read: a page";
  finding.shared = "4 of 6 variants";
  finding.also = {{Code::L201, finding.at, {}}};
  finding.places.push_back({sample.find("take"), "opened here"});
  finding.fix = "do this";
  const std::string text = diagnostics::as_text(finding, sample.files);
  std::size_t from = 0;
  for (const char* part : {"   see   line 1: opened here\n", "   hint  ",
                           "   story 1 observer inspects suit: soil found   here: soil cleaned\n",
                           "   where 4 of 6 variants\n", "   because A reason.\n", "   source read: a page\n",
                           "   also  here: ", "   fix   do this\n"}) {
    CAPTURE(part);
    const std::size_t at = text.find(part, from);
    REQUIRE(at != std::string::npos);
    from = at;
  }
}

TEST_CASE("text: a long story takes a line for each step") {
  Sample sample("x\n");
  auto finding = diagnostics::make(Code::L202, sample.find("x"), {"x"});
  for (int i = 0; i < 3; ++i) finding.story.push_back({"", std::string(40, 'a'), false});
  CHECK(diagnostics::as_text(finding, sample.files).find("\n         3 aaaa") != std::string::npos);
}

TEST_CASE("text: colour is only there when it is asked for") {
  Sample sample("x\n");
  const auto finding = diagnostics::make(Code::L202, sample.find("x"), {"x"});
  CHECK(diagnostics::as_text(finding, sample.files).find('\x1b') == std::string::npos);
  CHECK(diagnostics::as_text(finding, sample.files, {true}).find("\x1b[1;31merror L202") == 0);
}

TEST_CASE("text: a finding without a place shows its sentences alone") {
  const source::Files files;
  const auto finding = diagnostics::make(Code::L111, {});
  CHECK(diagnostics::as_text(finding, files).find("error L111  the file is empty\n") == 0);
}

TEST_CASE("order: by file, line, code and column") {
  source::Files files;
  const source::FileId first = files.add("a", "x y\nz\n");
  const source::FileId second = files.add("b", "x\n");
  diagnostics::Sink sink;
  for (const auto& [code, file, at] : {std::tuple{Code::L201, second, 0u}, {Code::L201, first, 4u},
                                       {Code::L202, first, 0u}, {Code::L201, first, 2u}}) {
    sink.push_back(diagnostics::make(code, {file, at, at + 1}));
  }
  diagnostics::sort(sink, files);
  CHECK(sink[0].at.begin == 2);
  CHECK(sink[1].code == Code::L202);
  CHECK(sink[2].at.begin == 4);
  CHECK(sink[3].at.file == second);
}

TEST_CASE("json: counts, facts and places are there under their names") {
  Sample sample("one\ntwo \"x\n");
  sample.sink.push_back(diagnostics::make(Code::L201, sample.find("\"x"), {"x"}));
  sample.sink.push_back(diagnostics::make(Code::L307, sample.find("one"), {"if"}));
  const std::string json = diagnostics::as_json(
      sample.sink, sample.files, {{"variants", std::int64_t{6}}, {"complete", true}, {"title", std::string("Exit")}});
  for (const char* part : {"\"format\": \"stepward findings\"", "\"error\": 1", "\"warning\": 1", "\"note\": 0",
                           "\"variants\": 6", "\"complete\": true", "\"title\": \"Exit\"", "\"code\": \"L201\"",
                           "\"name\": \"quote_not_closed\"", "\"line\": 2", "\"column\": 5", "\"end_column\": 7",
                           "\"file\": \"exit.ward\""}) {
    CAPTURE(part);
    CHECK(json.find(part) != std::string::npos);
  }
  CHECK(json ==
        diagnostics::as_json(sample.sink, sample.files,
                             {{"variants", std::int64_t{6}}, {"complete", true}, {"title", std::string("Exit")}}));
}

TEST_CASE("json: bytes that are no text do not end the program") {
  source::Files files;
  const source::FileId file = files.add("bad\xFFname", "x");
  const diagnostics::Sink sink{diagnostics::make(Code::L113, {file, 0, 1}, {"1"})};
  CHECK(diagnostics::as_json(sink, files).find("\"L113\"") != std::string::npos);
}
