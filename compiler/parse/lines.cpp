#include "parse/lines.hpp"

#include <optional>
#include <string>
#include <utility>

#include <tao/pegtl.hpp>

#include "base/text.hpp"
#include "errors.hpp"
#include "ward.hpp"

namespace stepward::parse {
namespace {

namespace pegtl = tao::pegtl;
using syntax::NodeKind;
using syntax::TokenKind;

/// What is known while the grammar runs: the line that is being read and all before it.
class Reading {
 public:
  Reading(source::FileId file, std::string_view text, Findings& findings)
      : file_(file), text_(text), findings_(findings) {}

  Lines finish() {
    finish_line();
    return std::move(lines_);
  }

  void set_margin(source::Span blanks) { margin_ = blanks; }
  void add_remark(source::Span span) { lines_.remarks.push_back(span); }

  void open(LineForm form, NodeKind head, std::string_view closes, source::Span span) {
    Line& line = current(span);
    line.form = form;
    line.head = head;
    line.closes = closes;
    line.head_span = span;
    line.span.end = span.end;
  }

  /// `end` was read before; this is what it closes.
  void close(std::string_view closes, source::Span span) {
    Line& line = current(span);
    line.closes = closes;
    line.head_span.end = span.end;
    line.span.end = span.end;
  }

  void add_token(TokenKind kind, std::string text, source::Span span) {
    Line& line = current(span);
    line.phrase.push_back({kind, std::move(text), written(span), span});
    line.span.end = span.end;
  }

  void finish_line() {
    if (line_) lines_.lines.push_back(std::move(*line_));
    line_.reset();
    margin_ = {};
    odd_reported_ = false;
  }

  /// The first odd character of a line is enough: the rest of a pasted table would only repeat it.
  void report_odd(source::Span span) {
    current(span).span.end = span.end;
    const auto code = grammar::finding_of<grammar::odd_character>::code;
    if (!std::exchange(odd_reported_, true)) report(code, span, {name(span)});
  }

  void report(diagnostics::Code code, source::Span span, std::vector<std::string> args) {
    findings_.report(code, span, std::move(args));
  }

  source::Span span(const char* begin, const char* end) const {
    return {file_, static_cast<std::uint32_t>(begin - text_.data()), static_cast<std::uint32_t>(end - text_.data())};
  }
  std::string_view text(source::Span span) const { return text_.substr(span.begin, span.end - span.begin); }
  std::string written(source::Span span) const { return std::string(text(span)); }

 private:
  Line& current(source::Span first) {
    if (!line_) {
      line_.emplace();
      line_->span = first;
      line_->head_span = {file_, first.begin, first.begin};
      line_->margin = margin_;
    }
    return *line_;
  }

  /// A character as it is named in a message.
  std::string name(source::Span span) const {
    const std::string_view bytes = text(span);
    const bool control = bytes.size() == 1 && (static_cast<unsigned char>(bytes[0]) < 0x20 || bytes[0] == 0x7F);
    return control ? std::string("a control character") : '"' + std::string(bytes) + '"';
  }

