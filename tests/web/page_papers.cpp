#include "page_papers.hpp"

#include <doctest/doctest.h>

#include "driver/disk.hpp"
#include "driver/dossiers.hpp"
#include "driver/papers.hpp"
#include "driver/pipeline.hpp"

namespace stepward::test {

namespace {

void add(std::vector<NamedSheet>& all, const std::string& of, std::vector<driver::Paper> papers) {
  for (driver::Paper& paper : papers) all.push_back({of + ", " + paper.what, std::move(paper.sheet)});
}

}  // namespace

const std::vector<std::string>& looked_at() {
  static const std::vector<std::string> files = {"examples/aldermoss-entry.ward",
                                                 "examples/aldermoss-exit.ward",
                                                 "stdlib-procedures/protocols/body-fluid-spill-cloth-first.ward",
                                                 "stdlib-procedures/protocols/central-line-insertion.ward",
                                                 "stdlib-procedures/protocols/chlorine-making-up.ward",
                                                 "stdlib-procedures/protocols/hand-rub.ward",
                                                 "stdlib-procedures/protocols/powered-hood-exit.ward",
                                                 "stdlib-procedures/protocols/respirator-entry.ward",
                                                 "stdlib-procedures/protocols/sharps-first-aid.ward"};
  return files;
}

std::vector<NamedSheet> all_papers(const std::string& file) {
  const std::string path = std::string(STEPWARD_SOURCE_DIR) + "/" + file;
  driver::Compilation made = driver::read(path, driver::FilesOnDisk(path), "2030-11-01");
  check::Options options;
  options.workers = 2;
  driver::walk(made, options);
  REQUIRE(made.is_walkable());
  std::vector<NamedSheet> all;
  for (const check::VariantWalk& walk : made.verdict.walks) add(all, file + ", " + walk.name, driver::papers_of(made, walk, driver::paper_names()));
  std::string why;
  const auto facts = driver::dossier_facts(made, driver::FilesOnDisk(path), {"2030-11-01"}, why);
  REQUIRE_MESSAGE(facts.has_value(), why);
  add(all, file, driver::papers_of_dossier(made, *facts));
  std::vector<emit::SignedPaper> listed;
  for (const NamedSheet& each : all) listed.push_back({each.sheet.control.kind, each.sheet.control.variant, each.sheet.control.check_words});
  add(all, file, driver::papers_of_protocol(made, driver::protocol_paper_names(), listed));
  return all;
}

}  // namespace stepward::test
