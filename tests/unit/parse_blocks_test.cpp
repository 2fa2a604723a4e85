// Heads and ends, details and the lines they belong to, and every way in which they can go wrong.
#include <doctest/doctest.h>

#include <chrono>
#include <string>

#include "parse/placement.hpp"
#include "parse_samples.hpp"

using namespace stepward;
using namespace stepward::tests;
using syntax::NodeKind;

namespace {

/// A tree in one line: heads with their children in brackets; plain lines show their first word.
std::string outline(const syntax::Tree& tree, syntax::NodeId id) {
  const syntax::Node& node = tree[id];
  std::string out(node.kind == NodeKind::plain ? node.phrase.at(0).text : std::string(parse::words_of(node.kind)));
  if (node.children.empty()) return out;
  out += '(';
  for (std::size_t i = 0; i < node.children.size(); ++i) out += (i ? " " : "") + outline(tree, node.children[i]);
  return out + ')';
}

std::string outline(const Parsed& file) {
  std::string out;
  for (const syntax::NodeId id : file.tree.root().children) out += (out.empty() ? "" : " ") + outline(file.tree, id);
  return out;
}

std::string repeated(std::string_view text, int times) {
  std::string all;
  for (int i = 0; i < times; ++i) all += text;
  return all;
}

}  // namespace

TEST_CASE("blocks: details hang on the action above, arms stand in order") {
  const Parsed file = steps(
      "move to bay\n  say \"Step in.\"\n  because \"x\"\nif soil on suit\n  take off suit\n    known as suit-off\n"
      "otherwise if tear on suit\n  call \"help\"\notherwise\n  do nothing more\n    note \"x\"\nend if\nresume");
  CHECK(file.codes() == "");
  CHECK(outline(file) ==
        "phase(move(say because) if(take(known as) otherwise if call otherwise do(note)) resume)");
}

TEST_CASE("blocks: a repeat keeps its until and its fallback in order") {
  const Parsed file =
      steps("repeat at most 3 times\n  test seal\nuntil seal is good\nif still not\n  finish as x\nend repeat");
  CHECK(file.codes() == "");
  CHECK(outline(file) == "phase(repeat(test until if still not finish as))");
}

TEST_CASE("blocks: the lines under an ending describe it") {
  const Parsed file = parse_text(
      "stepward 1 protocol\nendings\n  clear exit is normal\n    wearer is in lobby\n    clean bare hands of wearer\n"
      "  hurt exit is emergency, continue with VIR-P08\nend endings\n");
  CHECK(file.codes() == "");
  CHECK(outline(file) == "endings(clear(wearer clean) hurt)");
  CHECK(parse_text("stepward 1 protocol\nendings\n  wearer is in lobby\nend endings\n").codes() == "L403:3");
}

TEST_CASE("blocks: a reason belongs to the exclusion above it or to its rule") {
  const Parsed file = parse_text(
      "stepward 1 protocol\nvariants\n  suit is gown or coverall\n  never together gown with shoes\n    because \"x\"\n"
      "end variants\nrule R1 x\n  never a\n  because \"x\"\nend rule\n");
  CHECK(file.codes() == "");
  CHECK(outline(file) == "variants(suit never together(because)) rule(never because)");
}

TEST_CASE("blocks: the same word may be a declaration and a line of an item") {
  const Parsed file =
      parse_text("stepward 1 library\nkind gloves\nitem inner gloves\n  kind gloves\nend item\nkind suit\n");
  CHECK(file.codes() == "");
  CHECK(outline(file) == "kind item(kind) kind");
}

TEST_CASE("blocks: the end of a block is remembered") {
  const Parsed file = steps("move to bay");
  CHECK(file.text(file.tree[file.tree.root().children.at(0)].closed_by) == "end phase");
}

