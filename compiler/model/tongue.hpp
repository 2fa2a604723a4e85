#pragma once
// In which language a protocol's papers speak.
//
// English is what every protocol is written in, and needs nothing. For another language `translation` fills the phrases
// that the papers are made of; `wording/phrases.hpp` says which there are and in what order they stand here.

#include <string>
#include <vector>

namespace stepward::model {

/// Words that are drawn together where a name is put into a phrase: "de" and "el" are "del".
struct Contraction { std::string apart, together; };

struct Tongue {
  std::string language = "English";
  std::string tag = "en";              ///< BCP 47
  std::vector<std::string> phrases;    ///< by position in the catalogue; empty: the English of the catalogue
  std::vector<Contraction> contractions;
};

}  // namespace stepward::model
