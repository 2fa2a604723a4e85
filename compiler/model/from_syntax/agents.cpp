// Disinfectants, and the arithmetic of their labels.
//
// 1 percent is 10 000 ppm. `mix a parts with b parts` gives stock * a / (a + b); `fill a to b` gives stock * a / b. The
// comparison is made in whole numbers: figures of at most six digits, four of them after the point, are scaled by 10
// 000, so the largest product stays far below 128 bits. A stated strength may differ from the exact result by half a
// ppm, which is what rounding to whole ppm can do.

#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {
namespace {

__extension__ using Wide = __int128;
constexpr std::int64_t scale = 10'000;

/// A figure of a label in ten-thousandths; nothing if it has too many digits or is nought.
std::optional<std::int64_t> scaled(std::string_view number) {
  const std::size_t point = number.find('.');
  const std::size_t decimals = point == std::string_view::npos ? 0 : number.size() - point - 1;
  if (number.size() > 7 || decimals > 4) return std::nullopt;
  const auto figure = exact(number);
  if (!figure || figure->num == 0) return std::nullopt;
  return figure->num * (scale / figure->den);
}

/// "4 545 ppm", rounded to whole ppm.
std::string ppm(std::int64_t value) {
  std::string digits = std::to_string(value);
  for (std::size_t at = digits.size(); at > 3; at -= 3) digits.insert(at - 3, 1, ' ');
  return digits + " ppm";
}

class AgentReader {
 public:
  AgentReader(Context& context, const Place& place, Agent& agent)
      : context_(context), place_(place), agent_(agent), once_(context) {}

  void run() {
    for (const NodeId child : context_.node(place_).children) read(context_.tree(place_)[child]);
    if (ratio_)
      explain_ratio();
    else if (!agent_.ready_to_use && once_.had("how it is mixed"))
      check_strength();
    if (!agent_.ready_to_use && !once_.had("how it is mixed") && !ratio_) {
      context_.report(Code::N114, agent_.span, {agent_.name, "how it is mixed"});
    }
    if (agent_.works_on.empty()) context_.report(Code::N114, agent_.span, {agent_.name, "what it works on"});
  }

 private:
  void read(const Node& line) {
    switch (line.kind) {
      case NodeKind::ready_to_use:
        once_.first(line, "how it is mixed");
        agent_.ready_to_use = true;
        break;
      case NodeKind::made_from: read_stock(line); break;
      case NodeKind::mix: read_mix(line); break;
      case NodeKind::fill: read_fill(line); break;
      case NodeKind::strength: read_strength(line); break;
      case NodeKind::works_on: read_targets(line, agent_.works_on); break;
      case NodeKind::never_on: read_targets(line, agent_.never_on); break;
      case NodeKind::contact_time:
        if (const auto reading = context_.read(line, context_.frames->contact_time)) {
          agent_.contact_times.push_back({targets(*reading), duration_of(context_, line, *reading)});
        }
        break;
      case NodeKind::only_after_cleaning: agent_.only_after_cleaning = true; break;
      case NodeKind::leaves_sterile: agent_.leaves_sterile = true; break;
      case NodeKind::keeps:
        if (!once_.first(line, "keeps")) break;
        if (const auto reading = context_.read(line, context_.frames->keeps)) {
          agent_.keeps = duration_of(context_, line, *reading);
        }
        break;
      case NodeKind::called: read_called(context_, line, agent_.called); break;
      case NodeKind::source:
        if (const auto source = read_source(context_, line)) agent_.sources.push_back(*source);
        break;
      default: break;  // what may stand in which block is decided by parse
    }
  }

  void read_targets(const Node& line, std::vector<Target>& into) {
    const auto reading = context_.read(line, context_.frames->targets);
    if (!reading) return;
    for (const Target& target : targets(*reading)) into.push_back(target);
  }

  /// The figure of a segment, in ten-thousandths; reports what cannot be reckoned with.
  std::optional<std::int64_t> figure(const Node& line, const Reading& reading, std::string_view label) {
    const Segment* segment = reading.find(label);
    const auto value = scaled(line.phrase[segment->begin].text);
    if (!value) context_.report(Code::T706, span_of(line, *segment), {line.phrase[segment->begin].written});
    return value;
  }

  /// A strength in ten-thousandths of a ppm.
  std::optional<std::int64_t> strength_of(const Node& line, const Reading& reading) {
    const auto value = figure(line, reading, "n");
    const bool percent = words(line, *reading.find("unit")) == "percent";
    if (value && (percent ? *value > 100 * scale : *value > 1'000'000 * scale)) {
      context_.report(Code::T706, span_of(line, *reading.find("n")), {line.phrase[reading.find("n")->begin].written});
      return std::nullopt;
    }
    if (!value) return std::nullopt;
    return percent ? *value * 10'000 : *value;
  }

