#pragma once
// Where the blocks of a page can be reached, and texts that lead there.
//
// "go on at 12" is a link to step 12. What a sheet does not hold cannot be linked to: a kit list may name a step of the
// card, and then stays plain words. The same label may stand twice on a sheet (a question and its answer); the first
// one is what is meant.

#include <set>
#include <string>

#include "emit/document/document.hpp"
#include "emit/xhtml/markup.hpp"

namespace stepward::emit::xhtml {

class Links {
 public:
  explicit Links(const Sheet& sheet);

  /// Gives `element` the id of this label, if it is the first with it.
  void mark(pugi::xml_node element, const std::string& label);
  /// A text at the end of `parent`: strong runs, and links to what is on the page.
  void say(pugi::xml_node parent, const Text& text) const;

 private:
  void say_run(pugi::xml_node parent, const Run& run) const;

  std::set<std::string> labels_;  ///< of the sheet
  std::set<std::string> marked_;  ///< those that an element has
};

/// The id of what carries this label: "step 3a" is "at-3a". Whatever is no letter, figure or full stop is written as its bytes.
std::string id_of(const std::string& label);

}  // namespace stepward::emit::xhtml
