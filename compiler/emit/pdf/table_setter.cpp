// The rows of tables: the second half of block_setter.hpp.

#include <algorithm>

#include "emit/pdf/block_setter.hpp"

namespace stepward::emit::pdf {

namespace {

constexpr double cell_gap = 9;
constexpr double row_air = 0.7;  // of the air of other blocks: the rule below already parts rows
constexpr double row_line_shade = 0.45;
constexpr double pen_height = 10 * 72 / 25.4;  // handwriting with a gloved marker; common practice, no source

bool is_for_pen(const Column& column) { return column.what == Column::What::pen; }

bool is_field(const Column& column) { return column.what == Column::What::field; }

bool has_captions(const Table& table) {
  return std::any_of(table.begin(), table.end(), [](const Column& column) { return !column.caption.empty() && !is_field(column); });
}

}  // namespace

/// Where each column begins, and behind them where the last one ends.
std::vector<double> BlockSetter::edges_of(const Table& table) {
  std::vector<double> widths;
  double taken = 0, shares = 0;
  for (const Column& column : table) {
    double width = 0;
    if (column.what == Column::What::label) width = 4.2 * look_.branch_number;
    if (column.what == Column::What::tick) width = look_.tick + cell_gap;
    if (width == 0) shares += column.share;
    widths.push_back(width);
    taken += width;
  }
  std::vector<double> edges{0};
  for (std::size_t i = 0; i < table.size(); ++i) {
    const double width = widths[i] > 0 ? widths[i] : (look_.text_width() - taken) * table[i].share / shares;
    edges.push_back(edges.back() + width);
  }
  return edges;
}

/// Where somebody is to write, lines between the columns show how much room there is.
void BlockSetter::separate(Galley& galley, const Table& table, const std::vector<double>& edges) {
  if (std::none_of(table.begin(), table.end(), [](const Column& column) { return is_for_pen(column) || is_field(column); })) return;
  for (std::size_t i = 1; i < table.size(); ++i) galley.rule(edges[i] - cell_gap / 2, 0, 0.6, galley.height, row_line_shade);
}

Galley BlockSetter::set(const TableHead& block) {
  const Table& table = tables_[block.table];
  const std::vector<double> edges = edges_of(table);
  Galley galley;
  galley.keeps_with_next = true;
  galley.above = 4;
  if (!has_captions(table)) return galley;
  galley.table_row = true;
  std::vector<Layout> captions;
  double height = 0;
  for (std::size_t i = 0; i < table.size(); ++i) {
    const Align align = table[i].what == Column::What::tick ? Align::centre : Align::start;
    const double width = table[i].what == Column::What::tick ? look_.tick : edges[i + 1] - edges[i] - cell_gap;
    captions.push_back(type_.set(table[i].caption, {look_.caps, 700, align}, width));
    height = std::max(height, Typesetter::extent(captions.back()).height);
  }
  for (std::size_t i = 0; i < table.size(); ++i) {
    if (!table[i].caption.empty()) galley.text(edges[i], 3 + height - Typesetter::extent(captions[i]).height, captions[i], "TH");
  }
  galley.height = height + 6;
  separate(galley, table, edges);
  galley.rule(0, galley.height - 1.2, look_.text_width(), 1.2);
  return galley;
}

/// What is asked for stands small in the corner of its box, and below it there is as much room for a pen as in any other table.
Galley BlockSetter::fields(const TableRow& block) {
  const Table& table = tables_[block.table];
  const std::vector<double> edges = edges_of(table);
  Galley galley;
  galley.keeps_with_next = block.keeps_with_next;
  galley.table_row = true;
  double low = 0;
  for (std::size_t i = 0; i < table.size(); ++i) {
    const Layout caption = type_.set(table[i].caption, {look_.caps, 700}, edges[i + 1] - edges[i] - cell_gap);
    low = std::max(low, 2 + galley.text(edges[i], 2, caption, "TD"));
  }
  galley.height = low + pen_height;
  separate(galley, table, edges);
  // The last fields close all that hangs together, which a heavy line tells apart from what comes next.
  const bool closes = !block.keeps_with_next;
  galley.rule(0, galley.height - (closes ? 1.2 : 0.6), look_.text_width(), closes ? 1.2 : 0.6, closes ? 0 : row_line_shade);
  return galley;
}

Galley BlockSetter::set(const TableRow& block) {
  const Table& table = tables_[block.table];
  if (is_of_fields(table)) return fields(block);
  const std::vector<double> edges = edges_of(table);
  Galley galley;
  galley.keeps_with_next = block.keeps_with_next;
  galley.table_row = true;
  std::vector<Layout> layouts(table.size());
  double base = Typesetter::baseline(type_.set(std::string("X"), {look_.manner}, -1));
  for (std::size_t i = 0, cell = 0; i < table.size(); ++i) {
    if ((table[i].what != Column::What::words && table[i].what != Column::What::figure) || cell >= block.cells.size()) continue;
    const bool figure = table[i].what == Column::What::figure;
    layouts[i] = type_.set(with_pages(block.cells[cell++]), {figure ? look_.act : look_.manner, figure ? 700 : 400}, edges[i + 1] - edges[i] - cell_gap);
    base = std::max(base, Typesetter::baseline(layouts[i]));
  }
  base += row_air * look_.air;
  const double middle = base - look_.act * 0.36;
  double low = base;
  bool told = !block.critical;
  for (std::size_t i = 0; i < table.size(); ++i) {
    if (table[i].what == Column::What::label && !block.label.empty()) {
      low = std::max(low, number(galley, block.label, block.critical, edges[i + 1] - cell_gap - 4, base, true));
    } else if (table[i].what == Column::What::tick) {
      galley.shape(Ink::What::frame, edges[i] + 0.7, middle - look_.tick / 2, look_.tick, look_.tick, 1.3);
      low = std::max(low, middle + look_.tick / 2 + 1);
    } else if (layouts[i]) {
      const double top = base - Typesetter::baseline(layouts[i]);
      double end = top + galley.text(edges[i], top, layouts[i], "TD");
      if (!told) end += galley.text(edges[i], end, type_.set(captions_.critical, {look_.caps, 700, Align::start, 0.7}, -1), "TD");
      told = true;
      low = std::max(low, end);
    }
  }
  const bool written = std::any_of(table.begin(), table.end(), is_for_pen);
  galley.height = std::max(low + row_air * look_.air, written ? pen_height : 0);
  separate(galley, table, edges);
  galley.rule(0, galley.height - 0.6, look_.text_width(), 0.6, row_line_shade);
  return galley;
}

}  // namespace stepward::emit::pdf