TEST_CASE("slips: a block that is not closed is named where it opened") {
  const Parsed inner = steps("if soil on suit\n  take off suit");
  CHECK(inner.codes() == "L301:3");
  REQUIRE(inner.sink[0].places.size() == 1);
  CHECK(inner.files.position(inner.tree.file, inner.sink[0].places[0].span.begin).line == 5);
  CHECK(outline(inner) == "phase(if(take))");
  CHECK(parse_text("stepward 1 protocol\nphase \"A\"\n  move to x\nphase \"B\"\n  move to y\nend phase\n").codes() ==
        "L301:2");
  CHECK(parse_text("stepward 1 library\nitem a\n  kind b\nitem c\n  kind d\nend item\nkind e\n").codes() == "L301:2");
  CHECK(parse_text("stepward 1 library\nrole a\nkind gloves\nkind suit\n").codes() == "L301:2");
  CHECK(parse_text("stepward 1 protocol\nphase \"A\"\n  move to x\n").codes() == "L301:2");
}

TEST_CASE("slips: the first end that is indented oddly is shown as the likely place") {
  const Parsed file = steps("  if a on b\n    if c on d\n      move to x\n  end if\n  move to y");
  CHECK(file.codes() == "L301:3");
  REQUIRE(file.sink[0].places.size() == 2);
  CHECK(file.sink[0].places[1].caption == "indentation differs");
  CHECK(file.files.position(file.tree.file, file.sink[0].places[1].span.begin).line == 6);
}

TEST_CASE("slips: a stray end closes nothing and costs one finding") {
  CHECK(steps("move to x\nend if\nmove to y").codes() == "L302:4");
  CHECK(parse_text("stepward 1 protocol\nend phase\nkind a\n").codes() == "L302:2");
}

TEST_CASE("slips: a wrong word after end closes what is open") {
  const Parsed file =
      parse_text("stepward 1 protocol\nphase \"A\"\n  move to x\nend routine\nphase \"B\"\n  move to y\nend phase\n");
  CHECK(file.codes() == "L303:4");
  CHECK(outline(file) == "phase(move) phase(move)");
  CHECK(steps("if a on b\n  move to x\nend only\nmove to y").codes() == "L303:5");
  CHECK(steps("if a on b\n  move to x\nend\nmove to y").codes() == "L304:5");
  CHECK(steps("if a on b\n  move to x\nend fi\nmove to y").codes() == "L304:5");
}

TEST_CASE("slips: words behind an end are not read") {
  CHECK(parse_text("stepward 1 protocol\nphase \"A\"\n  move to x\nend phase \"A\"\n").codes() == "L306:4");
}

TEST_CASE("slips: lines in the wrong place are named with the place they belong to") {
  const Parsed zone = parse_text("stepward 1 library\nzone a\n  worn on face\nend zone\nstrength 5 percent\n");
  CHECK(zone.codes() == "L402:3 L408:5");
  CHECK(zone.sink[0].args == std::vector<std::string>{"worn on", "zone", "item"});
  CHECK(steps("given place, any surface").codes() == "L402:3");
  CHECK(steps("happens face is soiled").codes() == "L402:3");
  CHECK(steps("phase \"B\"\n  move to x\nend phase\nmove to y").codes() == "L402:3");
}

TEST_CASE("slips: otherwise and until need their block") {
  CHECK(steps("otherwise\nmove to x").codes() == "L404:3");
  CHECK(steps("if a on b\n  only for gown\n    otherwise\n  end only\nend if").codes() == "L404:5");
  CHECK(steps("if a on b\notherwise\notherwise if c on d\nend if").codes() == "L405:5");
  CHECK(steps("until a on b").codes() == "L406:3");
  CHECK(steps("if still not").codes() == "L406:3");
  CHECK(steps("repeat at most 2 times\n  test seal\nend repeat").codes() == "L407:3");
  CHECK(steps("repeat at most 2 times\n  test seal\nuntil a on b\nend repeat").codes() == "L407:3");
}

TEST_CASE("slips: a detail needs an action above it") {
  CHECK(steps("say \"x\"").codes() == "L403:3");
  CHECK(steps("if a on b\n  note \"x\"\nend if").codes() == "L403:4");
  CHECK(steps("if a on b\nend if\nnote \"x\"").codes() == "L403:5");
}

