// The numbers of a course: trunk, branches, boxes, breaches, and where each of them goes on.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "graph/numbering.hpp"
#include "graph/quiet_path.hpp"
#include "model/variants.hpp"
#include "paper_protocol.hpp"

using namespace stepward;
using graph::Entry;
using model::VerbKind;

namespace {

struct Numbered {
  test::PaperProtocol made;
  model::Variant variant;
  graph::Course course;

  explicit Numbered(std::size_t which = 0) {
    variant = model::all_variants(made.protocol)[which];
    course = graph::number_steps(made.protocol, variant);
  }
  std::vector<std::string> labels(graph::RunId run) const {
    std::vector<std::string> all;
    for (const Entry& entry : course[run].entries) {
      if (!entry.label.empty()) all.push_back(entry.label);
    }
    return all;
  }
  const Entry& at(const std::string& label) const {
    for (const auto& run : course.runs) {
      for (const Entry& entry : run.entries) {
        if (entry.label == label) return entry;
      }
    }
    FAIL("no entry is called " << label);
    return course.runs[0].entries[0];
  }
};

}  // namespace

TEST_CASE("numbering: the trunk counts 1, 2, 3 and questions stand between the steps") {
  const Numbered n;
  CHECK(n.labels(n.course.trunk) ==
        std::vector<std::string>{"1", "Q1", "Q3", "2", "3", "Q4", "4", "5", "6", "Q5", "7", "8", "9"});
}

TEST_CASE("numbering: a step that another variant has is not counted") {
  const Numbered visor(0), goggles(1);
  CHECK(visor.at("9").line == goggles.at("8").line);
}

TEST_CASE("numbering: branch lines take the number above them and a letter, nested ones a figure") {
  const Numbered n;
  const auto& soil = n.at("Q1").forks[0];
  CHECK(n.labels(soil.run) == std::vector<std::string>{"1a", "1b", "Q2", "1c"});
  CHECK(n.labels(n.at("Q2").forks[0].run) == std::vector<std::string>{"1b1"});
}

TEST_CASE("numbering: a branch says where it goes on, and one that ends never does") {
  const Numbered n;
  CHECK(n.at("Q1").forks[0].go_on == graph::Target{graph::Target::What::label, "Q3", {}});
  CHECK(n.at("Q2").forks[0].go_on.what == graph::Target::What::nowhere);
  CHECK(n.at("Q2").go_on == graph::Target{graph::Target::What::label, "1c", {}});
  CHECK(n.at("9").go_on.what == graph::Target::What::ending);
}

TEST_CASE("numbering: a long routine called twice is one box with the same numbers for both calls") {
  const Numbered n;
  REQUIRE(n.course.boxes.size() == 1);
  CHECK(n.course.boxes[0].label == "A");
  CHECK(n.made.protocol[n.course.boxes[0].routine].name == "change gloves");
  CHECK(n.course.lines_at.at("A1").size() == 2);
  const auto& tear = n.at("Q3").forks[0];
  REQUIRE(n.course[tear.run].entries.size() == 1);
  CHECK(n.course[tear.run].entries[0].what == Entry::What::box);
  CHECK(tear.go_on == graph::Target{graph::Target::What::label, "2", {}});
  CHECK(n.at("A6").go_on.what == graph::Target::What::back);
}

TEST_CASE("numbering: a question about a state only is not asked aloud and its arm is trunk") {
  const Numbered n;
  const Entry& worn = n.at("Q4");
  CHECK_FALSE(worn.aloud);
  CHECK(worn.forks[0].is_trunk);
  CHECK(worn.forks[0].first == graph::Target{graph::Target::What::label, "4", {}});
  CHECK(worn.forks[1].first == graph::Target{graph::Target::What::label, "5", {}});
}

TEST_CASE("numbering: the arm of the trouble-free path is trunk and the other one passes it by") {
  const Numbered n;
  const Entry& torn = n.at("Q5");
  CHECK(torn.aloud);
  CHECK(torn.forks[1].is_trunk);
  CHECK(torn.forks[1].first == graph::Target{graph::Target::What::label, "7", {}});
  CHECK(torn.forks[0].go_on == graph::Target{graph::Target::What::label, "8", {}});
}

