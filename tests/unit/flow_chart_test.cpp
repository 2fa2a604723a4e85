// What flow charts and their sisters are lettered and named with.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <string>

#include "base/file_access.hpp"
#include "driver/disk.hpp"
#include "driver/pipeline.hpp"
#include "emit/bpmn/ids.hpp"
#include "emit/card/card.hpp"
#include "emit/document/document.hpp"
#include "emit/fhir/legal_ids.hpp"
#include "emit/flow_chart/drawn.hpp"
#include "emit/flow_chart/lettering.hpp"
#include "emit/graph/node_ids.hpp"
#include "emit/xml_text.hpp"
#include "graph/numbering.hpp"
#include "model/variants.hpp"

namespace {

using stepward::emit::flow_chart::width_in_ems;
using stepward::emit::flow_chart::wrapped;

std::string without_spaces(std::string text) {
  std::erase(text, ' ');
  return text;
}

}  // namespace

TEST_CASE("flow chart: a question that the source asks for no sends NO there, and YES on") {
  stepward::FilesInMemory access;
  access.put("lift.ward", R"(stepward 1 protocol
document
  title   "To the third floor"
  number  ASH-09
  version 1.0
end document
use library standard "basic-equipment"
use library standard "plain-wording"
zone hall
  risk low
end zone
role wearer
  may enter hall
end role
people
  wearer begins in hall wearing scrubs
  wearer acts unless a line names someone else
end people
endings
  upstairs is normal
end endings
phase "Up"
  decide lift works as yes or no
  if lift works is no
    act "Take the stairs."
  end if
  act "Ring the bell."
  finish as upstairs
end phase
)");
  stepward::driver::Compilation made = stepward::driver::read("lift.ward", access, "");
  REQUIRE(made.protocol);
  const auto variant = stepward::model::all_variants(*made.protocol).front();
  const auto course = stepward::graph::number_steps(*made.protocol, variant);
  const stepward::emit::WalkFacts nothing_walked;
  const auto chart = stepward::emit::flow_chart::from_course({*made.protocol, *made.protocol, variant, course, nothing_walked});
  std::size_t seen = 0;
  for (const auto& band : chart.bands) {
    for (const auto& way : band.ways) {
      if (way.label.empty()) continue;
      ++seen;
      CAPTURE(way.label);
      CHECK((band.shapes[way.to].text.find("STAIRS") != std::string::npos || band.shapes[way.to].text.find("stairs") != std::string::npos) == (way.label == "NO"));
    }
  }
  CHECK(seen == 2);
}

namespace {

/// The shapes that a band's heavy line passes, from its entry.
std::vector<const stepward::emit::flow_chart::Shape*> on_main_way(const stepward::emit::flow_chart::Band& band) {
  std::vector<const stepward::emit::flow_chart::Shape*> passed;
  for (std::size_t at = 0; passed.size() <= band.shapes.size();) {
    passed.push_back(&band.shapes[at]);
    const auto way = std::find_if(band.ways.begin(), band.ways.end(), [&](const auto& each) { return each.from == at && each.is_main && !each.goes_back; });
    if (way == band.ways.end() && band.shapes[at].what != stepward::emit::flow_chart::Shape::What::fork) break;
    // Between two people nobody is the main one: it goes on where both are done.
    while (way == band.ways.end() && band.shapes[at].what != stepward::emit::flow_chart::Shape::What::join) ++at;
    if (way != band.ways.end()) at = way->to;
  }
  return passed;
}

std::vector<stepward::emit::flow_chart::Chart> charts_of(const stepward::driver::Compilation& made) {
  const stepward::emit::WalkFacts nothing_walked;
  std::vector<stepward::emit::flow_chart::Chart> charts;
  for (const auto& variant : stepward::model::all_variants(*made.protocol)) {
    const auto course = stepward::graph::number_steps(*made.protocol, variant);
    charts.push_back(stepward::emit::flow_chart::from_course({*made.protocol, *made.protocol, variant, course, nothing_walked}));
  }
  return charts;
}

}  // namespace