TEST_CASE("slips: a misspelt head is answered with the line that was meant, and its block is still read") {
  const Parsed file =
      parse_text("stepward 1 library\nzoen bay\n  risk hihg %\n  riks low\nend zone\nbodi site eyes\nkind a\n");
  CHECK(file.codes() == "L202:3 L409:2 L401:4 L409:6");
  CHECK(file.sink[1].fix == "zone bay");
  CHECK(file.sink[2].fix == "risk low");
  CHECK(file.sink[3].fix == "body site eyes");
  CHECK(outline(file) == "kind");
}

TEST_CASE("slips: a heading that nobody understands costs one finding, not one for each line under it") {
  const Parsed file = parse_text(
      "stepward 1 protocol\nTake everything off\n  move to x\n  if a on b\n    say \"x\"\n  end if\nend phase\nkind a\n"
      "nor this\n");
  CHECK(file.codes() == "L409:2 L409:9");
}

TEST_CASE("indentation: it warns where it says something else than the ends") {
  CHECK(steps("  if a on b\n    move to x\n  move to y\n  end if").codes() == "L307:5");
  CHECK(steps("  if a on b\n    move to x\n    end if\n  move to y").codes() == "L307:5");
  CHECK(steps("  if a on b\nmove to x\n  end if").codes() == "L307:4");
}

TEST_CASE("indentation: none at all, and tabs beside spaces, say nothing") {
  CHECK(steps("if a on b\nmove to x\nsay \"x\"\nend if\nmove to y").codes() == "");
  CHECK(steps("  if a on b\n\tmove to x\n  end if").codes() == "");
  CHECK(steps("  if a on b\n    move to x\n  otherwise\n    move to y\n  end if").codes() == "");
}

TEST_CASE("depth: sixty-four blocks are read, one more is one finding") {
  const Parsed deepest = steps(repeated("if a on b\n", 63) + repeated("end if\n", 63));
  CHECK(deepest.codes() == "");
  CHECK(steps(repeated("if a on b\n", 64) + repeated("end if\n", 64)).codes() == "L305:66");
  const Parsed endless = steps(repeated("if a on b\n", 100000));
  CHECK(endless.codes() == "L305:66");
  CHECK(endless.tree.nodes.size() == 1);
  CHECK(endless.tree.file_kind.empty());
}

TEST_CASE("placement: every head may stand somewhere, and every block has an inside") {
  for (int i = 1; i <= static_cast<int>(NodeKind::known_as); ++i) {
    const auto kind = static_cast<NodeKind>(i);
    CAPTURE(std::string(parse::words_of(kind)));
    CHECK(parse::interiors_of(kind) != 0);
    CHECK_FALSE(parse::holders_in_words(kind).empty());
    if (parse::is_block(kind)) {
      CHECK(parse::interior_of(kind) != parse::Interior::file);
    } else {
      CHECK(parse::interior_of(kind) == parse::Interior::file);
    }
  }
}

TEST_CASE("placement: only these blocks hold steps") {
  std::string holders;
  for (int i = 1; i <= static_cast<int>(NodeKind::known_as); ++i) {
    const auto kind = static_cast<NodeKind>(i);
    if (parse::interior_of(kind) == parse::Interior::steps) holders += std::string(parse::words_of(kind)) + '/';
  }
  CHECK(holders == "routine/phase/any time/local change/only for/if/repeat/together/in any safe order/");
}

// Twenty megabytes where the compiler optimises; a tenth of that in debug and sanitizer builds.
TEST_CASE("size: a very large file is read, whether it is good or garbage") {
#ifdef NDEBUG
  const std::size_t bytes = std::size_t{20} << 20;
#else
  const std::size_t bytes = std::size_t{2} << 20;
#endif
  const std::string block =
      "phase \"A\"\n" + repeated("  take off outer gloves using glove in glove\n", 50) + "end phase\n";
  std::string good = "stepward 1 protocol\n";
  while (good.size() < bytes) good += block;
  const Parsed read = parse_text(good);
  CHECK(read.codes() == "");
  CHECK(read.tree.nodes.size() > bytes / 50);
  CHECK(parse_text("stepward 1 protocol\n" + std::string(bytes, '{')).codes() == "L202:2");
  CHECK(parse_text("stepward 1 protocol\n" + repeated("end if\n", static_cast<int>(bytes / 7))).sink.size() == 101);
}
