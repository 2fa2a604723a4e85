#include "emit/competency/competency_sheet.hpp"

#include <algorithm>
#include <utility>

#include "emit/card/card.hpp"
#include "emit/card/card_places.hpp"
#include "emit/document/check_words.hpp"
#include "emit/letter_gaps.hpp"

namespace stepward::emit {

using wording::Phrase;

namespace {

enum : std::size_t { person_table, attempts_table, steps_table, questions_table, answers_table };

constexpr int attempts = 3;

std::vector<Table> competency_tables(const PaperSource& source) {
  using What = Column::What;
  const auto column = [&](What what, Phrase caption, double share) { return Column{what, source.said(caption), share}; };
  const std::string role = called(source, source.protocol[source.protocol.acts]);
  std::vector<Table> tables = {
      {{What::pen, source.said(Phrase::person_assessed, {{"role", role}}), 3}, column(What::pen, Phrase::next_due, 1.4)},
      {column(What::figure, Phrase::attempt_column, 1.1), column(What::pen, Phrase::date_column, 1.2), column(What::pen, Phrase::assessor_column, 2.8),
       {What::words, "", 1.5}, {What::tick, "", 0}},
      {{What::label, "", 0}, {What::words, source.said(Phrase::shows_column, {{"role", role}}), 1}},
      {{What::label, "", 0}, column(What::words, Phrase::answer_column, 1)},
      {{What::label, "", 0}, {What::words, "", 1}}};
  for (int attempt = 1; attempt <= attempts; ++attempt) {
    for (const std::size_t each : {std::size_t{steps_table}, std::size_t{questions_table}}) tables[each].push_back({What::tick, std::to_string(attempt), 0});
  }
  return tables;
}

class CompetencyPrinter {
 public:
  explicit CompetencyPrinter(const PaperSource& source) : source_(source), card_(card_blocks(source)) {}

  std::vector<Block> print() {
    for_the_pen();
    steps();
    questions();
    return std::move(blocks_);
  }

 private:
  std::string said(Phrase which, std::initializer_list<wording::Gap> gaps = {}) const { return source_.said(which, gaps); }

  void for_the_pen() {
    blocks_.push_back(TableHead{person_table});
    blocks_.push_back(TableRow{person_table, "", false, {}});
    blocks_.push_back(TableHead{attempts_table});
    for (int attempt = 1; attempt <= attempts; ++attempt) blocks_.push_back(TableRow{attempts_table, "", false, {{{std::to_string(attempt), false, ""}}, {{said(Phrase::all_critical_shown), false, ""}}}});
    blocks_.push_back(Paragraph{{{said(Phrase::shown_unprompted), false, ""}}, false});
  }

  // ---- steps

  bool is_shown(const Step& step) const {
    const auto lines = source_.course.lines_at.find(step.label);
    if (lines == source_.course.lines_at.end()) return true;  // it sends to a box: without it the next row would not follow from this one
    return std::any_of(lines->second.begin(), lines->second.end(), [&](model::LineId line) { return asks_something(step, source_.protocol[line]); });
  }

  /// The line is the person's own, or has the person do more than keep still: answer, take what is handed over, turn round for a look. On
  /// the card such an act begins with its verb, and what others do with their name.
  bool asks_something(const Step& step, const model::Line& line) const {
    if (line.who == source_.protocol.acts) return true;
    if (step.act.empty() || !step.act.front().strong) return false;
    if (line.verb == model::VerbKind::decide) return step.act.front().text == said(Phrase::answer);
    if (line.verb == model::VerbKind::pass) return line.to == source_.protocol.acts;
    return line.verb == model::VerbKind::inspect && !line.details.say.empty() && step.act.front().text != said(Phrase::stand_still);
  }

  /// Under what the step stands on the card: told once, when the first step below it is shown.
  static std::string title(const CardPlace& place, const Captions& captions) {
    return place.box ? captions.box + " " + place.box->label + "  " + place.box->title : place.part;
  }

  void steps() {
    const Captions captions = captions_of(source_);
    CardReader reader;
    LetterGaps letters;
    std::string under;
    for (const Block& block : card_) {
      const CardPlace& place = reader.pass(block);
      const auto* step = std::get_if<Step>(&block);
      if (!step || (place.box && place.box->breach) || !is_shown(*step)) continue;
      if (const std::string now = title(place, captions); now != under) {
        blocks_.push_back(Heading{now});
        if (const std::string gaps = place.box ? letters.before(source_, place.box->label) : ""; !gaps.empty()) blocks_.push_back(Notice{{{gaps, false, ""}}, 0, {}});
        blocks_.push_back(TableHead{steps_table});
        under = now;
      }
      row(*step, place.answers.empty() ? "" : place.answers.back());
    }
  }

