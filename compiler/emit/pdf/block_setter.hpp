#pragma once
// Sets one block of a sheet as a galley. The look of every kind of block is decided here and nowhere else.

#include <functional>

#include "emit/document/document.hpp"
#include "emit/pdf/galley.hpp"
#include "emit/pdf/paper.hpp"

namespace stepward::emit::pdf {

/// The face on which the block with this label stands, from 1; 0: not known yet.
using FaceOf = std::function<int(const std::string& label)>;

class BlockSetter {
 public:
  /// Typesetter, look and sheet must outlive the setter.
  BlockSetter(Typesetter& typesetter, const Look& look, const Sheet& sheet, FaceOf face_of)
      : type_(typesetter), look_(look), captions_(sheet.captions), tables_(sheet.tables), face_of_(std::move(face_of)) {}

  /// `face`: where the block itself stands, so that a reference says a page only when that is another one.
  Galley set(const Block& block, int face);

 private:
  Galley set(const ZoneBand& block);
  Galley set(const Heading& block);
  Galley set(const Paragraph& block);
  Galley set(const Step& block);
  Galley set(const Frame& block);
  Galley set(const Notice& block);
  Galley set(const BranchMark& block);
  Galley set(const BoxMark& block);
  Galley set(const EndMark& block);
  Galley stopping(const EndMark& block);
  Galley set(const SayRow& block);
  Galley set(const TableHead& block);
  Galley set(const TableRow& block);
  Galley fields(const TableRow& block);
  Galley set(const Figure& block);

  Text with_pages(const Text& text) const;
  double indent(Level level) const { return level * look_.set_in; }
  double warnings(Galley& galley, const std::vector<Text>& warnings, double size, double x, double y);
  double number_size(const std::string& label, bool branch) const;
  double pushed_by(const std::string& label, bool branch, double from, double right);
  double number(Galley& galley, const std::string& label, bool critical, double right, double baseline, bool branch);
  double side_needs(const Step& step);
  double side_column(Galley& galley, const Step& step, double y);
  double caption(Galley& galley, const std::string& words, double x, double y, double width);
  double beside(Galley& galley, const std::string& words, const Text& text, double size, double x, double y, double width);
  double say_side(Galley& galley, const SayRow& row, double x, double width);
  double look_side(Galley& galley, const SayRow& row, double x, double width);
  double critical_word(Galley& galley, const Layout& act, double x, double base, double below);
  double clock(Galley& galley, const std::string& time, double right, double y);
  std::vector<double> edges_of(const Table& table);
  void separate(Galley& galley, const Table& table, const std::vector<double>& edges);
  void finish(Galley& galley, Level level, double height, bool hairline);

  Typesetter& type_;
  const Look& look_;
  const Captions& captions_;
  const std::vector<Table>& tables_;
  FaceOf face_of_;
  int face_ = 0;
};

/// Capitals of any script.
std::string in_capitals(const std::string& text);

}  // namespace stepward::emit::pdf
