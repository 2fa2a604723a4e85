#include "emit/paper_parts.hpp"

#include <algorithm>
#include <cctype>

#include <fmt/format.h>

#include "model/variants.hpp"

namespace stepward::emit {

using graph::Entry;
using graph::Fork;
using graph::Target;
using model::LineId;

namespace {

constexpr const char* caution = "Local policy, product label and licensed practice decide. No substitute for training.";

std::string signed_by(const std::vector<model::Signature>& signatures) {
  if (signatures.empty()) return "nobody yet";
  const auto& first = signatures.front();
  return first.office.empty() ? first.name : fmt::format("{}, {}", first.name, first.office);
}

/// "2 358 052" is one figure: its spaces become such that no line ends at them.
std::string with_whole_figures(const std::string& text) {
  const auto is_figure = [&](std::size_t i) { return i < text.size() && text[i] >= '0' && text[i] <= '9'; };
  std::string whole;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == ' ' && i > 0 && is_figure(i - 1) && is_figure(i + 1))
      whole += "\xC2\xA0";
    else
      whole += text[i];
  }
  return whole;
}

std::string watermark(const PaperSource& source) {
  const std::string& status = source.protocol.document.status;
  if (status == "withdrawn") return "WITHDRAWN";
  return source.facts.has_errors || status == "draft" ? "DRAFT" : "";
}

struct Language {
  const char* name;
  const char* tag;
};
constexpr Language languages[] = {{"English", "en"}, {"Spanish", "es"}, {"French", "fr"},     {"German", "de"},
                                  {"Arabic", "ar"},  {"Hindi", "hi"},   {"Portuguese", "pt"}, {"Italian", "it"},
                                  {"Polish", "pl"},  {"Turkish", "tr"}};

std::string language_tag(const model::DocumentControl& document) {
  for (const Language& language : languages) {
    if (!document.languages.empty() && document.languages.front() == language.name) return language.tag;
  }
  return "en";
}

void add_layers(std::vector<HandLayer>& all, const std::map<LineId, std::vector<HandLayer>>& seen, LineId line) {
  const auto found = seen.find(line);
  if (found == seen.end()) return;
  for (const HandLayer layer : found->second) {
    if (std::find(all.begin(), all.end(), layer) == all.end()) all.push_back(layer);
  }
}

/// Every layer seen at any of the lines that share this line's number.
std::vector<HandLayer> layers_at(const PaperSource& source, const std::map<LineId, std::vector<HandLayer>>& seen,
                                 LineId line) {
  std::vector<HandLayer> layers;
  const auto same_number = source.course.lines_at.find(source.course.label(line));
  if (same_number == source.course.lines_at.end()) return layers;
  for (const LineId each : same_number->second) add_layers(layers, seen, each);
  return layers;
}

}  // namespace

Control control_block(const PaperSource& source, const std::string& kind) {
  const model::DocumentControl& document = source.protocol.document;
  Control control;
  control.kind = kind;
  control.title = document.title;
  control.number = document.number;
  control.version = document.version;
  control.status = document.status;
  control.in_force = document.in_force_from;
  control.review_due = document.review_due;
  control.owner = signed_by(document.written_by);
  control.approver = signed_by(document.approved_by);
  control.variant = model::variant_name(source.protocol, source.variant);
  control.verdict = source.facts.verdict.empty() ? "not checked yet" : with_whole_figures(source.facts.verdict);
  control.caution = caution;
  control.language = language_tag(document);
  control.watermark = watermark(source);
  return control;
}

wording::Setting setting_of(const PaperSource& source, const Entry& entry) {
  // The layers are those of whoever does the line; of somebody else's hands that are looked at they say nothing.
  const model::Line& line = source.protocol[entry.line];
  const bool of_others = std::any_of(line.things.begin(), line.things.end(), [&](const model::Thing& t) {
    return t.what == model::Thing::What::hands && t.of && t.of != line.who;
  });
  if (of_others) return {{}, entry.named};
  return {layers_at(source, source.facts.hands_before, entry.line), entry.named};
}

