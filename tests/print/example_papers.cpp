#include "example_papers.hpp"

#include <doctest/doctest.h>

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <memory>

#include <sys/wait.h>
#include <unistd.h>

#include "driver/disk.hpp"
#include "driver/pipeline.hpp"
#include "emit/card/card.hpp"
#include "emit/competency/competency_sheet.hpp"
#include "emit/dilution/dilution_card.hpp"
#include "emit/kit/kit_list.hpp"
#include "emit/script/script.hpp"
#include "emit/sign_off/sign_off_page.hpp"
#include "graph/numbering.hpp"
#include "model/variants.hpp"

namespace stepward::test {

const model::Protocol& example(const std::string& file) {
  static std::map<std::string, driver::Compilation> read_once;
  auto found = read_once.find(file);
  if (found == read_once.end()) {
    const std::string path = std::string(STEPWARD_SOURCE_DIR) + "/examples/" + file;
    found = read_once.emplace(file, driver::read(path, driver::FilesOnDisk(path), "2030-11-01")).first;
  }
  REQUIRE(found->second.protocol.has_value());
  return *found->second.protocol;
}

std::vector<emit::Sheet> papers(const model::Protocol& protocol, const model::Variant& variant) {
  const graph::Course course = graph::number_steps(protocol, variant);
  const emit::WalkFacts facts;
  const emit::PaperSource source{protocol, protocol, variant, course, facts};
  return {emit::wearers_card(protocol, variant, course, facts, protocol), emit::observers_script(protocol, variant, course, facts, protocol),
          *emit::breach_card(source)};
}

std::vector<emit::Sheet> ruled_papers(const model::Protocol& protocol, const model::Variant& variant) {
  const graph::Course course = graph::number_steps(protocol, variant);
  const emit::WalkFacts facts;
  const emit::PaperSource source{protocol, protocol, variant, course, facts};
  const model::Variant none;
  const emit::PaperSource of_all{protocol, protocol, none, course, facts};
  std::vector<emit::SignedPaper> listed;
  for (int i = 1; i <= 30; ++i) listed.push_back({"Observer’s script", model::variant_name(protocol, variant), "cinnamon – woodland – cinnamon – hammock"});
  return {emit::kit_list(source), emit::competency_sheet(source), *emit::dilution_card(of_all),
          emit::sign_off_page(of_all, {{model::variant_name(protocol, variant)}, {}, listed})};
}

PrintedFile::PrintedFile(const emit::Sheet& sheet, emit::pdf::Paper paper, bool draft, std::optional<emit::pdf::Paper> up) {
  const emit::pdf::Pdf pdf = emit::pdf::write(sheet, {paper, "2030-11-01", draft, up});
  for (const auto& fault : pdf.faults) FAIL_CHECK(emit::pdf::sentence(fault));
  faces_ = pdf.faces;
  char name[] = "/tmp/stepward-paper-XXXXXX";
  const int file = mkstemp(name);
  REQUIRE(file >= 0);
  close(file);
  path_ = name;
  std::ofstream(path_, std::ios::binary) << pdf.bytes;
}

PrintedFile::~PrintedFile() { std::remove(path_.c_str()); }

std::string PrintedFile::told_by(const std::string& command) const {
  std::string line = command;
  line.replace(line.find('%'), 1, path_);
  std::FILE* pipe = popen((line + " 2>&1").c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::string text;
  char buffer[4096];
  for (std::size_t got = 0; (got = std::fread(buffer, 1, sizeof buffer, pipe)) > 0;) text.append(buffer, got);
  const int status = pclose(pipe);
  CHECK_MESSAGE(WEXITSTATUS(status) == 0, line << ": " << text);
  return text;
}

std::string squeezed(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c != ' ' && c != '\n' && c != '\r' && c != '\t' && c != '\f') out += c;
  }
  return out;
}

}  // namespace stepward::test