TEST_CASE("numbering: interruptions are breaches with numbers of their own") {
  const Numbered n;
  REQUIRE(n.course.breaches.size() == 2);
  CHECK(n.labels(n.course.breaches[0].run) == std::vector<std::string>{"B1.1"});
  CHECK(n.labels(n.course.breaches[1].run) == std::vector<std::string>{"B2.1"});
  CHECK(n.at("B2.1").go_on.what == graph::Target::What::resume);
}

TEST_CASE("numbering: every line of the variant has a number and no other line has one") {
  const Numbered n(1);
  const auto lines = graph::lines_of(n.made.protocol, n.variant);
  const std::set<model::LineId> in_variant(lines.begin(), lines.end());
  std::set<std::string> used;
  for (std::size_t i = 0; i < n.made.protocol.lines.size(); ++i) {
    const bool numbered = !n.course.labels[i].empty();
    CHECK(numbered == (in_variant.count(model::LineId{i}) != 0));
    // only the two calls of the box share numbers
    if (numbered && n.course.labels[i][0] != 'A') CHECK(used.insert(n.course.labels[i]).second);
  }
}

TEST_CASE("numbering: a question that comes out the same on every path is not printed") {
  test::PaperProtocol made;
  auto& phase = made.protocol.phases[0];
  // The goggles are never worn in the variant with the visor.
  const auto extra = made.block({made.add(made.line(VerbKind::wait, made.wearer))});
  made.protocol.blocks[phase.block.value].statements.push_back(made.question(made.worn(made.goggles), extra));
  const auto variants = model::all_variants(made.protocol);
  const auto visor = graph::number_steps(made.protocol, variants[0]);
  const model::LineId wait = made.protocol.blocks[extra.value].statements[0].line;
  CHECK(visor.label(wait).empty());  // nobody can ever be asked
  const auto goggles = graph::number_steps(made.protocol, variants[1]);
  CHECK(goggles.label(wait) == "3");  // always worn: no question, a trunk step
}

TEST_CASE("numbering: one box serves calls that name different things") {
  test::PaperProtocol made;
  const auto call = [&](model::ItemId id) {
    const model::Thing thing = made.item(id);
    std::vector<model::Statement> lines{made.add(made.line(VerbKind::clean, made.wearer, {thing})),
                                        made.add(made.line(VerbKind::inspect, made.observer, {thing})),
                                        made.add(made.line(VerbKind::disinfect, made.wearer, {thing})),
                                        made.add(made.line(VerbKind::disinfect, made.wearer, {made.hands()}))};
    model::Statement statement = made.call(model::RoutineId{0u}, made.block(lines));
    statement.arguments = {thing};
    return statement;
  };
  auto& statements = made.protocol.blocks[made.protocol.phases[0].block.value].statements;
  const auto apron = call(made.apron), inner = call(made.inner);
  const auto first = made.question(made.found(model::FindingId{0u}, made.item(made.apron)), made.block({apron}));
  const auto second = made.question(made.found(model::FindingId{0u}, made.item(made.inner)), made.block({inner}));
  auto& again = made.protocol.blocks[made.protocol.phases[0].block.value].statements;
  again.push_back(first);
  again.push_back(second);
  (void)statements;
  // The library words the disinfection of gloves and aprons differently, so these two must not share a box.
  const auto apart = graph::number_steps(made.protocol, model::all_variants(made.protocol)[0]);
  CHECK(apart.boxes.size() == 1);
  made.protocol.verb_wordings[1].wording.words = {{"DISINFECT [surface] with [agent].", {}, false, {}}};
  const auto shared = graph::number_steps(made.protocol, model::all_variants(made.protocol)[0]);
  REQUIRE(shared.boxes.size() == 2);
  const auto& box = shared.boxes[1].has_it ? shared.boxes[1] : shared.boxes[0];
  CHECK(box.has_it);
  CHECK(shared.lines_at.at(box.label + "1").size() == 2);
  CHECK(shared[box.run].entries[0].named.size() == 1);
}
