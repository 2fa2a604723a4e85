// The pages of docs/findings/ hold what they promise: the failing example yields its code and no other error, what the
// page prints is what the tool prints, and the mended example is clean. They are the first regression tests of every
// check, and `stepward explain` shows them.
//
// With STEPWARD_RECORD=1 in the environment, what the tool prints is written into the pages instead of compared; a
// code that is missing or not expected fails all the same.

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "diagnostics/render.hpp"
#include "examples.hpp"
#include "story_lint.hpp"

using namespace stepward;
namespace fs = std::filesystem;

namespace {

const fs::path pages_folder = fs::path(STEPWARD_SOURCE_DIR) / "docs" / "findings";

std::vector<std::string> all_codes() {
  std::vector<std::string> codes;
  for (std::size_t i = 0; i < diagnostics::code_count(); ++i)
    codes.emplace_back(diagnostics::code_name(static_cast<diagnostics::Code>(i)));
  return codes;
}

/// Codes whose example yields other errors too, each with the reason why it cannot be otherwise.
const std::map<std::string, std::set<std::string>>& company() {
  static const std::map<std::string, std::set<std::string>> table = {
      {"F116", {"R101"}},  // what breaks in the order that is written
      {"F119", {"R101"}},  // what is broken in the order that is written
      {"F120", {"R101"}},
      {"F801", {"F102"}},  // what was not walked was not reached
      {"L305", {"F108"}},  // said once of the text and once of what it means
      {"L117", {"L302"}},  // the many mistakes
      {"N303", {"N302"}},  // what is given under another name is missing under its own
  };
  return table;
}

std::string repeated(const std::string& text, int times) {
  std::string out;
  for (int i = 0; i < times; ++i) out += text;
  return out;
}

/// What a protocol needs around its lines.
std::string framed(const std::string& head, const std::string& before, const std::string& lines) {
  return head + "use library standard \"team\"\n\n" + before +
         "people\n  wearer begins in exit area\n"
         "  wearer acts unless a line names someone else\nend people\n\nendings\n  clean exit is normal\nend "
         "endings\n\n"
         "phase \"Ask\"\n" +
         lines + "  finish as clean exit\nend phase\n";
}

/// Routines of which each calls the next one `times` times.
std::string chained_routines(const std::string& head, int routines, int times) {
  std::string text;
  for (int i = 1; i <= routines; ++i) {
    const std::string call = i < routines ? "  do layer " + std::to_string(i + 1) + "\n" : "  act \"Note it.\"\n";
    text += "routine layer " + std::to_string(i) + "\n" + repeated(call, times) + "end routine\n\n";
  }
  return framed(head, text, "  do layer 1\n");
}

/// Twenty answers that are all asked for at the end: a million situations.
std::string many_questions(const std::string& head) {
  std::string asked, answered;
  for (int i = 0; i < 20; ++i) {
    const std::string name = std::string("question ") + static_cast<char>('a' + i);
    asked += "  decide " + name + " as yes or no\n";
    answered += "  if " + name + " is no\n    act \"Note it.\"\n  end if\n";
  }
  return framed(head, "", asked + answered);
}

/// Thirteen choices of two values: 8 192 variants.
std::string many_choices(const std::string& head) {
  std::string choices, asked;
  for (int i = 0; i < 13; ++i) {
    const std::string letter(1, static_cast<char>('a' + i));
    choices += "  choice " + letter + " is first " + letter + " or second " + letter + "\n";
    asked += "  act \"Note it.\" only for first " + letter + "\n";
  }
  return framed(head, "variants\n" + choices + "end variants\n\n", asked);
}

/// More lines in a phase than are put into other orders, and a broken rule.
std::string long_phase(const std::string& head) {
  const std::string lines = "  act \"Close the bin.\"\n    known as bin shut\n" + repeated("  act \"Note it.\"\n", 31) +
                            "  act \"Wipe the shelf.\"\n    known as shelf wiped\n";
  return framed(head, "", lines) +
         "\nrule R1 the shelf first\n  before each wearer does bin shut\n  require wearer does shelf wiped\n"
         "  severity major\n  because \"The lid drips on the shelf.\"\n  source common practice\nend rule\n";
}

/// Codes that need more lines than a page should hold; the page says so, and its example is made here.
test::SourceFiles made_example(const std::string& code) {
  const std::string head = "document\n  title \"Large\"\n  number ASH-09\n  version 1.0\nend document\n\n";
  const std::string library = "stepward 1 library\n\n" + head;
  if (code == "F801") return {{"example.ward", many_questions("stepward 1 protocol\n\n" + head)}};
  if (code == "F120") return {{"example.ward", long_phase("stepward 1 protocol\n\n" + head)}};
  if (code == "F107") return {{"example.ward", chained_routines("stepward 1 protocol\n\n" + head, 17, 2)}};
  if (code == "F108") return {{"example.ward", chained_routines("stepward 1 protocol\n\n" + head, 70, 1)}};
  if (code == "N125")
    return {{"example.ward", library + "kind gloves\nzone store\n  risk low\n  needs gloves" +
                                 repeated(", gloves", 250) + "\nend zone\n"}};
  if (code == "L115") return {{"example.ward", library + std::string(std::size_t{65} << 20, '\n')}};
  if (code == "L117") return {{"example.ward", library + repeated("end if\n", 120)}};
  if (code == "L305")
    return {{"example.ward", library + "routine deep\n  decide ready as yes or no\n" +
                                 repeated("if ready is yes\n", 70) + repeated("end if\n", 70) + "end routine\n"}};
  if (code == "N201") return {{"another.ward", library}};
  if (code == "V109") return {{"example.ward", many_choices("stepward 1 protocol\n\n" + head)}};
  return {};
}

std::string shown(const test::Checked& checked) {
  std::string text = diagnostics::as_text(checked.findings, checked.files);
  while (!text.empty() && text.back() == '\n') text.pop_back();
  return text + "\n";
}

void check_failing(const std::string& code, const test::Checked& checked) {
  const auto company_of = company().find(code);
  bool found = false;
  for (const diagnostics::Diagnostic& d : checked.findings) {
    const std::string name(diagnostics::code_name(d.code));
    found = found || name == code;
    if (name == code || d.severity != diagnostics::Severity::error) continue;
    CAPTURE(name);
    CHECK_MESSAGE((company_of != company().end() && company_of->second.count(name) == 1),
                  "an error that the page is not about");
  }
  CHECK_MESSAGE(found, "the example does not yield its code");
}

void check_mended(const test::Checked& checked) {
  for (const diagnostics::Diagnostic& d : checked.findings) {
    CAPTURE(diagnostics::as_text(d, checked.files));
    CHECK_MESSAGE(d.severity == diagnostics::Severity::note, "the mended example is not clean");
  }
}

void lint_all(const test::Checked& checked) {
  for (const diagnostics::Diagnostic& d : checked.findings)
    for (const std::string& complaint : test::lint_story(d)) CHECK_MESSAGE(false, complaint);
}

void check_page(const std::string& code) {
  const fs::path path = pages_folder / (code + ".md");
  if (!fs::exists(path)) return;  // the case below tells which are missing
  const std::string text = test::read_file(path);
  const test::Page page = test::take_apart(text);
  const test::SourceFiles made = made_example(code);
  CHECK_MESSAGE((!page.failing.empty() || !made.empty()), "the page has no failing example");
  CHECK_MESSAGE(page.has_printed, "the page does not show what is printed");
  test::CheckOptions asked;
  asked.witness = page.witness;
  const test::Checked failing = test::check_sources(made.empty() ? page.failing : made, page.today, asked);
  check_failing(code, failing);
  lint_all(failing);
  if (!page.mended.empty()) {
    const test::Checked mended = test::check_sources(page.mended, page.today);
    check_mended(mended);
  }
  if (std::getenv("STEPWARD_RECORD")) {
    std::ofstream(path, std::ios::binary)
        << text.substr(0, page.printed_begin) << shown(failing) << text.substr(page.printed_end);
  } else {
    CHECK(page.printed == shown(failing));
  }
}

}  // namespace

TEST_CASE("findings: every code has a page, and every page a code") {
  const std::vector<std::string> codes = all_codes();
  for (const std::string& code : codes) {
    CAPTURE(code);
    CHECK_MESSAGE(fs::exists(pages_folder / (code + ".md")), "no page in docs/findings");
  }
  for (const auto& entry : fs::directory_iterator(pages_folder)) {
    const std::string stem = entry.path().stem().string();
    CAPTURE(stem);
    CHECK((std::find(codes.begin(), codes.end(), stem) != codes.end() || stem == "README"));
  }
}

TEST_CASE("findings: each page shows its finding, and its mended form is clean") {
  for (const std::string& code : all_codes()) SUBCASE(code.c_str()) {
      CAPTURE(code);
      check_page(code);
    }
}
