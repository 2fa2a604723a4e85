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
      if (std::holds_alternative<Heading>(block)) blocks_.push_back(block);
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
    blocks_.push_back(std::move(act));
    any_ = true;
  }

  const PaperSource& source_;
  std::vector<Block> blocks_;
  std::string zone_;
  bool any_ = false;
};

}  // namespace

std::optional<Sheet> poster(const PaperSource& source) {
  std::vector<Block> blocks = PosterPrinter(source).print();
  if (blocks.empty()) return std::nullopt;
  Sheet sheet = begun_sheet(source, SheetKind::poster, source.said(Phrase::poster));
  const auto said_of_card = [&](Phrase which) { return source.said(which, {{"person", named_after(source.protocol)}, {"number", sheet.control.number}}); };
  sheet.control.reminder = said_of_card(Phrase::poster_is_not_all);
  sheet.blocks.push_back(Paragraph{{{said_of_card(Phrase::poster_work_from), true, ""}}, true});
  sheet.blocks.insert(sheet.blocks.end(), blocks.begin(), blocks.end());
  stamp(sheet);
  return sheet;
}

}  // namespace stepward::emit