  void read_stock(const Node& line) {
    if (!once_.first(line, "made from")) return;
    const auto reading = context_.read(line, context_.frames->made_from);
    if (!reading) return;
    agent_.stock = quoted(line, *reading);
    stock_ = strength_of(line, *reading);
    if (stock_) agent_.stock_percent = Rational(*stock_, scale * 10'000);
  }

  void read_mix(const Node& line) {
    if (!once_.first(line, "how it is mixed")) return;
    const auto reading = context_.read(line, context_.frames->mix);
    if (!reading) return;
    agent_.diluent = quoted(line, *reading);
    how_ = line.span;
    if (const Segment* ratio = reading->find("ratio")) {
      ratio_ = &line.phrase[ratio->begin];
      return;
    }
    part_ = figure(line, *reading, "a");
    const auto other = figure(line, *reading, "b");
    if (!part_ || !other) {
      part_.reset();
      return;
    }
    whole_ = *part_ + *other;
    agent_.parts = Rational(*part_, scale);
    agent_.parts_diluent = Rational(*other, scale);
  }

  void read_fill(const Node& line) {
    if (!once_.first(line, "how it is mixed")) return;
    const auto reading = context_.read(line, context_.frames->fill);
    if (!reading) return;
    agent_.diluent = quoted(line, *reading);
    how_ = line.span;
    part_ = figure(line, *reading, "a");
    const auto all = figure(line, *reading, "b");
    if (!part_ || !all) {
      part_.reset();
      return;
    }
    const auto litres = [&](std::string_view label) { return words(line, *reading->find(label)) == "ml" ? 1 : 1000; };
    *part_ *= litres("from");
    whole_ = *all * litres("to");
    agent_.fill_from_ml = Rational(*part_, scale);
    agent_.fill_to_ml = Rational(whole_, scale);
    if (whole_ <= *part_) {
      context_.report(Code::T705, line.span);
      part_.reset();
    }
  }

  void read_strength(const Node& line) {
    if (!once_.first(line, "strength")) return;
    const auto reading = context_.read(line, context_.frames->strength);
    if (!reading) return;
    strength_ = strength_of(line, *reading);
    strength_span_ = line.span;
    if (strength_) agent_.strength_ppm = Rational(*strength_, scale);
  }

  void check_strength() {
    if (!once_.had("made from")) {
      context_.report(Code::T704, how_, {agent_.name, "its stock and how strong that is"});
      return;
    }
    if (!once_.had("strength")) {
      context_.report(Code::T704, how_, {agent_.name, "the strength it is mixed to"});
      return;
    }
    if (!stock_ || !part_ || !strength_) return;
    if (*stock_ < *strength_) {
      context_.report(Code::T703, strength_span_, {agent_.stock, ppm(*stock_ / scale), ppm(*strength_ / scale)});
      return;
    }
    // |stock * part / whole - strength| <= 1/2 ppm, multiplied out.
    const Wide apart = Wide{*stock_} * *part_ - Wide{*strength_} * whole_;
    if ((apart < 0 ? -apart : apart) * 2 <= Wide{scale} * whole_) return;
    const auto gives = rounded(Wide{*stock_} * *part_, Wide{whole_} * scale);
    context_.report(Code::T702, strength_span_, {ppm(gives), ppm(*strength_ / scale)})
        .places.push_back({how_, "mixed here"});
  }

  static std::int64_t rounded(Wide dividend, Wide divisor) {
    return static_cast<std::int64_t>((dividend * 2 + divisor) / (divisor * 2));
  }

  /// `1:10` is 1 part with 10 parts to some, and 1 part in 10 to others. Both are shown with what they give.
  void explain_ratio() {
    const std::string& text = ratio_->text;
    const std::size_t colon = text.find(':');
    const auto part = whole(text.substr(0, colon), 99'999);
    const auto other = whole(text.substr(colon + 1), 99'999);
    if (!part || !other || *part == 0 || *other <= *part) {
      context_.report(Code::T701, ratio_->span, {text, "parts to parts, or a part in the whole", agent_.name});
      return;
    }
    const std::int64_t rest = *other - *part;
    const std::string in = mixture(*part, rest), with = mixture(*part, *other);
    auto& finding = context_.report(Code::T701, ratio_->span,
                                    {text, in + gives(*part, *other), with + gives(*part, *part + *other)});
    finding.fix = "mix " + (matches(*part, *part + *other) ? with : in) + " \"" +
                  (agent_.diluent.empty() ? "cold water" : agent_.diluent) + "\"";
  }

  static std::string mixture(std::int64_t part, std::int64_t other) {
    return std::to_string(part) + (part == 1 ? " part" : " parts") + " with " + std::to_string(other) +
           (other == 1 ? " part" : " parts");
  }
  std::string gives(std::int64_t part, std::int64_t whole) const {
    return stock_ ? " gives " + ppm(rounded(Wide{*stock_} * part, Wide{whole} * scale)) : std::string();
  }
  bool matches(std::int64_t part, std::int64_t whole) const {
    if (!stock_ || !strength_) return false;
    const Wide apart = Wide{*stock_} * part - Wide{*strength_} * whole;
    return (apart < 0 ? -apart : apart) * 2 <= Wide{scale} * whole;
  }

  Context& context_;
  Place place_;
  Agent& agent_;
  Once once_;
  std::optional<std::int64_t> stock_, part_, strength_;  ///< in ten-thousandths (of a ppm, or as written)
  std::int64_t whole_ = 0;
  source::Span how_, strength_span_;
  const syntax::Token* ratio_ = nullptr;
};

}  // namespace

void read_agent(Context& context, const Place& place, Agent& agent) { AgentReader(context, place, agent).run(); }

}  // namespace stepward::model::reading
