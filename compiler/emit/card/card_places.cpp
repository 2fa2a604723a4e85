#include "emit/card/card_places.hpp"

namespace stepward::emit {

const CardPlace& CardReader::pass(const Block& block) {
  const Level level = level_of(block);
  if (const auto* mark = std::get_if<BranchMark>(&block)) {
    answer(*mark);
    return place_;
  }
  if (place_.answers.size() > level) place_.answers.resize(level);
  if (asked_.size() <= level) asked_.resize(level + 1u);
  if (const auto* frame = std::get_if<Frame>(&block)) {
    asked_[level] = plain_text(frame->ask);
    for (const FrameRow& row : frame->rows) {
      if (!row.label.empty()) further_[row.label] = plain_text(row.text);
    }
  }
  if (const auto* notice = std::get_if<Notice>(&block)) asked_[level] = plain_text(notice->text);
  if (const auto* band = std::get_if<ZoneBand>(&block)) place_ = {band->name, place_.box ? std::string() : place_.part, {}, {}};
  if (const auto* heading = std::get_if<Heading>(&block)) place_ = {place_.zone, heading->text, {}, {}};
  if (const auto* box = std::get_if<BoxMark>(&block)) place_ = {{}, {}, *box, {}};
  return place_;
}

/// A branch mark stands on the level that it opens; its question on the one outside.
void CardReader::answer(const BranchMark& mark) {
  const std::size_t outside = mark.level - 1u;
  if (place_.answers.size() > outside) place_.answers.resize(outside);
  const auto further = further_.find(mark.text.substr(0, mark.text.find(':')));
  const std::string asked = further != further_.end() ? further->second : outside < asked_.size() ? asked_[outside] : std::string();
  place_.answers.push_back(asked.empty() ? mark.text : asked + " " + mark.text);
}

std::map<std::string, CardPlace> places_on_card(const std::vector<Block>& card) {
  std::map<std::string, CardPlace> places;
  CardReader reader;
  for (const Block& block : card) {
    const CardPlace& place = reader.pass(block);
    if (std::holds_alternative<Step>(block)) places[label_of(block)] = place;
  }
  return places;
}

}  // namespace stepward::emit
