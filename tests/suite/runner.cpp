// Runs every annotated source under tests/suite and holds what is found against what is annotated.

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <sstream>

#include "annotated.hpp"
#include "diagnostics/render.hpp"
#include "driver/pipeline.hpp"
#include "slips/answers.hpp"
#include "source/files.hpp"
#include "story_lint.hpp"
#include "wording/messages.hpp"

namespace {

using namespace stepward;
namespace disk = std::filesystem;

/// Whether slips that are answered for come to harm, the report of slips tells, which no check needs.
void add_unneeded_answers(driver::Compilation& made) {
  if (!made.is_walkable() || made.protocol->answered_slips.empty() || diagnostics::count(made.findings).errors > 0) return;
  for (diagnostics::Diagnostic& finding : slips::answers_not_needed(slips::analyse(*made.protocol, {.workers = 1}))) made.findings.push_back(std::move(finding));
}

/// What the compiler says of a source: the one place that decides how far the suite goes down the pipeline.
diagnostics::Sink findings_of(const suite::Annotated& source, source::Files& files) {
  const suite::AnnotatedFiles access(source);
  driver::Compilation compilation = driver::read(source.main, access, source.today);
  check::Options options;
  options.witness = source.witness;
  driver::walk(compilation, options);
  add_unneeded_answers(compilation);
  files = std::move(compilation.files);
  return std::move(compilation.findings);
}

std::vector<disk::path> sources() {
  std::vector<disk::path> found;
  for (const auto& entry : disk::recursive_directory_iterator(suite::suite_folder)) {
    const bool shared = entry.path().string().find("/shared/") != std::string::npos;
    if (entry.path().extension() == ".ward" && !shared) found.push_back(entry.path());
  }
  std::sort(found.begin(), found.end());
  return found;
}

const char* name_of(diagnostics::Severity severity) {
  switch (severity) {
    case diagnostics::Severity::note: return "note";
    case diagnostics::Severity::warning: return "warning";
    case diagnostics::Severity::error: return "error";
  }
  return "";
}

bool meets(const suite::Expected& expected, const diagnostics::Diagnostic& finding, const source::Files& files) {
  return expected.code == diagnostics::code_name(finding.code) && expected.severity == finding.severity &&
         expected.file == files.path(finding.at.file) &&
         expected.line == files.position(finding.at.file, finding.at.begin).line &&
         wording::headline(finding.code, finding.args).find(expected.text) != std::string::npos;
}

/// What does not match, one line each; empty if all is as annotated.
std::string differences(const suite::Annotated& source) {
  std::ostringstream out;
  for (const std::string& mistake : source.mistakes) out << "cannot be read: " << mistake << "\n";
  source::Files files;
  std::vector<suite::Expected> open = source.expected;
  for (const diagnostics::Diagnostic& finding : findings_of(source, files)) {
    for (const std::string& complaint : test::lint_story(finding)) out << "its words: " << complaint << "\n";
    const auto met = std::find_if(open.begin(), open.end(), [&](const auto& e) { return meets(e, finding, files); });
    if (met != open.end()) {
      open.erase(met);
      continue;
    }
    out << "not annotated: " << files.path(finding.at.file) << ":"
        << files.position(finding.at.file, finding.at.begin).line << " " << name_of(finding.severity) << " "
        << diagnostics::code_name(finding.code) << " " << wording::headline(finding.code, finding.args) << "\n";
  }
  for (const suite::Expected& expected : open) {
    out << "not found: " << expected.file << ":" << expected.line << " " << expected.code << " " << expected.text
        << "\n";
  }
  return out.str();
}

}  // namespace

TEST_CASE("every annotated source gives its findings and no others") {
  const auto all = sources();
  REQUIRE(all.size() > 0);
  for (const disk::path& path : all) {
    const std::string different = differences(suite::read_annotated_file(path));
    CHECK_MESSAGE(different.empty(), disk::relative(path, suite::suite_folder).string() << "\n" << different);
  }
}

// A code that no source provokes is a code nobody knows to work.
TEST_CASE("every code that resolving or the walk can give is provoked by a source") {
  std::set<std::string> provoked;
  for (const disk::path& path : sources()) {
    for (const auto& expected : suite::read_annotated_file(path).expected) {
      provoked.insert(expected.code);
    }
  }
  const std::set<std::string> out_of_reach{
      "N201",  // the file itself is missing: there is no line to annotate (tests/unit/resolve_imports_test.cpp)
      "F108",  // parse refuses such nesting first; routines reach it (tests/unit/model_steps_test.cpp)
      "F107",  // needs 50,000 lines (tests/unit/model_steps_test.cpp)
      "V109",  // needs 4,096 combinations (tests/unit/model_variants_test.cpp)
      "F801",  // needs a limit on the command line (tests/cli)
  };
  for (std::size_t at = 0; at < diagnostics::code_count(); ++at) {
    const std::string code(diagnostics::code_name(static_cast<diagnostics::Code>(at)));
    if (code[0] == 'L' || out_of_reach.count(code) > 0) continue;  // lines and blocks: tests/unit/parse_*
    CHECK_MESSAGE(provoked.count(code) > 0, code << " is provoked by no source");
  }
}
