#include "emit/xhtml/table_writer.hpp"

#include <algorithm>

#include "emit/xhtml/style.hpp"

namespace stepward::emit::xhtml {

namespace {

using What = Column::What;

const char* class_of(What what) {
  switch (what) {
    case What::words: return "words";
    case What::figure: return "figure";
    case What::label: return "number";
    case What::tick: return "box";
    case What::pen:
    case What::field: return "pen";
  }
  return "";
}

bool has_captions(const Table& columns) {
  return !is_of_fields(columns) && std::any_of(columns.begin(), columns.end(), [](const Column& column) { return !column.caption.empty(); });
}

bool is_written_in(const Table& columns) {
  return std::any_of(columns.begin(), columns.end(), [](const Column& column) { return column.what == What::pen; });
}

bool has_number(const Table& columns) { return !columns.empty() && columns.front().what == What::label; }

/// Nothing is lost when the cells of such a table share one cell.
bool is_only_words(const Table& columns) {
  return !has_captions(columns) &&
         std::all_of(columns.begin(), columns.end(), [](const Column& c) { return c.what == What::words || c.what == What::label; });
}

}  // namespace

/// What is still to be put into the cells of a row.
struct TableWriter::Cells {
  const TableRow& row;
  std::size_t next = 0;     ///< the first of `row.cells` that has no cell yet
  bool has_head = false;    ///< some cell is the head of the row
  bool told = false;        ///< the word CRITICAL stands in some cell
};

bool TableWriter::takes(const TableRow& row) const {
  if (!is_open()) return false;
  if (row.table == number_ || is_of_fields(sheet_.tables[row.table])) return true;
  const bool has_room = row.label.empty() || (has_number(sheet_.tables[number_]) && sheet_.tables[number_].size() > 1);
  return has_room && !row.critical && is_only_words(sheet_.tables[row.table]);
}

void TableWriter::open(pugi::xml_node parent, std::size_t table, const std::string& titled) {
  const Table& columns = sheet_.tables[table];
  number_ = table;
  table_ = add(parent, "table", class_of_table(table) + (is_written_in(columns) ? " to-fill-in" : ""));
  pugi::xml_node widths = add(table_, "colgroup");
  for (std::size_t i = 0; i < columns.size(); ++i) add(widths, "col");
  if (!titled.empty()) set(table_, "aria-labelledby", titled);
  if (has_captions(columns)) captions(columns);
  rows_ = add(table_, "tbody");
  new_line(parent);
}

/// A column that has no caption has no head either, since an empty one would be announced.
void TableWriter::captions(const Table& columns) {
  pugi::xml_node line = add(add(table_, "thead"), "tr");
  for (const Column& column : columns) {
    pugi::xml_node cell = add_words(line, column.caption.empty() ? "td" : "th", class_of(column.what), column.caption);
    if (!column.caption.empty()) set(cell, "scope", "col");
  }
}

pugi::xml_node TableWriter::new_line_of_cells(const TableRow& row) {
  new_line(rows_);
  pugi::xml_node line = add(rows_, "tr", row.critical ? "critical" : "");
  links_.mark(line, row.label);
  return line;
}

void TableWriter::row(const TableRow& row) {
  if (is_of_fields(sheet_.tables[row.table])) return fields_across(row);
  if (row.table != number_) return row_across(row);
  pugi::xml_node line = new_line_of_cells(row);
  Cells cells{row};
  for (const Column& column : sheet_.tables[number_]) cell(line, column, cells);
}

void TableWriter::cell(pugi::xml_node line, const Column& column, Cells& cells) {
  if (column.what == What::tick) {
    add(add(line, "td", "box"), "span", "tick");
  } else if (column.what == What::pen) {
    add(line, "td", "pen");
  } else if (column.what == What::label && !cells.row.label.empty()) {
    pugi::xml_node head = add(line, "th", "number");
    set(head, "scope", "row");
    add_words(head, "span", cells.row.critical ? "label in-disc" : "label", cells.row.label);
    cells.has_head = true;
  } else if (column.what == What::label) {
    add(line, "td", "number");
  } else {
    words_cell(line, column, cells);
  }
}

void TableWriter::words_cell(pugi::xml_node line, const Column& column, Cells& cells) {
  const Text text = cells.next < cells.row.cells.size() ? cells.row.cells[cells.next++] : Text{};
  const bool is_head = column.what == What::words && !cells.has_head && !plain_text(text).empty();
  pugi::xml_node cell = add(line, is_head ? "th" : "td", class_of(column.what));
  if (is_head) set(cell, "scope", "row");
  cells.has_head |= is_head;
  links_.say(cell, text);
  if (!cells.row.critical || cells.told) return;
  add(cell, "br");
  add_words(cell, "strong", "caption", sheet_.captions.critical);
  cells.told = true;
}

/// The number keeps its column where there is one; all words share the others.
void TableWriter::row_across(const TableRow& row) {
  pugi::xml_node line = new_line_of_cells(row);
  std::size_t columns = sheet_.tables[number_].size();
  if (columns > 1 && has_number(sheet_.tables[number_])) {
    add_words(add(line, "td", "number"), "span", "label", row.label);
    --columns;
  }
  pugi::xml_node cell = add(line, "td", "words");
  set(cell, "colspan", std::to_string(columns));
  for (std::size_t i = 0; i < row.cells.size(); ++i) {
    if (i > 0) add(cell, "br");
    links_.say(cell, row.cells[i]);
  }
}

/// Each with room below its caption; how wide it is against the others is as on paper.
void TableWriter::fields_across(const TableRow& row) {
  pugi::xml_node line = new_line_of_cells(row);
  set(line, "class", "fields");
  pugi::xml_node cell = add(line, "td");
  set(cell, "colspan", std::to_string(sheet_.tables[number_].size()));
  pugi::xml_node list = add(cell, "ul", class_of_table(row.table));
  for (const Column& column : sheet_.tables[row.table]) add_words(list, "li", "", column.caption);
}

void TableWriter::title_of_rows(const Notice& notice) {
  rows_ = add(table_, "tbody");
  pugi::xml_node line = add(rows_, "tr");
  links_.mark(line, notice.label);
  pugi::xml_node cell = add(line, "th", "across");
  set(cell, "scope", "rowgroup");
  set(cell, "colspan", std::to_string(sheet_.tables[number_].size()));
  if (!notice.label.empty()) add_words(cell, "span", "label", notice.label + " ");
  links_.say(cell, notice.text);
}

}  // namespace stepward::emit::xhtml
