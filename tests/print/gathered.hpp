#pragma once
// Dossiers of protocols from memory and from files, and their words section by section: shared by the tests of the dossier.

#include <string>
#include <vector>

#include "driver/dossiers.hpp"
#include "emit/document/document.hpp"
#include "emit/pdf/laid_out.hpp"
#include "translation/names.hpp"

namespace stepward::test {

/// `text` with its first `from` as `to`; fails the test where there is none.
std::string with(std::string text, const std::string& from, const std::string& to);

/// Ten lines, one variant, nothing found, nobody asked: every level can be worked out with a pencil from meaning.md 3 ("touch: each becomes
/// the worse of its own level and the other's, soil only as suspicion"). `first` and `last` are where the two touches stand.
std::string ten_lines_touching(const std::string& first, const std::string& last);
/// The same with one line more: a clean shelf is met right after the first rub, and one slip at that rub is enough.
std::string with_a_weak_rub();

/// A protocol, read, walked and gathered.
struct Gathered {
  driver::Compilation made;
  emit::dossier::Facts facts;

  emit::Sheet sheet(const translation::Dictionary* words = nullptr) const;
};

Gathered gather(const std::string& text, const std::string& today = "2031-01-15");
Gathered gather_file(const std::string& file);

/// The words of a block, cells apart by " | ".
std::string words_of(const emit::Block& block);
std::vector<std::string> headings(const emit::Sheet& sheet);
/// What stands under a heading, one block a line, up to the next heading.
std::string under(const emit::Sheet& sheet, const std::string& heading);
void has(const std::string& text, const std::string& part);
void has_not(const std::string& text, const std::string& part);

}  // namespace stepward::test