TEST_CASE("flow chart: the heavy line is the run without exceptions, whatever answer stands first") {
  stepward::FilesInMemory access;
  access.put("floor.ward", R"(stepward 1 protocol
document
  title   "Clear the floor"
  number  ASH-10
  version 1.0
end document
use library standard "basic-equipment"
use library standard "plain-wording"
zone hall
  risk low
end zone
role wearer
  may enter hall
end role
people
  wearer begins in hall wearing scrubs
  wearer acts unless a line names someone else
end people
endings
  floor clear is normal
  stood down is emergency
end endings
any time bell rings
  happens nothing of its own
  decide alarm is real as yes or no
  if alarm is real is yes
    finish as stood down
  end if
  resume
end any time
phase "Floor"
  decide sharp on it as yes or no
  if sharp on it is yes
    act "Lift the sharp."
    record sharp lifted
  end if
  act "Wipe."
  if sharp lifted was recorded
    act "Close the box."
  end if
  if sharp on it is no
    act "Tell nobody."
  otherwise
    act "Tell the lead."
  end if
  decide all is well as yes or no
  if all is well is no
    act "Leave it."
    finish as stood down
  end if
  decide which way as left or right
  if which way is left
    act "Go left."
  otherwise
    act "Go right."
  end if
  finish as floor clear
end phase
)");
  const stepward::driver::Compilation made = stepward::driver::read("floor.ward", access, "");
  REQUIRE(made.protocol);
  const auto charts = charts_of(made);
  REQUIRE(charts.size() == 1);
  std::string passed;
  for (const auto* shape : on_main_way(charts[0].bands[0])) passed += shape->text + '|';
  CAPTURE(passed);
  for (const char* there : {"WIPE", "TELL nobody", "GO left"}) CHECK(passed.find(there) != std::string::npos);
  for (const char* not_there : {"LIFT", "CLOSE", "TELL the lead", "LEAVE", "GO right"}) CHECK(passed.find(not_there) == std::string::npos);
  CHECK(on_main_way(charts[0].bands[0]).back()->what == stepward::emit::flow_chart::Shape::What::ending);
  CHECK_FALSE(on_main_way(charts[0].bands[0]).back()->emergency);
  // Every heavy line hangs together: none begins again where an exception comes back.
  std::size_t main_ways = 0;
  for (const auto& way : charts[0].bands[0].ways) main_ways += way.is_main;
  CHECK(main_ways + 1 == on_main_way(charts[0].bands[0]).size());
  // In what may happen at any time the good answer leads on too.
  CHECK(on_main_way(charts[0].bands[1]).back()->what == stepward::emit::flow_chart::Shape::What::resume);
}

TEST_CASE("flow chart: a way back says which answer leads there, and counts the first time as the card does") {
  using stepward::driver::Compilation;
  std::size_t back = 0;
  for (const auto& entry : std::filesystem::directory_iterator(std::string(STEPWARD_SOURCE_DIR) + "/stdlib-procedures/protocols")) {
    if (entry.path().extension() != ".ward") continue;
    const stepward::driver::FilesOnDisk disk(entry.path().string());
    const Compilation made = stepward::driver::read(entry.path().string(), disk, "2030-11-01");
    if (!made.protocol || made.protocol->phases.empty()) continue;
    const stepward::emit::WalkFacts nothing_walked;
    const auto variant = stepward::model::all_variants(*made.protocol).front();
    const auto course = stepward::graph::number_steps(*made.protocol, variant);
    const auto card = stepward::emit::plain_text(stepward::emit::wearers_card(*made.protocol, variant, course, nothing_walked, *made.protocol));
    const auto charts = charts_of(made);
    for (const auto& band : charts.front().bands) {
      for (const auto& way : band.ways) {
        if (!way.goes_back) continue;
        ++back;
        CAPTURE(entry.path().filename().string());
        CAPTURE(way.label);
        const std::size_t again = way.label.find(": again, ");
        REQUIRE(again != std::string::npos);
        CHECK(way.label.ends_with(" times at most, the first one counted"));
        CHECK(card.find(way.label.substr(again + 9)) != std::string::npos);
        // The answers of one question are all different: that which goes on is another one.
        for (const auto& other : band.ways)
          if (other.from == way.from && !other.goes_back) CHECK(other.label != way.label.substr(0, again));
      }
    }
  }
  CHECK(back > 5);
}

TEST_CASE("flow chart: a breach that ends the run has no heavy line, and in one that comes back it leads past first aid") {
  using What = stepward::emit::flow_chart::Shape::What;
  const std::string path = std::string(STEPWARD_SOURCE_DIR) + "/examples/aldermoss-exit.ward";
  const stepward::driver::FilesOnDisk disk(path);
  const stepward::driver::Compilation made = stepward::driver::read(path, disk, "2030-11-01");
  REQUIRE(made.protocol);
  std::size_t breaches = 0;
  for (const auto& chart : charts_of(made)) {
    for (const auto& band : chart.bands) {
      if (band.what != stepward::emit::flow_chart::Band::What::breach) continue;
      ++breaches;
      CAPTURE(band.title);
      const auto passed = on_main_way(band);
      // B1 and B2 finish as an emergency on every way; B3 comes back, with first aid only where the suit is off.
      if (band.label == "B3") {
        CHECK(passed.back()->what == What::resume);
        for (const auto* shape : passed) CHECK(shape->text.find("first aid") == std::string::npos);
      } else {
        CHECK(passed.size() == 1);
      }
    }
  }
  CHECK(breaches == 18);
}

