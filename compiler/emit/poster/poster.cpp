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

class PosterPrinter {
 public:
  explicit PosterPrinter(const PaperSource& source) : source_(source) {}

  std::vector<Block> print() {
    CardReader reader;
    for (const Block& block : card_blocks(source_)) {
      if (reader.pass(block).box) continue;
      if (const auto* band = std::get_if<ZoneBand>(&block)) add_zone(*band);
      if (const auto* heading = std::get_if<Heading>(&block)) heading_ = *heading;
      if (const auto* step = std::get_if<Step>(&block)) add_step(*step);
    }
    return any_ ? std::move(blocks_) : std::vector<Block>{};
  }

 private:
  /// The card names its zone again behind boxes; here nothing stood between.
  void add_zone(const ZoneBand& band) {
    if (band.name == zone_) return;
    zone_ = band.name;
    blocks_.push_back(band);
  }

  void add_step(const Step& step) {
    if (step.level > 0 || !changes_equipment(source_, step)) return;
    Step act;
    act.label = step.label;
    act.critical = step.critical;
    act.act = step.act;
    // A phase in which nothing goes on or comes off has no heading: nothing would stand below it.
    if (heading_) blocks_.push_back(*heading_);
    heading_.reset();
    blocks_.push_back(std::move(act));
    any_ = true;
  }

  const PaperSource& source_;
  std::vector<Block> blocks_;
  std::optional<Heading> heading_;  ///< waits for a step
  std::string zone_;
  bool any_ = false;
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
