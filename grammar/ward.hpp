#pragma once
// The grammar of a source file: lines, heads, ends, quotes and words.
//
// A file is a first line and then lines; a line is a head from `keywords.def` and a phrase, or `end` and its words.
// That is all a grammar can know, because names consist of several plain words and may be declared anywhere: cutting a
// phrase into names is left to `resolve`. Nor does the grammar pair a head with its `end`: a wrong or missing `end` is
// the commonest slip of all, and only a list of what is open can say where the block began, so `parse` keeps that list.
// The grammar therefore holds no recursion, and no input can make it deep.
//
// Every byte of a valid UTF-8 text is read by some rule. What is wrong is read by an *error point*, a rule named for
// the slip (`unclosed_quote`, `odd_character`, …), so that reading goes on and one run finds every slip; `errors.hpp`
// gives each its code. Rules only: what is made of a match is decided in compiler/parse.
//
// `ward.ebnf` says the same for people.

#include <tao/pegtl.hpp>

#include "keyword.hpp"

namespace stepward::grammar {

namespace pegtl = tao::pegtl;

// ---- characters ----------------------------------------------------------------------------------------------------

struct newline : pegtl::one<'\n'> {};

/// One blank, also those that come with text pasted from elsewhere.
struct blank {
  using rule_t = blank;
  using subs_t = pegtl::empty_list;

