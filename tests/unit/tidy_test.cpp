// The tidy form: what it sets, what it leaves, and that it never depends on the margins that it sets.
//
// That tidying keeps the model of every source of the suite is held in tests/suite; here are the rules one by one, and
// random margins, blanks and remarks put into every file that is shipped.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include "parse_samples.hpp"
#include "tidy/same_reading.hpp"
#include "tidy/tidy.hpp"

namespace fs = std::filesystem;
using namespace stepward;
using namespace stepward::tests;

namespace {

tidy::Tidied tidied(const std::string& text) {
  source::Files files;
  diagnostics::Sink sink;
  const source::FileId file = files.add("sample.ward", text);
  return tidy::tidy(file, files.text(file), sink);
}

std::string tidy_text(const std::string& text) {
  const tidy::Tidied once = tidied(text);
  REQUIRE(once.outcome == tidy::Outcome::tidy);
  CHECK(tidied(once.text).text == once.text);
  return once.text;
}

const std::string first_line = "stepward 1 protocol\n";

/// The tidy form of what follows the first line.
std::string tidy_lines(const std::string& lines) {
  const std::string all = tidy_text(first_line + lines);
  REQUIRE(all.compare(0, first_line.size(), first_line) == 0);
  return all.substr(first_line.size());
}

struct Shipped {
  std::string path, text;
};

std::vector<Shipped> shipped() {
  std::vector<Shipped> all;
  for (const char* folder : {"stdlib-procedures", "examples"}) {
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(STEPWARD_SOURCE_DIR) / folder)) {
      if (entry.path().extension() != ".ward") continue;
      std::ifstream file(entry.path(), std::ios::binary);
      all.push_back({entry.path().string(), {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()}});
    }
  }
  REQUIRE(all.size() > 10);
  return all;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

/// Makes a source untidy in ways that are no change of what it says.
class Disorder {
 public:
  explicit Disorder(std::uint32_t seed) : chance_(seed) {}

  std::size_t below(std::size_t count) { return std::uniform_int_distribution<std::size_t>(0, count - 1)(chance_); }

  std::string margin(bool may_hold_bullet) {
    static const std::vector<std::string> blanks = {" ", "  ", "\t", "\xC2\xA0", "\xE2\x80\x83", "\xE2\x80\x8B", "    "};
    static const std::vector<std::string> bullets = {"- ", "* ", "\xE2\x80\xA2\t", "\xE2\x80\x93 ", "3) ", "12. "};
    std::string made;
    for (std::size_t i = below(4); i > 0; --i) made += blanks[below(blanks.size())];
    if (may_hold_bullet && below(6) == 0) made += bullets[below(bullets.size())];
    return made;
  }

  std::string other_margins(const std::string& text) {
    std::string made;
    bool first = true;
    for (const std::string& line : lines_of(text)) {
      const std::size_t words = line.find_first_not_of(' ');
      const std::string end = below(4) == 0 ? "\r\n" : below(3) == 0 ? "  \t\n" : "\n";
      made += words == std::string::npos ? margin(false) + end : margin(!first) + line.substr(words) + end;
      if (words == std::string::npos && below(2) == 0) made += "\n";  // one empty line more where there is one
      first = first && (words == std::string::npos || line[words] == '#');
    }
    return made + (below(2) == 0 ? "\n\n" : "");
  }

  /// Remarks and empty lines anywhere. `put` counts the remarks.
  std::string with_remarks(const std::string& text, std::size_t& put) {
    std::string made;
    for (const std::string& line : lines_of(text)) {
      if (below(8) == 0) made += "\n";
      if (below(6) == 0) {
        ++put;
        made += margin(false) + "#  looked at \"once\"\n";
      }
      made += line;
      if (line.find('#') == std::string::npos && !line.empty() && below(6) == 0) {
        ++put;
        made += margin(false) + "# why \xE2\x80\x9Cso\xE2\x80\x9D";
      }
      made += "\n";
    }
    return made;
  }

 private:
  std::mt19937 chance_;
};

}  // namespace

TEST_CASE("tidy: depth is set by the ends, whatever the margins were") {
  CHECK(tidy_lines("        phase \"Off\"\nif soil on gown\n\t\tmove to bay\nsay \"Go.\"\n    otherwise\nresume\n  end if\n"
                   "repeat at most 2 times\ninspect gown for soil\nuntil no soil on gown\nif still not\nmove to bay\nend repeat\nend phase\n") ==
        "phase \"Off\"\n"
        "  if soil on gown\n"
        "    move to bay\n"
        "      say \"Go.\"\n"
        "  otherwise\n"
        "    resume\n"
        "  end if\n"
        "  repeat at most 2 times\n"
        "    inspect gown for soil\n"
        "  until no soil on gown\n"
        "  if still not\n"
        "    move to bay\n"
        "  end repeat\n"
        "end phase\n");
}

TEST_CASE("tidy: lines of an ending stand under its name") {
  CHECK(tidy_lines("endings\nout is normal\nwearer is in bay\nstopped is emergency\nend endings\n") ==
        "endings\n  out is normal\n    wearer is in bay\n  stopped is emergency\nend endings\n");
}

TEST_CASE("tidy: pasted bullets, other blanks and curly marks go, texts stay byte for byte") {
  CHECK(tidy_lines("\xE2\x80\xA2\tphase\xC2\xA0\xE2\x80\x9COff \xC2\xA0 \xE2\x80\x98now\xE2\x80\x99\xE2\x80\x9D\r\n"
                   "3) take\toff\xC2\xA0gown\n\xE2\x80\x93 end \t phase\n") ==
        "phase \"Off \xC2\xA0 \xE2\x80\x98now\xE2\x80\x99\"\n  take off gown\nend phase\n");
  CHECK(tidy_lines("phase \"A\"\n call \xE2\x80\x9E" "b\xE2\x80\x9C\nend phase\n") == "phase \"A\"\n  call \"b\"\nend phase\n");
}