  void keep_last_row() {
    if (auto* row = std::get_if<TableRow>(&blocks_.back())) row->keeps_with_next = true;
  }

  /// `answer`: what it takes to come to this step. It stands in the row: above several it would seem to hold for the rows behind the branch, too.
  void row(const Step& step, const std::string& answer) {
    Text text;
    if (!answer.empty()) text.push_back({answer + "\n", false, ""});
    for (const Text& warning : step.warnings) {
      text.insert(text.end(), warning.begin(), warning.end());
      text.push_back({"\n", false, ""});
    }
    add(text, act_and_manner(step));
    blocks_.push_back(TableRow{steps_table, step.label, step.critical, {text}});
  }

  static Text act_and_manner(const Step& step) {
    Text text = step.act;
    if (!step.clock.empty()) text.push_back({" (" + with_no_break(step.clock) + ")", true, ""});
    if (!step.manner.empty()) text.push_back({"\n" + plain_text(step.manner), false, ""});
    return text;
  }

  // ---- breaches, asked

  void questions() {
    bool any = false;
    for (std::size_t i = 0; i < card_.size(); ++i) {
      const auto* mark = std::get_if<BoxMark>(&card_[i]);
      if (!mark || !mark->breach) continue;
      if (!any) {
        blocks_.push_back(Heading{said(Phrase::questions_on_breaches)});
        blocks_.push_back(TableHead{questions_table});
        any = true;
      }
      blocks_.push_back(TableRow{questions_table, mark->label, false, {{{said(Phrase::what_do_you_do, {{"breach", mark->title}}), true, ""}}}});
      answer_rows(answer(i + 1));
    }
  }

  /// They hang together with their question, so that a face which goes on with them says whose answer it is.
  void answer_rows(const std::vector<std::string>& rows) {
    for (const std::string& row : rows) {
      keep_last_row();
      blocks_.push_back(TableRow{answers_table, "", false, {{{row, false, ""}}}});
    }
  }

  /// What the card says there, up to the next box. A breach may be longer than a face, and is cut where one may stop reading: in front of a
  /// step. So a row has the line that opens a branch, a step, the question about it with all its answers, and the end that follows.
  std::vector<std::string> answer(std::size_t from) const {
    std::vector<std::string> rows;
    std::string opening;
    for (std::size_t i = from; i < card_.size() && !std::holds_alternative<BoxMark>(card_[i]); ++i) {
      if (const std::string opens = opening_words(card_[i]); !opens.empty()) opening += opens + "\n";
      const std::string words = answer_words(card_[i]);
      if (words.empty()) continue;
      const bool follows = !rows.empty() && opening.empty() && !std::holds_alternative<Step>(card_[i]);
      if (follows)
        rows.back() += "\n" + words;
      else
        rows.push_back(std::exchange(opening, "") + words);
    }
    return rows;
  }

  static std::string opening_words(const Block& block) {
    if (const auto* mark = std::get_if<BranchMark>(&block)) return mark->text;
    const auto* notice = std::get_if<Notice>(&block);
    return notice ? plain_text(notice->text) : "";
  }

  static std::string answer_words(const Block& block) {
    if (const auto* step = std::get_if<Step>(&block)) return step_words(*step);
    if (const auto* frame = std::get_if<Frame>(&block)) return question_words(*frame);
    const auto* end = std::get_if<EndMark>(&block);
    return end ? plain_text(end->text) : "";
  }

  static std::string step_words(const Step& step) {
    std::string words;
    for (const Text& warning : step.warnings) words += plain_text(warning) + "\n";
    return words + step.label + "  " + plain_text(act_and_manner(step));
  }

  static std::string question_words(const Frame& frame) {
    std::string words = frame.label + "  " + plain_text(frame.ask);
    for (const FrameRow& row : frame.rows) words += "\n" + (row.key.empty() ? row.label + " " : row.key + ": ") + plain_text(row.text);
    return words;
  }

  const PaperSource& source_;
  std::vector<Block> card_;
  std::vector<Block> blocks_;
};

}  // namespace

Sheet competency_sheet(const PaperSource& source) {
  Sheet sheet = begun_sheet(source, SheetKind::table, source.said(Phrase::competency_sheet));
  sheet.tables = competency_tables(source);
  sheet.blocks = CompetencyPrinter(source).print();
  stamp(sheet);
  return sheet;
}

}  // namespace stepward::emit
