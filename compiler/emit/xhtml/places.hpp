#pragma once
// Where the next block of a page goes: the open section, and in it one open list for every level of branches.
//
// A sheet is a flat row of blocks that know how far they are set in. On a page, a branch is a list inside of the item
// that it hangs on, so that a screen reader tells how deep one is where a sighted reader sees bars. The lists are not
// numbered ones: a browser that leaves out the styles (a reading view, a copy into a letter) would count them by itself,
// and a second number beside that of a step could send somebody to the wrong one.

#include <vector>

#include "emit/document/document.hpp"
#include "emit/xhtml/markup.hpp"

namespace stepward::emit::xhtml {

class Places {
 public:
  explicit Places(pugi::xml_node main) : main_(main), section_(main) {}

  /// A new section, in which no list is open.
  pugi::xml_node open_section(const std::string& classes);
  /// Where a block goes that stands in no list.
  pugi::xml_node outside_of_lists();
  /// A new item of the list of this level.
  pugi::xml_node item(Level level);
  /// Where the title of a new branch goes; the lists of its level and below are over.
  pugi::xml_node before_branch(Level level);

 private:
  struct List {
    Level level;
    pugi::xml_node list, last;  ///< `last`: its newest item
  };

  void close_lists(Level from);
  pugi::xml_node parent_of_new_list() const;

  pugi::xml_node main_, section_;
  std::vector<List> lists_;
};

}  // namespace stepward::emit::xhtml