Clock clock_of(const PaperSource& source, const Entry& entry) {
  const auto same_number = source.course.lines_at.find(entry.label);
  std::map<std::uint32_t, std::vector<std::string>> things;  // by seconds
  if (same_number == source.course.lines_at.end()) return {};
  for (const LineId id : same_number->second) {
    const model::Line& line = source.protocol[id];
    const wording::Setting setting = setting_of(source, entry);
    auto& named = things[wording::contact_time(source.protocol, source.variant, line, setting).seconds];
    for (const auto& thing : line.things) {
      const std::string name = wording::thing_phrase(source.protocol, source.variant, thing, {});
      if (std::find(named.begin(), named.end(), name) == named.end()) named.push_back(name);
    }
  }
  Clock clock{{things.rbegin()->first}, {}};
  for (const auto& [seconds, names] : things) {
    if (seconds == clock.time.seconds) continue;
    clock.shorter +=
        fmt::format("{}{}: {}.", clock.shorter.empty() ? "" : " ",
                    wording::capitalised(wording::joined(names, " and ")), wording::duration_phrase({seconds}));
  }
  return clock;
}

std::string hands_afterwards(const PaperSource& source, LineId line) {
  const auto layers = layers_at(source, source.facts.hands_after, line);
  if (layers.size() != 1) return {};
  return layers[0] ? "hands: " + source.protocol[layers[0]].name : std::string("hands: bare");
}

void add(Text& text, const Text& more) { text.insert(text.end(), more.begin(), more.end()); }

Text ending_text(const PaperSource& source, model::EndingId ending) {
  Text text{{"END: ", true, ""}, {"this run is over", true, ""}};
  if (!ending) return text;
  const model::Ending& end = source.protocol[ending];
  text[1].text = end.name;
  if (!end.continue_with.empty()) text.push_back({fmt::format(". Continue with {}.", end.continue_with), false, ""});
  return text;
}

Text go_on_text(const PaperSource& source, const Target& target) {
  switch (target.what) {
    case Target::What::nowhere: return {};
    case Target::What::label: return {{"go on at ", false, ""}, {target.label, true, target.label}};
    case Target::What::back: return {{"go on where you were sent from", false, ""}};
    case Target::What::ending: return ending_text(source, target.ending);
    case Target::What::resume: return {{"go back to the step where you stopped", false, ""}};
  }
  return {};
}

ZoneBand zone_band(const model::Zone& zone) {
  ZoneBand band;
  band.name = zone.name;
  switch (zone.risk) {
    case model::Risk::low:
      band.risk = "low risk";
      band.hatch = Hatch::none;
      break;
    case model::Risk::middle:
      band.risk = "middle risk";
      band.hatch = Hatch::sparse;
      break;
    case model::Risk::high:
      band.risk = "high risk";
      band.hatch = Hatch::dense;
      break;
  }
  return band;
}

model::ZoneId first_zone(const model::Protocol& protocol) {
  for (const auto& person : protocol.people) {
    if (person.role == protocol.acts && person.zone) return person.zone;
  }
  return {};
}

Text repeat_notice(const Entry& entry) {
  const std::string times = entry.at_most == 1 ? "once" : fmt::format("{} times at most", entry.at_most);
  if (entry.from == entry.to) return {{fmt::format("Repeat step {}: {}.", entry.from, times), false, ""}};
  return {{fmt::format("Repeat steps {} to {}: {}.", entry.from, entry.to, times), false, ""}};
}

Text together_notice(const Entry& entry) {
  return {{fmt::format("Steps {} to {}: both people at the same time. Go on when both are done.", entry.from, entry.to), false, ""}};
}

Text box_text(const PaperSource& source, const Entry& entry) {
  const graph::Box& box = source.course[entry.box];
  Text text{{"do box ", false, ""}, {box.label, true, box.label}};
  std::vector<std::string> things;
  for (const auto& thing : entry.arguments) {
    things.push_back(wording::thing_phrase(source.protocol, source.variant, thing, {{}, entry.named}));
  }
  const std::string about =
      things.empty() ? box.title : fmt::format("{}: {}", box.title, wording::joined(things, " and "));
  if (!about.empty()) {
    // The page is named behind the title, so that the brackets stay with their box.
    text.back().target.clear();
    text.push_back({fmt::format(" ({})", about), false, box.label});
  }
  return text;
}

}  // namespace stepward::emit