TEST_CASE("flow chart: in every protocol of the library the heavy line of a phase leads on, or to an ending that is normal") {
  using What = stepward::emit::flow_chart::Shape::What;
  std::size_t files = 0, sharps = 0;
  for (const auto& entry : std::filesystem::directory_iterator(std::string(STEPWARD_SOURCE_DIR) + "/stdlib-procedures/protocols")) {
    if (entry.path().extension() != ".ward") continue;
    const stepward::driver::FilesOnDisk disk(entry.path().string());
    const stepward::driver::Compilation made = stepward::driver::read(entry.path().string(), disk, "2030-11-01");
    if (!made.protocol || made.protocol->phases.empty()) continue;
    ++files;
    for (const auto& chart : charts_of(made)) {
      for (const auto& band : chart.bands) {
        const auto passed = on_main_way(band);
        if (band.what != stepward::emit::flow_chart::Band::What::phase) {
          CHECK_FALSE(passed.back()->emergency);
          continue;
        }
        CAPTURE(entry.path().filename().string());
        CAPTURE(band.title);
        CAPTURE(passed.back()->text);
        const What last = passed.back()->what;
        CHECK((last == What::onward || last == What::loose_end || (last == What::ending && !passed.back()->emergency)));
        for (const auto* shape : passed) sharps += shape->text.find("each sharp") != std::string::npos || shape->text.find("reason for the groin") != std::string::npos;
      }
    }
  }
  CHECK(files > 15);
  CHECK(sharps == 0);
}

TEST_CASE("flow chart: wrapping loses nothing, whatever the script, and keeps lines short") {
  for (const std::string text : {"TAKE OFF the plastic apron without touching its front", "", "   ", "Unbreakableunbreakableunbreakable word",
                                 "把垫子卷起来然后放在墙边不要碰任何东西", "चटाई को हिलाओ और फिर उसे मोड़ो", "e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301"}) {
    CAPTURE(text);
    std::string all;
    for (const std::string& line : wrapped(text, 6)) {
      CHECK(width_in_ems(line) <= 6.0001);
      CHECK(line.substr(0, 2) != "\u0301");  // a mark stays with its letter
      all += line;
    }
    CHECK(without_spaces(all) == without_spaces(text));
  }
}

TEST_CASE("flow chart: wide letters take more room than narrow ones, and marks none") {
  CHECK(width_in_ems("WWWW") > width_in_ems("iiii"));
  CHECK(width_in_ems("垫子") > width_in_ems("ab"));
  CHECK(width_in_ems("e\u0301") == doctest::Approx(width_in_ems("e")));
}

TEST_CASE("xml text: what XML forbids is shown, and nothing is left out") {
  using stepward::emit::xml_text;
  CHECK(xml_text("plain “text” 垫") == "plain “text” 垫");
  CHECK(xml_text("a\x01" "b\x1b") == "a\uFFFD" "b\uFFFD");
  CHECK(xml_text("a\tb\nc") == "a b c");
  CHECK(xml_text("a\xFFz") == "a\uFFFDz");
  CHECK(xml_text("\xEF\xBF\xBF!") == "\uFFFD!");
}

TEST_CASE("ids: what FHIR asks for, and no two alike") {
  stepward::emit::fhir::LegalIds ids;
  CHECK(ids.of("Apron:bow_open") == "Apron.bow-open");
  CHECK(ids.of("Apron:bow_open") == "Apron.bow-open");
  CHECK(ids.of("Apron:bow open") != "Apron.bow-open");
  CHECK(ids.of("Schürze") != ids.of("Schörze"));
  const std::string long_name(200, 'a');
  CHECK(ids.of(long_name).size() == 64);
  CHECK(ids.of(long_name) != ids.of(long_name + "b"));
  stepward::emit::fhir::LegalIds others;
  CHECK(others.of(long_name) == ids.of(long_name));  // whatever else there is
}

TEST_CASE("ids: NCNames of plain letters for BPMN") {
  stepward::emit::bpmn::Ids ids("");
  CHECK(ids.of("Apron:bow_open") == "Apron.bow_open");
  CHECK(ids.of("1:a") == "_1.a");
  CHECK(ids.of("ü") != ids.of("xC3xBC"));
}

TEST_CASE("ids: NMTOKENs keep letters of all scripts and no signs") {
  using stepward::emit::step_graph::nmtoken;
  CHECK(nmtoken("Through the door") == "Through_the_door");
  CHECK(nmtoken("Apron / bow open") == "Apron:bow_open");
  CHECK(nmtoken("Мокрое 垫子") == "Мокрое_垫子");
  CHECK(nmtoken("“quoted” × 2 →") == "quoted_2");
  CHECK(nmtoken("\x01\x02") == "unnamed");
}