  source::FileId file_;
  std::string_view text_;
  Findings& findings_;
  Lines lines_;
  std::optional<Line> line_;
  source::Span margin_;
  bool odd_reported_ = false;
};

/// The text between the quote marks, of one byte or three each; an unclosed quote has only the first.
std::string unquote(std::string_view written, bool closed) {
  const auto mark_length = [](char byte) { return byte == '"' ? std::size_t{1} : std::size_t{3}; };
  written.remove_prefix(mark_length(written.front()));
  if (closed) written.remove_suffix(mark_length(written.back()));
  while (!closed && !written.empty() && (written.back() == ' ' || written.back() == '\r')) written.remove_suffix(1);
  return std::string(written);
}

// ---- what is made of each match ------------------------------------------------------------------------------------

void on_newline(Reading& reading, source::Span) { reading.finish_line(); }
void on_remark(Reading& reading, source::Span span) { reading.add_remark(span); }
void on_margin(Reading& reading, source::Span span) {
  std::size_t length = 0;
  for (std::size_t next = 1; next > 0; length += next) next = grammar::blank_length(reading.text(span).substr(length));
  reading.set_margin({span.file, span.begin, span.begin + static_cast<std::uint32_t>(length)});
}
void on_word(Reading& reading, source::Span span) {
  reading.add_token(TokenKind::word, text::fold(reading.text(span)), span);
}
void on_dotted_number(Reading& reading, source::Span span) { on_word(reading, span); }
void on_number(Reading& reading, source::Span span) {
  reading.add_token(TokenKind::number, reading.written(span), span);
}
void on_date(Reading& reading, source::Span span) { reading.add_token(TokenKind::date, reading.written(span), span); }
void on_ratio(Reading& reading, source::Span span) {
  reading.add_token(TokenKind::ratio, reading.written(span), span);
}
void on_comma(Reading& reading, source::Span span) { reading.add_token(TokenKind::comma, ",", span); }
void on_quoted(Reading& reading, source::Span span) {
  reading.add_token(TokenKind::quoted, unquote(reading.text(span), true), span);
}
void on_unclosed_quote(Reading& reading, source::Span span) {
  const std::string text = unquote(reading.text(span), false);
  reading.report(grammar::finding_of<grammar::unclosed_quote>::code, span, {text});
  reading.add_token(TokenKind::quoted, text, span);
}
void on_decimal_comma(Reading& reading, source::Span span) {
  std::string with_point = reading.written(span);
  with_point[with_point.find(',')] = '.';
  reading.report(grammar::finding_of<grammar::decimal_comma>::code, span, {reading.written(span), with_point});
  reading.add_token(TokenKind::number, with_point, span);
}
void on_odd_character(Reading& reading, source::Span span) { reading.report_odd(span); }
void on_end_word(Reading& reading, source::Span span) { reading.open(LineForm::ending, NodeKind::plain, {}, span); }
void on_language_word(Reading& reading, source::Span span) {
  reading.open(LineForm::first, NodeKind::plain, {}, span);
}

/// What happens when a rule has matched; nothing for most.
template <typename Rule>
struct action : pegtl::nothing<Rule> {};

#define STEPWARD_ON(rule)                                       \
  template <>                                                   \
  struct action<grammar::rule> {                                \
    template <typename Input>                                   \
    static void apply(const Input& in, Reading& reading) {      \
      on_##rule(reading, reading.span(in.begin(), in.end()));   \
    }                                                           \
  }
STEPWARD_ON(newline);
STEPWARD_ON(margin);
STEPWARD_ON(remark);
STEPWARD_ON(word);
STEPWARD_ON(dotted_number);
STEPWARD_ON(number);
STEPWARD_ON(date);
STEPWARD_ON(ratio);
STEPWARD_ON(comma);
STEPWARD_ON(quoted);
STEPWARD_ON(unclosed_quote);
STEPWARD_ON(decimal_comma);
STEPWARD_ON(odd_character);
STEPWARD_ON(end_word);
STEPWARD_ON(language_word);
#undef STEPWARD_ON

// A match of `head_zone` opens a line of kind `zone`; a match of `closing_zone` says that `end` closes such a block.
#define STEPWARD_HEAD(id, words, closes)                                                             \
  template <>                                                                                        \
  struct action<grammar::head_##id> {                                                                \
    template <typename Input>                                                                        \
    static void apply(const Input& in, Reading& reading) {                                           \
      reading.open(LineForm::statement, NodeKind::id, closes, reading.span(in.begin(), in.end()));   \
    }                                                                                                \
  };                                                                                                 \
  template <>                                                                                        \
  struct action<grammar::closing_##id> {                                                             \
    template <typename Input>                                                                        \
    static void apply(const Input& in, Reading& reading) {                                           \
      reading.close(closes, reading.span(in.begin(), in.end()));                                     \
    }                                                                                                \
  };
#include "keywords.def"

}  // namespace

Lines read_lines(source::FileId file, std::string_view text, Findings& findings) {
  Reading reading(file, text, findings);
  // Lazy tracking: only byte offsets are wanted here, and counting lines would cost most of the time.
  pegtl::memory_input<pegtl::tracking_mode::lazy, pegtl::eol::lf> input(text.data(), text.data() + text.size(), "");
  pegtl::parse<grammar::file, action>(input, reading);
  return reading.finish();
}

}  // namespace stepward::parse
