#pragma once
// Every text of a protocol and its libraries that papers print, with the places that a file of words may find it by.
//
// A place is named as people name it: "verb take off", "technique roll down from inside", "routine cleanse hands",
// "phase apron", "any time wearer collapses", "set aside r12", "answer to …", and the line's own name where `known as` gives one. All
// in the form in which names are compared.

#include <string>
#include <vector>

#include "resolve/imports.hpp"

namespace stepward::translation {

struct SourceText {
  std::string text;
  source::Span span;                ///< of the quoted words
  std::vector<std::string> places;  ///< the line's own name last, if it has one
};

/// In the order of the files.
std::vector<SourceText> source_texts(const resolve::Loaded& loaded);

/// Every place of the loaded files, whether it has a text or not.
std::vector<std::string> places_of_texts(const resolve::Loaded& loaded);

}  // namespace stepward::translation
