#pragma once
// What somebody reads off a face: its four check words, or the text of its square code.
//
// Words come over a telephone, from a sheet behind foil, typed in a hurry: letters of either size, any dash, comma or blank between
// them. Any two check words are at least three slips apart, so a word that is one slip away from one of them can mean no other;
// it is taken for that one, and the answer says so.

#include <optional>
#include <string>
#include <vector>

namespace stepward::emit {

/// A word that is no check word, and the one it was taken for; none: none is like it.
struct Slip {
  std::string heard, meant;
};

struct Told {
  std::vector<std::string> words;     ///< four check words in the order in which they were told, as they were taken; none: it was a code
  std::vector<std::string> heard;     ///< the same as they were told
  std::vector<Slip> slips;
  std::string number, version, hash;  ///< of a code; only the hash has to be there

  bool is_code() const { return words.empty(); }
};

/// Nothing if it is neither; then `why` says what is wrong with it.
std::optional<Told> told(const std::string& text, std::string& why);

/// "heron – cello – lettuce – nutmeg"
std::string in_one_line(const std::vector<std::string>& words);

/// The four words of a sheet, one by one.
std::vector<std::string> words_apart(const std::string& check_words);

}  // namespace stepward::emit
