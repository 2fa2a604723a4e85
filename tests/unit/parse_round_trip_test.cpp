// A tree written out again, line by line without indentation, reads as the same tree: nothing of a file is lost or
// moved on the way. Held against every file of the library and the examples.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "parse/placement.hpp"
#include "parse_samples.hpp"

namespace fs = std::filesystem;
using namespace stepward;
using namespace stepward::tests;

namespace {

void write_line(const syntax::Node& node, std::string& out) {
  std::string line(parse::words_of(node.kind));
  for (const syntax::Token& token : node.phrase) line += (line.empty() ? "" : " ") + token.written;
  out += line + '\n';
}

// Blocks are at most 64 deep, so this may call itself.
void write_node(const syntax::Tree& tree, syntax::NodeId id, std::string& out) {
  const syntax::Node& node = tree[id];
  write_line(node, out);
  for (const syntax::NodeId child : node.children) write_node(tree, child, out);
  if (parse::is_block(node.kind)) out += "end " + std::string(parse::closes_of(node.kind)) + '\n';
}

std::string written_out(const syntax::Tree& tree) {
  std::string out = "stepward " + std::to_string(tree.language_version) + ' ' + tree.file_kind + '\n';
  for (const syntax::NodeId id : tree.root().children) write_node(tree, id, out);
  return out;
}

/// Everything of a tree but its spans: kinds, depth, and the tokens as compared.
std::string described(const syntax::Tree& tree, syntax::NodeId id, int depth) {
  const syntax::Node& node = tree[id];
  std::string out(static_cast<std::size_t>(depth), ' ');
  out += std::to_string(static_cast<int>(node.kind));
  for (const syntax::Token& token : node.phrase) out += '|' + std::to_string(static_cast<int>(token.kind)) + token.text;
  out += '\n';
  for (const syntax::NodeId child : node.children) out += described(tree, child, depth + 1);
  return out;
}

std::string described(const syntax::Tree& tree) { return described(tree, syntax::NodeId(std::size_t{0}), 0); }

std::string text_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

}  // namespace

TEST_CASE("round trip: every file of the library and the examples reads the same when written out again") {
  std::size_t files = 0;
  for (const char* folder : {"stdlib-procedures", "examples"}) {
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(STEPWARD_SOURCE_DIR) / folder)) {
      if (entry.path().extension() != ".ward") continue;
      CAPTURE(entry.path().string());
      const Parsed first = parse_text(text_of(entry.path()));
      CHECK(first.codes() == "");
      const Parsed second = parse_text(written_out(first.tree));
      CHECK(second.codes() == "");
      CHECK(described(first.tree) == described(second.tree));
      CHECK(first.tree.nodes.size() == second.tree.nodes.size());
      ++files;
    }
  }
  CHECK(files > 10);
}

TEST_CASE("round trip: what was mended while reading stays mended") {
  const Parsed slipped = parse_text(
      "stepward 1 protocol\nphase \"A\"\n  if soil on gown\n    move to bay\n  say \"x\"\nphase \"B\"\n  move to bay\nend phase\n");
  CHECK(slipped.codes() == "L301:3 L301:2");
  const Parsed again = parse_text(written_out(slipped.tree));
  CHECK(again.codes() == "");
  CHECK(described(slipped.tree) == described(again.tree));
}