TEST_CASE("tidy: columns that somebody aligned stay, and commas stand behind their words") {
  CHECK(tidy_lines("document\ntitle       \"A\"\nnumber      B     # as on the door\nwritten by  \"C\" ,\"D\"\t#who\nend document\n") ==
        "document\n  title       \"A\"\n  number      B     # as on the door\n  written by  \"C\", \"D\"  #who\nend document\n");
}

TEST_CASE("tidy: a remark stands where the next line stands, above an end where the lines inside stand") {
  CHECK(tidy_lines("# one\nphase \"A\"\n# two\n  take off gown\n# three\n    say \"Now.\"\n# four\n  if soil on gown\n  resume\n# five\n"
                   "  otherwise\n  resume\n  end if\n# six\nend phase\n# seven\n") ==
        "# one\n"
        "phase \"A\"\n"
        "  # two\n"
        "  take off gown\n"
        "    # three\n"
        "    say \"Now.\"\n"
        "  # four\n"
        "  if soil on gown\n"
        "    resume\n"
        "    # five\n"
        "  otherwise\n"
        "    resume\n"
        "  end if\n"
        "  # six\n"
        "end phase\n"
        "# seven\n");
}

TEST_CASE("tidy: one empty line in a row at most, none at either end of the file") {
  CHECK(tidy_text("\n\n# head\n\n\nstepward  1\tprotocol   # kind\n\n\n\nphase \"A\"\n\n\nend phase\n\n\n") ==
        "# head\n\nstepward 1 protocol   # kind\n\nphase \"A\"\n\nend phase\n");
  CHECK(tidy_text("stepward 1 library") == "stepward 1 library\n");
}

TEST_CASE("tidy: words behind an end, which mean nothing, are not lost") {
  CHECK(tidy_lines("phase \"A\"\n\tend  phase \"A\"\n") == "phase \"A\"\nend  phase \"A\"\n");
}

TEST_CASE("tidy: a source with errors of layout is not touched") {
  CHECK(tidied(first_line + "phase \"A\"\n  take off gown\n").outcome == tidy::Outcome::not_read);
  CHECK(tidied(first_line + "phase \"A\n  end phase\n").outcome == tidy::Outcome::not_read);
  CHECK(tidied("").outcome == tidy::Outcome::not_read);
  CHECK(tidied("phase \"A\"\nend phase\n").outcome == tidy::Outcome::not_read);
}

TEST_CASE("tidy: every file that is shipped is tidy") {
  for (const Shipped& file : shipped()) {
    CAPTURE(file.path);
    CHECK(tidy_text(file.text) == file.text);
  }
}

TEST_CASE("tidy: whatever the margins, the same text comes back") {
  Disorder disorder(20310315);
  for (const Shipped& file : shipped()) {
    for (int round = 0; round < 20; ++round) {
      const std::string untidy = disorder.other_margins(file.text);
      CAPTURE(file.path);
      CAPTURE(round);
      CHECK(untidy != file.text);
      CHECK(tidy_text(untidy) == file.text);
    }
  }
}

TEST_CASE("tidy: remarks and empty lines anywhere change no tree, and none is lost") {
  Disorder disorder(7);
  std::size_t put = 0;
  for (const Shipped& file : shipped()) {
    const Parsed before = parse_text(file.text);
    for (int round = 0; round < 10; ++round) {
      std::size_t remarks = before.tree.remarks.size();
      const std::size_t there = remarks;
      const Parsed after = parse_text(tidy_text(disorder.with_remarks(file.text, remarks)));
      CAPTURE(file.path);
      CHECK(after.codes() == "");
      CHECK(after.tree.nodes.size() == before.tree.nodes.size());
      CHECK(after.tree.remarks.size() == remarks);
      put += remarks - there;
    }
  }
  CHECK(put > 1000);
}

TEST_CASE("tidy: two texts that say something else are told apart") {
  const auto same = [](const std::string& a, const std::string& b) {
    const Parsed one = parse_text(first_line + a);
    const Parsed other = parse_text(first_line + b);
    return tidy::same_reading(one.tree, one.files.text(one.tree.file), other.tree, other.files.text(other.tree.file));
  };
  const std::string phase = "phase \"A\"\n  take off gown\n  if soil on gown\n    resume\n  end if\nend phase\n";
  CHECK(same(phase, phase));
  CHECK(same(phase, "phase \xE2\x80\x9C" "A\xE2\x80\x9D\ntake  off gown\nif soil on gown\nresume\nend if\nend phase"));
  CHECK_FALSE(same(phase, "phase \"A\"\n  take off  gowns\n  if soil on gown\n    resume\n  end if\nend phase\n"));
  CHECK_FALSE(same(phase, "phase \"A \"\n  take off gown\n  if soil on gown\n    resume\n  end if\nend phase\n"));
  CHECK_FALSE(same(phase, "phase \"A\"\n  if soil on gown\n  take off gown\n    resume\n  end if\nend phase\n"));
  CHECK_FALSE(same(phase, "phase \"A\"\n  take off gown\n  if soil on gown\n  end if\n  resume\nend phase\n"));
  CHECK_FALSE(same(phase, phase + "# more\n"));
}
