#pragma once
// What a file of words says, entry by entry, before it is held against anything.
//
//   words in Spanish for AMH-IP-012 version 2.0
//   name outer gloves "guantes exteriores" called "los guantes exteriores"
//   phrase "go on at [step]" "siga en [step]"
//   contract "de el" "del"
//   text for verb take off
//     from "TAKE OFF [item]. [technique]"
//     say  "QUÍTESE [item]. [technique]"
//   end text
//
// Words change nothing that happens: they are put in the place of texts when papers are made, and nothing else reads
// them. A file *for* a document belongs to that document, and every entry has to find its text there. One without
// `for` serves whatever uses it, as words for a library do: an entry about something that is not there is no mistake.

#include <string>
#include <vector>

#include "diagnostics/diagnostic.hpp"
#include "resolve/imports.hpp"
#include "source/files.hpp"
#include "syntax/tree.hpp"

namespace stepward::translation {

/// One translation. `to` is empty where the translator has not come to it yet.
struct Entry {
  std::string from, to;
  std::string called;             ///< names: with its article; may be empty
  source::Span span, from_span, to_span;
};

/// The texts under one `text for`.
struct Passage {
  std::string place;              ///< "verb take off", "routine cleanse hands", "phase apron", or what `known as` says
  source::Span place_span;
  std::vector<Entry> texts;
};

struct WordsFile {
  std::uint32_t file = 0;         ///< among the loaded files
  std::string language;           ///< empty: its heading is missing, which was reported
  source::Span heading;
  std::string of_number, of_version;
  std::vector<Entry> names, phrases, contractions;
  std::vector<Passage> passages;

  bool is_general() const { return of_number.empty(); }
};

/// Every file of words among the loaded files, in their order. Reports lines that stop early, headings that are
/// missing or said twice, and whatever else stands in such a file or such lines in another one.
std::vector<WordsFile> read_words(const resolve::Loaded& loaded, const source::Files& files, diagnostics::Sink& sink);

}  // namespace stepward::translation
