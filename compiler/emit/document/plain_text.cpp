#include <algorithm>
#include <cstdlib>

#include "emit/document/document.hpp"
#include "wording/phrases.hpp"

namespace stepward::emit {

namespace {

/// Joins the words of one block with a bar between its fields, so that moving words from one field to the next changes
/// the text and with it the check words.
class Words {
 public:
  Words& operator<<(const std::string& field) {
    text_ += field;
    text_ += '|';
    return *this;
  }
  Words& operator<<(const Text& field) { return *this << plain_text(field); }
  Words& operator<<(bool field) { return *this << std::string(field ? "1" : "0"); }
  template <class Part>
  Words& operator<<(const std::vector<Part>& fields) {
    for (const Part& field : fields) *this << field;
    return *this;
  }
  std::string text() const { return text_; }

 private:
  std::string text_;
};

struct Speaker {
  const std::vector<Table>& tables;

  std::string operator()(const ZoneBand& b) const { return (Words() << b.name << b.risk).text(); }
  std::string operator()(const Heading& b) const { return (Words() << b.text).text(); }
  std::string operator()(const Paragraph& b) const { return (Words() << b.text).text(); }
  std::string operator()(const Step& b) const {
    return (Words() << b.warnings << b.label << b.critical << b.act << b.manner << b.clock << b.side).text();
  }
  std::string operator()(const Frame& b) const {
    Words words;
    words << b.label << b.ask;
    for (const FrameRow& row : b.rows) words << row.label << row.key << row.text;
    return words.text();
  }
  std::string operator()(const Notice& b) const { return (Words() << b.label << b.text).text(); }
  std::string operator()(const BranchMark& b) const { return (Words() << b.text).text(); }
  std::string operator()(const BoxMark& b) const { return (Words() << b.label << b.title << b.when).text(); }
  std::string operator()(const EndMark& b) const { return (Words() << b.text).text(); }
  std::string operator()(const SayRow& b) const {
    return (Words() << b.warnings << b.label << b.critical << b.say << b.act << b.hear << b.look_for << b.clock
                    << b.if_not << b.remarks)
        .text();
  }
  std::string operator()(const TableHead& b) const {
    Words words;
    for (const Column& column : tables[b.table]) words << column.caption;
    return words.text();
  }
  std::string operator()(const TableRow& b) const {
    Words words;
    words << b.label << b.critical << b.cells;
    for (const Column& column : tables[b.table])
      if (column.what == Column::What::field) words << column.caption;
    return words.text();
  }
  std::string operator()(const Figure& b) const {
    Words said;
    said << b.told;
    for (const Figure::Words& words : b.words) said << words.text;
    return said.text();
  }
};

}  // namespace

std::string plain_text(const Text& text) {
  std::string words;
  for (const Run& run : text) words += run.text;
  return words;
}

std::string filled(const std::string& caption, const std::string& value) {
  const std::size_t open = caption.find('['), close = caption.find(']', open);
  if (open == std::string::npos || close == std::string::npos) return caption;
  return caption.substr(0, open) + value + caption.substr(close + 1);
}

std::string plain_text(const Sheet& sheet) {
  const Control& c = sheet.control;
  Words control;
  control << c.kind << c.title << c.number << c.version << c.status << c.in_force << c.review_due << c.owner << c.approver << c.variant << c.reminder << c.watermark;
  for (const FaceMark& mark : c.marks) {
    if (mark.in_words) control << mark.word << mark.why;
  }
  std::string text = control.text() + "\n";
  for (const Block& block : sheet.blocks) text += std::visit(Speaker{sheet.tables}, block) + "\n";
  return text;
}

std::string marks_in_one_line(const std::string& watermark, const std::vector<FaceMark>& marks) {
  std::string line = watermark;
  for (const FaceMark& mark : marks) line += (line.empty() ? "" : " · ") + mark.word;
  return line;
}

std::string with_no_break(const std::string& text) {
  std::string whole;
  for (const char c : text) whole += c == ' ' ? std::string("\xC2\xA0") : std::string(1, c);
  return whole;
}

std::string date_words(const std::string& iso, const Captions& captions) {
  const std::string form = "0000-00-00";
  const bool is_day = iso.size() == form.size() && std::equal(iso.begin(), iso.end(), form.begin(), [](char c, char f) { return f == '-' ? c == f : c >= '0' && c <= '9'; });
  if (!is_day) return iso;
  const int month = std::atoi(iso.substr(5, 2).c_str()), day = std::atoi(iso.substr(8, 2).c_str());
  if (month < 1 || month > 12) return iso;
  std::string words;
  for (const wording::PhrasePiece& piece : wording::pieces_of(captions.date)) {
    if (piece.text == "day" && piece.is_gap) words += std::to_string(day);
    else if (piece.text == "month" && piece.is_gap) words += captions.months[static_cast<std::size_t>(month - 1)];
    else if (piece.text == "year" && piece.is_gap) words += iso.substr(0, 4);
    else words += piece.text;
  }
  return words;
}

bool is_of_fields(const Table& table) {
  return !table.empty() && std::all_of(table.begin(), table.end(), [](const Column& column) { return column.what == Column::What::field; });
}

std::string label_of(const Block& block) {
  if (const auto* heading = std::get_if<Heading>(&block)) return heading->label;
  if (const auto* step = std::get_if<Step>(&block)) return step->label;
  if (const auto* frame = std::get_if<Frame>(&block)) return frame->label;
  if (const auto* notice = std::get_if<Notice>(&block)) return notice->label;
  if (const auto* box = std::get_if<BoxMark>(&block)) return box->label;
  if (const auto* row = std::get_if<SayRow>(&block)) return row->label;
  if (const auto* row = std::get_if<TableRow>(&block)) return row->label;
  return {};
}

Level level_of(const Block& block) {
  return std::visit(
      [](const auto& b) -> Level {
        if constexpr (requires { b.level; })
          return b.level;
        else
          return 0;
      },
      block);
}

}  // namespace stepward::emit
