// Tidying every file of every source of the suite: the same trees, the same model, the same findings but for the one
// about indentation, and nothing further to do a second time.

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <sstream>

#include "annotated.hpp"
#include "driver/dumps.hpp"
#include "driver/pipeline.hpp"
#include "tidy/tidy.hpp"

namespace {

using namespace stepward;
namespace disk = std::filesystem;

tidy::Tidied tidied(const std::string& text) {
  source::Files files;
  diagnostics::Sink sink;
  const source::FileId file = files.add("main.ward", text);
  return tidy::tidy(file, files.text(file), sink);
}

/// The same source with every file tidy that can be. Counts those.
suite::Annotated in_tidy_form(suite::Annotated source, std::size_t& count) {
  for (auto& file : source.files) {
    std::string& text = file.second;
    tidy::Tidied once = tidied(text);
    CAPTURE(file.first);
    CHECK(once.outcome != tidy::Outcome::would_differ);
    if (once.outcome != tidy::Outcome::tidy) continue;
    CHECK(tidied(once.text).text == once.text);
    text = std::move(once.text);
    ++count;
  }
  return source;
}

/// Everything that is made of a source before it is walked, without the places where it stands.
std::string made_of(const suite::Annotated& source) {
  const suite::AnnotatedFiles access(source);
  const driver::Compilation made = driver::read(source.main, access, source.today);
  std::ostringstream out;
  std::istringstream tree(driver::dump_tree(made));
  for (std::string line; std::getline(tree, line);) out << (line.size() > 5 ? line.substr(5) : line) << '\n';  // no line numbers
  if (made.protocol) out << driver::dump_model(made);
  for (const diagnostics::Diagnostic& finding : made.findings) {
    if (finding.code != diagnostics::Code::L307) out << diagnostics::code_name(finding.code) << ' ';
  }
  return out.str();
}

}  // namespace

TEST_CASE("tidy: every source of the suite means the same in tidy form") {
  std::size_t tidy_files = 0;
  std::size_t sources = 0;
  for (const auto& entry : disk::recursive_directory_iterator(suite::suite_folder)) {
    if (entry.path().extension() != ".ward" || entry.path().string().find("/shared/") != std::string::npos) continue;
    const suite::Annotated source = suite::read_annotated_file(entry.path());
    const std::string before = made_of(source);
    const std::string after = made_of(in_tidy_form(source, tidy_files));
    CHECK_MESSAGE(before == after, disk::relative(entry.path(), suite::suite_folder).string());
    ++sources;
  }
  CHECK(sources > 80);
  CHECK(tidy_files > 100);
}
