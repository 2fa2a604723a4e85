#pragma once
// The blocks of a sheet as elements of a page, one function for each kind.
//
// What a block says, its element says, in the order of the sheet, with the writer's own captions and nothing else: a
// test takes the words of every block back out of the page. Where something stands (the box at the left, the clock at
// the edge) is the business of the styles; the order of elements is the order in which a screen reader speaks.
// A tick box is an empty frame for a pen and no control: a tick on a shared screen would stay for the next wearer, who
// had not done that step.

#include <string>
#include <vector>

#include "emit/xhtml/links.hpp"
#include "emit/xhtml/places.hpp"
#include "emit/xhtml/table_writer.hpp"

namespace stepward::emit::xhtml {

class BlockWriter {
 public:
  BlockWriter(pugi::xml_node main, const Sheet& sheet);

  void write(const Block& block);

 private:
  void put(const ZoneBand& block);
  void put(const Heading& block);
  void put(const Paragraph& block);
  void put(const Step& block);
  void put(const Frame& block);
  void put(const Notice& block);
  void put(const BranchMark& block);
  void put(const BoxMark& block);
  void put(const EndMark& block);
  void put(const SayRow& block);
  void put(const TableHead& block);
  void put(const TableRow& block);
  void put(const Figure& block);

  pugi::xml_node heading(pugi::xml_node parent, const std::string& classes);
  void warnings(pugi::xml_node parent, const std::vector<Text>& all);
  void label(pugi::xml_node parent, const std::string& label, bool critical);
  void side_column(pugi::xml_node parent, const Step& block);
  void answers(pugi::xml_node parent, const std::vector<FrameRow>& rows);
  void said(pugi::xml_node parent, const SayRow& block);
  void looked_for(pugi::xml_node parent, const SayRow& block);

  const Sheet& sheet_;
  const Captions& captions_;
  Links links_;
  Places places_;
  TableWriter tables_;
  std::size_t headings_ = 0;
  std::string title_;  ///< id of the heading that the next table stands under; empty: none since the last table
};

}  // namespace stepward::emit::xhtml
