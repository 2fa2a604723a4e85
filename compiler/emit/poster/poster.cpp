#include "emit/poster/poster.hpp"

#include <algorithm>

#include "emit/card/card.hpp"
#include "emit/card/card_places.hpp"
#include "emit/document/check_words.hpp"

namespace stepward::emit {

using model::VerbKind;
using wording::Phrase;

namespace {

/// Something of the person's own goes on or comes off, whoever does it.
bool changes_equipment(const PaperSource& source, const Step& step) {
  const auto lines = source.course.lines_at.find(step.label);
  if (lines == source.course.lines_at.end()) return false;
  const model::RoleId acts = source.protocol.acts;
  return std::any_of(lines->second.begin(), lines->second.end(), [&](model::LineId id) {
    const model::Line& line = source.protocol[id];
    return (line.verb == VerbKind::doff || line.verb == VerbKind::don) && (line.who == acts || line.of == acts);
  });
}

/// The person's own hands are disinfected or washed.
bool cleanses_hands(const PaperSource& source, const Step& step) {
  const auto lines = source.course.lines_at.find(step.label);
  if (lines == source.course.lines_at.end()) return false;
  const model::RoleId acts = source.protocol.acts;
  return std::any_of(lines->second.begin(), lines->second.end(), [&](model::LineId id) {
    const model::Line& line = source.protocol[id];
    const bool cleanses = line.who == acts && (line.verb == VerbKind::disinfect || line.verb == VerbKind::clean);
    return cleanses && std::any_of(line.things.begin(), line.things.end(), [&](const model::Thing& thing) {
             const bool bare = thing.what == model::Thing::What::site && source.protocol[thing.site].is_hands;
             return (bare || thing.what == model::Thing::What::hands) && (!thing.of || thing.of == acts);
           });
  });
}

class PosterPrinter {
 public:
  explicit PosterPrinter(const PaperSource& source) : source_(source), card_(card_blocks(source)) {}

  std::vector<Block> print() {
    find_last_change();
    if (last_.empty()) return {};
    CardReader reader;
    for (const Block& block : card_) {
      if (reader.pass(block).box) continue;
      if (const auto* band = std::get_if<ZoneBand>(&block)) zone_ = *band;
      if (const auto* heading = std::get_if<Heading>(&block)) heading_ = *heading;
      const auto* step = std::get_if<Step>(&block);
      if (step && step->level == 0) add_step(*step);
    }
    return std::move(blocks_);
  }

 private:
  void find_last_change() {
    CardReader reader;
    for (const Block& block : card_) {
      const auto* step = reader.pass(block).box ? nullptr : std::get_if<Step>(&block);
      if (step && step->level == 0 && changes_equipment(source_, *step)) last_ = step->label;
    }
  }

  void add_step(const Step& step) {
    const bool changes = changes_equipment(source_, step);
    if (!changes && !(is_past_last_ && cleanses_hands(source_, step))) return;
    is_past_last_ |= step.label == last_;
    Step act;
    act.label = step.label;
    act.critical = step.critical;
    act.act = step.act;
    open();
    blocks_.push_back(std::move(act));
  }

  /// Zone and phase that wait for a step: with nothing below them they would only make the poster longer. The card names its zone again
  /// behind boxes; here nothing stood between.
  void open() {
    if (zone_ && zone_->name != shown_) blocks_.push_back(*zone_);
    if (zone_) shown_ = zone_->name;
    zone_.reset();
    if (heading_) blocks_.push_back(Heading{heading_->text, true});
    heading_.reset();
  }

  const PaperSource& source_;
  std::vector<Block> card_;
  std::vector<Block> blocks_;
  std::optional<ZoneBand> zone_;
  std::optional<Heading> heading_;
  std::string shown_;  ///< the last zone that has its band
  std::string last_;   ///< the step of the last change
  bool is_past_last_ = false;
};

}  // namespace

std::optional<Sheet> poster(const PaperSource& source) {
  std::vector<Block> blocks = PosterPrinter(source).print();
  if (blocks.empty()) return std::nullopt;
  Sheet sheet = begun_sheet(source, SheetKind::poster, source.said(Phrase::poster));
  // Steps have other numbers on the cards of other variants.
  const std::string& variant = sheet.control.variant;
  const std::string number = sheet.control.number + (variant.empty() ? "" : " (" + variant + ")");
  const auto said_of_card = [&](Phrase which) { return source.said(which, {{"person", named_after(source.protocol)}, {"number", number}}); };
  sheet.control.reminder = said_of_card(Phrase::poster_is_not_all);
  if (const std::string whose = no_name_words(source); !whose.empty()) sheet.control.reminder += " " + whose;
  sheet.blocks.push_back(Paragraph{{{said_of_card(Phrase::poster_work_from), true, ""}}, true});
  sheet.blocks.insert(sheet.blocks.end(), blocks.begin(), blocks.end());
  stamp(sheet);
  return sheet;
}

}  // namespace stepward::emit