  template <typename Input>
  static bool match(Input& in) {
    const std::size_t length = blank_length({in.current(), static_cast<std::size_t>(in.end() - in.current())});
    if (length > 0) in.bump(length);
    return length > 0;
  }
};
struct blanks : pegtl::plus<blank> {};
struct byte_order_mark : pegtl::utf8::one<0xFEFF> {};

struct digits : pegtl::plus<pegtl::digit> {};

/// Letters of every script: the blocks that hold letters and marks, without the punctuation and symbols between them.
struct letter : pegtl::sor<pegtl::alpha, pegtl::utf8::range<0xC0, 0xD6>, pegtl::utf8::range<0xD8, 0xF6>,
                           pegtl::utf8::range<0xF8, 0x167F>, pegtl::utf8::range<0x1681, 0x1FFF>,
                           pegtl::utf8::range<0x200C, 0x200D>, pegtl::utf8::range<0x2C00, 0x2DFF>,
                           pegtl::utf8::range<0x3041, 0xD7FF>, pegtl::utf8::range<0xF900, 0xFDFF>,
                           pegtl::utf8::range<0xFE70, 0xFEFE>, pegtl::utf8::range<0x10000, 0x1EFFF>,
                           pegtl::utf8::range<0x20000, 0x3FFFF>> {};
struct apostrophe : pegtl::sor<pegtl::one<'\''>, pegtl::utf8::one<0x2019>> {};
struct word_character : pegtl::sor<letter, pegtl::digit, pegtl::one<'-'>, apostrophe> {};
struct word_end : pegtl::not_at<word_character> {};

// ---- words, numbers, dates -----------------------------------------------------------------------------------------

struct word : pegtl::seq<pegtl::sor<letter, pegtl::digit>, pegtl::star<word_character>> {};
struct number : pegtl::seq<digits, pegtl::opt<pegtl::one<'.'>, digits>, word_end> {};
/// 1.0.2, the number of an edition: no number to reckon with, so it is read as a word.
struct dotted_number : pegtl::seq<digits, pegtl::rep_min<2, pegtl::one<'.'>, digits>, word_end> {};
struct date : pegtl::seq<pegtl::rep<4, pegtl::digit>, pegtl::one<'-'>, pegtl::rep<2, pegtl::digit>, pegtl::one<'-'>,
                         pegtl::rep<2, pegtl::digit>, word_end> {};
/// 1:10 is read, so that it can be refused with both of its meanings.
struct ratio : pegtl::seq<digits, pegtl::star<blank>, pegtl::one<':'>, pegtl::star<blank>, digits, word_end> {};
struct comma : pegtl::one<','> {};

// ---- quotes --------------------------------------------------------------------------------------------------------

struct straight_mark : pegtl::one<'"'> {};
struct left_mark : pegtl::utf8::one<0x201C> {};
struct right_mark : pegtl::utf8::one<0x201D> {};
struct low_mark : pegtl::utf8::one<0x201E> {};
struct quote_mark : pegtl::sor<straight_mark, left_mark, right_mark, low_mark> {};

/// The text up to one of `Marks` on the same line, and that mark.
template <typename... Marks>
struct quoted_up_to
    : pegtl::seq<pegtl::star<pegtl::not_at<pegtl::sor<newline, Marks...>>, pegtl::utf8::any>, pegtl::sor<Marks...>> {};

/// Straight quotes may hold curly ones; where no straight quote closes, a curly one does.
struct straight_quote : pegtl::seq<straight_mark, pegtl::sor<quoted_up_to<straight_mark>, quoted_up_to<right_mark>>> {};
struct curly_quote : pegtl::seq<left_mark, quoted_up_to<right_mark, straight_mark>> {};
struct low_quote : pegtl::seq<low_mark, quoted_up_to<left_mark, right_mark, straight_mark>> {};
struct right_quote : pegtl::seq<right_mark, quoted_up_to<right_mark, straight_mark>> {};
struct quoted : pegtl::sor<straight_quote, curly_quote, low_quote, right_quote> {};

// ---- error points --------------------------------------------------------------------------------------------------

/// A quote that no mark closes takes the rest of its line.
struct unclosed_quote : pegtl::seq<quote_mark, pegtl::star<pegtl::not_at<newline>, pegtl::utf8::any>> {};
/// 0,5 could be one number or two entries of a list.
struct decimal_comma : pegtl::seq<digits, pegtl::one<','>, digits, word_end> {};
/// Anything that no other rule reads.
struct odd_character
    : pegtl::seq<pegtl::not_at<pegtl::one<'#', '\n'>>, pegtl::sor<pegtl::utf8::any, pegtl::any>> {};

// ---- phrases -------------------------------------------------------------------------------------------------------

struct token : pegtl::sor<quoted, unclosed_quote, date, ratio, decimal_comma, dotted_number, number, word, comma,
                          odd_character> {};
struct phrase : pegtl::star<pegtl::sor<blanks, token>> {};
struct remark : pegtl::seq<pegtl::one<'#'>, pegtl::star<pegtl::not_at<newline>, pegtl::utf8::any>> {};

// ---- heads, from the keyword list ----------------------------------------------------------------------------------

/// What must follow a head beyond its words. Only `if not` needs a second look: it opens a detail when a quoted text
/// follows, else it is the question `if` about something that is not.
template <FixedText Words>
struct after_head : pegtl::success {};
template <>
struct after_head<"if not"> : pegtl::at<pegtl::until<quote_mark, pegtl::not_at<newline>, pegtl::utf8::any>> {};

#define STEPWARD_HEAD(id, words, closes) \
  struct head_##id : pegtl::seq<keyword<words>, after_head<words>> {};
#include "keywords.def"

struct any_head : pegtl::sor<
#define STEPWARD_HEAD(id, words, closes) head_##id,
#include "keywords.def"
                      pegtl::failure> {};

#define STEPWARD_HEAD(id, words, closes) \
  struct closing_##id : keyword<closes> {};
#include "keywords.def"

struct any_closing : pegtl::sor<
#define STEPWARD_HEAD(id, words, closes) closing_##id,
#include "keywords.def"
                         pegtl::failure> {};

// ---- lines ---------------------------------------------------------------------------------------------------------

/// A mark that a list pasted from a word processor leaves at the front of a line. `2 pair gloves` carries none.
struct bullet : pegtl::seq<pegtl::sor<pegtl::one<'-', '*'>,
                                      pegtl::utf8::one<0x2022, 0x2023, 0x2013, 0x2014, 0xB7, 0x25AA, 0x25CF, 0x25E6>,
                                      pegtl::seq<digits, pegtl::one<'.', ')'>>>,
                           blanks> {};
struct margin : pegtl::sor<pegtl::seq<blanks, pegtl::opt<bullet>>, bullet> {};

struct end_word : keyword<"end"> {};
struct ending_line : pegtl::seq<end_word, pegtl::opt<blanks, any_closing>, phrase> {};
struct headed_line : pegtl::seq<any_head, phrase> {};
struct plain_line : pegtl::seq<token, phrase> {};
struct content : pegtl::sor<ending_line, headed_line, plain_line> {};

struct line_text : pegtl::sor<pegtl::seq<margin, pegtl::opt<content>, pegtl::opt<remark>>,
                              pegtl::seq<content, pegtl::opt<remark>>, remark> {};
struct line : pegtl::sor<newline, pegtl::seq<line_text, pegtl::sor<newline, pegtl::eof>>> {};

struct empty_line : pegtl::seq<pegtl::star<blank>, pegtl::opt<remark>, newline> {};
struct language_word : keyword<"stepward"> {};
struct first_line : pegtl::seq<pegtl::star<blank>, language_word, phrase, pegtl::opt<remark>> {};

struct file : pegtl::seq<pegtl::opt<byte_order_mark>, pegtl::star<empty_line>, pegtl::opt<first_line>,
                         pegtl::until<pegtl::eof, line>> {};

// ---- facts about the keyword list ---------------------------------------------------------------------------------

inline constexpr std::array head_keywords = {
#define STEPWARD_HEAD(id, words, closes) std::string_view(words),
#include "keywords.def"
};
static_assert(keeps_longest_first(head_keywords), "a head stands behind a shorter head that is its beginning");

}  // namespace stepward::grammar

namespace TAO_PEGTL_NAMESPACE {

template <typename Name>
struct analyze_traits<Name, stepward::grammar::blank> : analyze_any_traits<> {};

}  // namespace TAO_PEGTL_NAMESPACE
