#pragma once
// One language of a protocol: its files of words, held against the texts that are there now.
//
// A text is found by what it says: the same sentence is the same in the other language wherever it stands. So words made
// from a text that was changed since fit nothing any more, and are told as such instead of being printed. Files *for* a
// document come before those for a library, and both before nothing.
//
// Worked example. The protocol has at `blue tiles` the text "Come in. Stop on the blue tiles." The file of words has
//
//   text for blue tiles
//     from "Come in. Stop on the tiles."
//     say  "Pase. Párese sobre las baldosas."
//   end text
//
// No text says "Come in. Stop on the tiles."; the place `blue tiles` is there; so X404 shows both, and the paper keeps
// the new English text, marked as still to be said.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "model/protocol.hpp"
#include "source/files.hpp"
#include "translation/words_file.hpp"

namespace stepward::translation {

struct TranslatedName { std::string name, called; };

struct Dictionary {
  std::string language;
  source::Span heading;                          ///< of its first file
  std::map<std::string, std::string> texts;      ///< by the English text
  std::map<std::string, TranslatedName> names;   ///< by the English name, in the form in which names are compared
  std::map<std::size_t, std::string> phrases;    ///< by position in the catalogue
  std::vector<model::Contraction> contractions;
  bool has_mistakes = false;                     ///< something was reported: what is missing because of it is not told again

  const std::string* text(const std::string& english) const;
  const TranslatedName* name(const std::string& english) const;
};

/// One dictionary for each language that the files of words speak, in the order in which they are first named.
/// Reports what does not fit: another document or version, texts that changed, unknown places, names and phrases, gaps
/// that are lost, figures that differ, and two translations of one thing.
std::vector<Dictionary> dictionaries(const resolve::Loaded& loaded, const model::Protocol& protocol, const source::Files& files,
                                     diagnostics::Sink& sink);

/// Every name that a paper of this protocol may print, in the form in which names are compared.
std::vector<std::string> names_in(const model::Protocol& protocol);

}  // namespace stepward::translation
