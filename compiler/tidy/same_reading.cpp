#include "tidy/same_reading.hpp"

#include <algorithm>

#include "tidy/spacing.hpp"

namespace stepward::tidy {
namespace {

using syntax::Node;
using syntax::Token;

bool same_token(const Token& a, const Token& b) {
  const bool same_letters = a.kind == syntax::TokenKind::quoted || a.written == b.written;
  return a.kind == b.kind && a.text == b.text && same_letters;
}

bool same_node(const Node& a, const Node& b) {
  return a.kind == b.kind && a.children == b.children && (a.closed_by.end > 0) == (b.closed_by.end > 0) &&
         std::equal(a.phrase.begin(), a.phrase.end(), b.phrase.begin(), b.phrase.end(), same_token);
}

}  // namespace

bool same_reading(const syntax::Tree& a, std::string_view text_a, const syntax::Tree& b, std::string_view text_b) {
  const auto same_remark = [&](source::Span in_a, source::Span in_b) {
    return without_blanks_behind(text_a.substr(in_a.begin, in_a.end - in_a.begin)) ==
           without_blanks_behind(text_b.substr(in_b.begin, in_b.end - in_b.begin));
  };
  return a.language_version == b.language_version && a.file_kind == b.file_kind &&
         std::equal(a.nodes.begin(), a.nodes.end(), b.nodes.begin(), b.nodes.end(), same_node) &&
         std::equal(a.remarks.begin(), a.remarks.end(), b.remarks.begin(), b.remarks.end(), same_remark);
}

}  // namespace stepward::tidy
