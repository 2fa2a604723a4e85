#include "emit/recall/recall_list.hpp"

#include "emit/document/check_words.hpp"

namespace stepward::emit {

using wording::Phrase;

namespace {

enum : std::size_t { copies_table, words_table };

std::vector<Table> recall_tables(const PaperSource& source) {
  using What = Column::What;
  const auto said = [&](Phrase which) { return source.said(which); };
  return {{{What::tick, "", 0},
           {What::figure, said(Phrase::copies_column), 1.1},
           {What::words, said(Phrase::copy_place_column), 2},
           {What::words, said(Phrase::paper_column), 2},
           {What::words, said(Phrase::copy_state_column), 2.2},
           {What::pen, said(Phrase::new_copy_column), 1.4}},
          // Four words on one line are wider than any of those columns.
          {{What::label, "", 0}, {What::words, "", 1}}};
}

class RecallPrinter {
 public:
  RecallPrinter(const PaperSource& source, const Captions& captions) : source_(source), captions_(captions) {}

  std::vector<Block> rows(const model::Copy& copy, const CopyState& state) const {
    TableRow row{copies_table, "", false, {}};
    row.cells = {{{std::to_string(copy.count), false, ""}}, {{copy.place, false, ""}}, paper(copy, state), what_hangs(copy, state)};
    const std::string words = words_to_compare(copy, state);
    if (words.empty()) return {row};
    row.keeps_with_next = true;
    return {row, TableRow{words_table, "", false, {{{words, false, ""}}}}};
  }

 private:
  std::string said(Phrase which, std::initializer_list<wording::Gap> gaps = {}) const { return source_.said(which, gaps); }

  Text paper(const model::Copy& copy, const CopyState& state) const {
    Text text{{state.paper, true, ""}};
    if (!state.variant.empty()) text.push_back({"\n" + state.variant, false, ""});
    if (!copy.language.empty()) text.push_back({"\n" + std::string(wording::language_tag(copy.language)), false, ""});
    return text;
  }

  Phrase word_of(CopyState::What what) const {
    switch (what) {
      case CopyState::What::current: return Phrase::copy_is_current;
      case CopyState::What::outdated: return Phrase::copy_is_outdated;
      case CopyState::What::not_known: return Phrase::copy_not_known;
    }
    return Phrase::copy_not_known;
  }

  /// What has to be done stands first; what the register says of the copy below it.
  Text what_hangs(const model::Copy& copy, const CopyState& state) const {
    Text text{{said(word_of(state.what)), state.what != CopyState::What::current, ""}};
    std::string more;
    if (!copy.version.empty()) more += "\n" + filled(captions_.version, copy.version);
    if (!copy.since.empty()) more += "\n" + said(Phrase::copy_since, {{"day", date_words(copy.since, captions_)}});
    if (!more.empty()) text.push_back({more, false, ""});
    return text;
  }

  std::string words_to_compare(const model::Copy& copy, const CopyState& state) const {
    std::string words = copy.bearing.empty() ? "" : captions_.check_words + " " + copy.bearing;
    if (state.what != CopyState::What::current && !state.words_now.empty())
      words += (words.empty() ? "" : "\n") + said(Phrase::copy_words_now, {{"words", state.words_now}});
    return words;
  }

  const PaperSource& source_;
  const Captions& captions_;
};

}  // namespace

std::optional<Sheet> recall_list(const PaperSource& source, const std::vector<CopyState>& states) {
  const auto& copies = source.protocol.copies;
  if (copies.empty()) return std::nullopt;
  Sheet sheet = begun_sheet(source, SheetKind::table, source.said(Phrase::recall_list));
  sheet.tables = recall_tables(source);
  sheet.blocks.push_back(Paragraph{{{source.said(Phrase::recall_how), false, ""}}, false});
  sheet.blocks.push_back(TableHead{copies_table});
  const RecallPrinter printer(source, sheet.captions);
  for (std::size_t i = 0; i < copies.size() && i < states.size(); ++i) {
    for (Block& row : printer.rows(copies[i], states[i])) sheet.blocks.push_back(std::move(row));
  }
  stamp(sheet);
  return sheet;
}

}  // namespace stepward::emit
