#include "parse/parse.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <utility>

#include "base/text.hpp"
#include "parse/blocks.hpp"
#include "parse/findings.hpp"
#include "parse/indentation.hpp"
#include "parse/intake.hpp"
#include "parse/lines.hpp"

namespace stepward::parse {
namespace {

using diagnostics::Code;
using syntax::Token;
using syntax::TokenKind;

constexpr int known_version = 1;
constexpr std::array<std::string_view, 4> file_kinds = {"protocol", "library", "rules", "words"};

/// The kind that the words of the first line name, or "protocol" as an example when they name none.
std::string kind_or_example(const std::vector<Token>& phrase) {
  for (const Token& token : phrase) {
    if (std::find(file_kinds.begin(), file_kinds.end(), token.text) != file_kinds.end()) return token.text;
  }
  return "protocol";
}

source::Span span_from(const Token& first, const Token& last) {
  return {first.span.file, first.span.begin, last.span.end};
}

void read_file_kind(const Token& word, syntax::Tree& tree, Findings& findings) {
  if (std::find(file_kinds.begin(), file_kinds.end(), word.text) != file_kinds.end()) {
    tree.file_kind = word.text;
  } else {
    findings.report(Code::L103, word.span, {'"' + word.written + '"'});
  }
}

void read_first_line(const Line& line, syntax::Tree& tree, Findings& findings) {
  const std::vector<Token>& phrase = line.phrase;
  if (phrase.size() < 2 || phrase[0].kind != TokenKind::number) {
    findings.report(Code::L101, line.span);
    return;
  }
  if (phrase[0].text != std::to_string(known_version)) {
    findings.report(Code::L102, phrase[0].span, {phrase[0].written, kind_or_example(phrase)});
  } else {
    tree.language_version = known_version;
  }
  read_file_kind(phrase[1], tree, findings);
  if (phrase.size() > 2) {
    findings.report(Code::L104, span_from(phrase[2], phrase.back()), {kind_or_example(phrase)});
  }
}

/// Reads the first line, or says that it is missing. Returns how many lines that took.
std::size_t read_opening(const std::vector<Line>& lines, syntax::Tree& tree, Findings& findings) {
  if (lines.empty()) {
    findings.report(Code::L101, {tree.file, 0, 0});
    return 0;
  }
  const Line& first = lines.front();
  if (first.form == LineForm::first) {
    read_first_line(first, tree, findings);
    return 1;
  }
  findings.report(Code::L101, first.span);
  const bool misspelt = first.head == syntax::NodeKind::plain && !first.phrase.empty() &&
                        text::edit_distance(first.phrase.front().text, "stepward") <= 2;
  return misspelt ? 1 : 0;
}

/// The tree of a file of which nothing is known. Later passes say nothing about such a file, so that the one finding
/// that tells what it is stays the only one.
syntax::Tree unread(source::FileId file, std::string_view text) {
  syntax::Tree tree;
  tree.file = file;
  tree.nodes.emplace_back();
  tree.nodes.front().span = {file, 0, static_cast<std::uint32_t>(std::min<std::size_t>(text.size(), UINT32_MAX))};
  return tree;
}

}  // namespace

syntax::Tree parse(source::FileId file, std::string_view text, diagnostics::Sink& sink) {
  Findings findings(sink);
  syntax::Tree tree = unread(file, text);
  if (!is_readable_text(file, text, findings)) return tree;

  Lines read = read_lines(file, text, findings);
  tree.remarks = std::move(read.remarks);
  const std::size_t first = read_opening(read.lines, tree, findings);
  const Pairing pairing = fold_blocks(read.lines, first, text, tree, findings);
  if (pairing.too_deep) return unread(file, text);
  if (pairing.balanced) check_indentation(read.lines, pairing.extents, text, findings);
  return tree;
}

}  // namespace stepward::parse
