#pragma once
// The tables of a page: captions as column heads, the number of a row or its first words as the head of the row.
//
// The rows of a sheet's table may be parted by a line of words, or by rows of another table without captions (the
// answers below a question). On a page both are rows of the open table that run across it: one table is one set of
// columns for a screen reader, and its captions are said once.

#include "emit/xhtml/links.hpp"

namespace stepward::emit::xhtml {

class TableWriter {
 public:
  TableWriter(const Sheet& sheet, Links& links) : sheet_(sheet), links_(links) {}

  bool is_open() const { return static_cast<bool>(table_); }
  /// The table is over: other blocks follow.
  void close() { table_ = {}; }

  /// A new table at the end of `parent`. `titled`: the id of the heading it stands under, or empty.
  void open(pugi::xml_node parent, std::size_t table, const std::string& titled);
  /// A row; one of another table goes across the open one.
  void row(const TableRow& row);
  /// Words across the open table, which go for the rows below them.
  void title_of_rows(const Notice& notice);

  /// Whether this row may stand in the open table with all that it says.
  bool takes(const TableRow& row) const;

 private:
  struct Cells;
  void captions(const Table& columns);
  void cell(pugi::xml_node line, const Column& column, Cells& cells);
  void words_cell(pugi::xml_node line, const Column& column, Cells& cells);
  void row_across(const TableRow& row);
  void fields_across(const TableRow& row);
  pugi::xml_node new_line_of_cells(const TableRow& row);

  const Sheet& sheet_;
  Links& links_;
  pugi::xml_node table_, rows_;
  std::size_t number_ = 0;  ///< of the open table, in `Sheet::tables`
};

}  // namespace stepward::emit::xhtml
