#pragma once
// What a spoken text names, seen from the line that it stands at.
//
// A thing is *named* by its name, its `called` or `also called` phrases, by the last word of its name or its kind where
// the person wears nothing else that is called so, or by a placeholder. Where a line handles a variant choice, its text
// is held against every value that the choice can have there. In a library nobody wears anything yet, so every item that
// is declared counts.
#include <set>
#include <string>
#include <vector>

#include "model/protocol.hpp"
#include "model/variants.hpp"

namespace stepward::model::reading {

using Words = std::vector<std::string>;  ///< of a text, as wording::heard_words gives them

/// What each person may have on: the names that could be mistaken for each other.
class Wardrobe {
 public:
  Wardrobe(const Protocol& protocol, const Variant& variant);

  /// What `who` may wear besides; of nobody in particular, or in a library, everything that is declared.
  const std::set<ItemId>& of(RoleId who) const { return who && dressed_ ? worn_[who.value] : all_; }

 private:
  void add(RoleId who, ItemId item);

  std::vector<std::set<ItemId>> worn_;
  std::set<ItemId> all_;
  bool dressed_ = false;
};

/// One line in one variant.
class Naming {
 public:
  Naming(const Protocol& protocol, const Variant& variant, const Wardrobe& wardrobe, const Line& line)
      : protocol_(protocol), variant_(variant), wardrobe_(wardrobe), line_(line) {}

  bool names(const Words& words, const Thing& thing) const;
  /// Whether one of the line's things is named.
  bool names_one(const Words& words) const;
  /// An item of the protocol that the text names and the line does not handle; empty if there is none.
  std::string other_item(const Words& words) const;
  /// A thing of the line as a message names it.
  std::string phrase(const Thing& thing) const;

  /// By its whole name, or by what it is called.
  static bool names_whole(const Words& words, const Named& named);

 private:
  bool handles(ItemId item) const;
  RoleId whose(const Thing& thing) const { return thing.of ? thing.of : line_.of ? line_.of : line_.who; }
  bool names_item(const Words& words, ItemId item, RoleId who) const;

  const Protocol& protocol_;
  const Variant& variant_;
  const Wardrobe& wardrobe_;
  const Line& line_;
};

}  // namespace stepward::model::reading
