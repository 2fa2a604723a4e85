// The parts of the driver that need no disk: which variant is meant, names of files, days, command lines.
#include <doctest/doctest.h>

#include "driver/command_line.hpp"
#include "driver/host.hpp"
#include "driver/pipeline.hpp"
#include "driver/variant_choice.hpp"
#include "driver/verdict_text.hpp"
#include "model/variants.hpp"

using namespace stepward;
using driver::ExitCode;

namespace {

model::Protocol two_choices() {
  model::Protocol protocol;
  model::Choice suit, eyes;
  suit.name = "suit choice";
  suit.values = {{"coverall", {}}, {"gown", {}}};
  eyes.name = "eye choice";
  eyes.values = {{"goggles", {}}, {"face shield", {}}};
  protocol.choices = {suit, eyes};
  return protocol;
}

std::string meant(const std::string& words) {
  const model::Protocol protocol = two_choices();
  std::string why;
  const auto at = driver::variant_meant(protocol, words, why);
  return at ? model::variant_name(protocol, model::all_variants(protocol)[*at]) : why;
}

driver::Outcome run(std::vector<std::string> words) {
  driver::Host host;
  host.today = "2030-11-01";
  return driver::run(words, host);
}

}  // namespace

TEST_CASE("driver: a variant is named whole, by its parts in any order, or by the name of its file") {
  for (const char* words : {"gown · face shield", "face shield, gown", "Gown with face shield", "gown+face shield", "gown-face-shield"}) {
    CHECK(meant(words) == "gown · face shield");
  }
}

TEST_CASE("driver: too few parts list the variants that they fit, unknown parts list all") {
  CHECK(meant("gown").find("fits 2 variants") != std::string::npos);
  CHECK(meant("gown").find("coverall") == std::string::npos);
  CHECK(meant("poncho").find("coverall · goggles") != std::string::npos);
  CHECK(meant("gown, coverall").find("no variant is called") != std::string::npos);
}

TEST_CASE("driver: names become parts of file names without anything a file system stumbles over") {
  CHECK(driver::slug("Coverall · Face Shield") == "coverall-face-shield");
  CHECK(driver::slug("Überzug · 2") == "überzug-2");
  CHECK(driver::file_part("AMH-IP-012") == "AMH-IP-012");
  CHECK(driver::file_part("../a b/2.0") == "-.-a-b-2.0");
  CHECK(driver::file_part("") == "unnumbered");
}

TEST_CASE("driver: only days of the calendar are dates") {
  CHECK(driver::is_date("2028-02-29"));
  for (const char* text : {"2031-02-29", "2031-13-01", "2031-1-1", "31-01-2031", "2031-01-01x", "", "tomorrow.."}) {
    CHECK_FALSE(driver::is_date(text));
  }
}

TEST_CASE("driver: numbers are grouped by three") {
  CHECK(driver::grouped(0) == "0");
  CHECK(driver::grouped(999) == "999");
  CHECK(driver::grouped(1234567) == "1 234 567");
  CHECK(driver::counted({1, 2, 0}) == "1 error, 2 warnings, 0 notes");
}

TEST_CASE("driver: colour follows the wish, then the terminal, then the environment") {
  driver::Host host;
  CHECK_FALSE(driver::wants_colour(host, driver::Colour::automatic));
  host.out_is_terminal = true;
  CHECK(driver::wants_colour(host, driver::Colour::automatic));
  host.no_colour = true;
  CHECK_FALSE(driver::wants_colour(host, driver::Colour::automatic));
  CHECK(driver::wants_colour(host, driver::Colour::always));
  CHECK_FALSE(driver::wants_colour(driver::Host{}, driver::Colour::never));
}

TEST_CASE("driver: wrong use is exit code 2 with one line that helps") {
  CHECK(run({"chek"}).err == "stepward: there is no command \"chek\"; did you mean \"check\"?\n");
  CHECK(run({"compare", "x"}).err.find("is not in this version yet") != std::string::npos);
  CHECK(run({"check"}).code == ExitCode::wrong_use);
  CHECK(run({}).code == ExitCode::wrong_use);
  CHECK(run({"explain", "P40l"}).err.find("nearest is P40") != std::string::npos);
}

TEST_CASE("driver: a file that is not there is trouble with a file, whatever the command") {
  for (const std::vector<std::string>& words : std::vector<std::vector<std::string>>{
           {"check", "nowhere.ward"}, {"graph", "nowhere.ward"}, {"slips", "nowhere.ward"}, {"dump", "nowhere.ward", "--stage", "tree"}}) {
    CHECK(run(words).code == ExitCode::file_trouble);
  }
}

TEST_CASE("driver: the pipeline stops before a walk that would have no meaning") {
  FilesInMemory files;
  files.put("a.ward", "stepward 1 protocol\nphase \"x\"\n  take of gloves\nend phase\n");
  driver::Compilation made = driver::read("a.ward", files, "2030-01-01");
  driver::walk(made, {});
  CHECK_FALSE(made.protocol.has_value());
  CHECK_FALSE(made.walked);
  CHECK_FALSE(made.unreadable);
  CHECK(driver::verdict_text(made, {}, false).find("no run was walked") != std::string::npos);
}
