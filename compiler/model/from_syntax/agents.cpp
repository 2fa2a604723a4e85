// Disinfectants, and the arithmetic of their labels.
//
// What a recipe gives is reckoned exactly (mixture/recipe.hpp), from figures of at most six digits, four of them after the point.
// A stated strength may differ from the exact result by half a ppm, which is what rounding to whole ppm can do. Where it
// differs by more, the other readings of the same recipe are tried: if one of them gives what is stated, it is most likely meant.

#include "mixture/recipe.hpp"
#include "model/from_syntax/passes.hpp"
#include "wording/amounts.hpp"

namespace stepward::model::reading {
namespace {

using mixture::Exact;
using mixture::Measured;
using mixture::Recipe;
using mixture::Unit;

/// A figure of a label; nothing if it has too many digits or is nought.
std::optional<Rational> figure_of(std::string_view number) {
  const std::size_t point = number.find('.');
  const std::size_t decimals = point == std::string_view::npos ? 0 : number.size() - point - 1;
  if (number.size() > 7 || decimals > 4) return std::nullopt;
  const auto figure = exact(number);
  return figure && figure->num != 0 ? figure : std::nullopt;
}

/// "water", "cold water", "tap water, boiled": no other word names a liquid that people clean with.
bool is_water(const std::string& diluent) {
  const std::size_t at = diluent.find("water");
  return at != std::string::npos && (at == 0 || diluent[at - 1] == ' ') && diluent.find("with") == std::string::npos &&
         diluent.find("and") == std::string::npos;
}

Recipe parts(std::int64_t part, std::int64_t other) {
  return {Recipe::How::parts, {Rational(part), Unit::part, {}}, Rational(other)};
}

class AgentReader {
 public:
  AgentReader(Context& context, const Place& place, Agent& agent)
      : context_(context), place_(place), agent_(agent), once_(context) {}

  void run() {
    for (const NodeId child : context_.node(place_).children) read(context_.tree(place_)[child]);
    if (ratio_)
      explain_ratio();
    else if (!agent_.ready_to_use)
      check_mixing();
    if (agent_.water_only && !agent_.diluent.empty() && !is_water(agent_.diluent)) context_.report(Code::T710, how_, {agent_.name, agent_.diluent});
    if (agent_.works_on.empty()) context_.report(Code::N114, agent_.span, {agent_.name, "what it works on"});
  }

  /// `stock for …`: the same agent from what this hospital buys. Its own recipe was checked; the new one is worked out.
  void replace_stock(const Node& line, const Reading& reading) {
    if (agent_.ready_to_use || !agent_.strength_ppm) {
      context_.report(Code::T711, line.span, {agent_.name});
      return;
    }
    agent_.stock = stock_of(line, reading);
    agent_.recipe.reset();
    work_out(line.span);
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
      case NodeKind::fill: read_poured(line, context_.frames->fill, Recipe::How::filled_up); break;
      case NodeKind::add: read_poured(line, context_.frames->add, Recipe::How::added); break;
      case NodeKind::dissolve: read_dissolved(line); break;
      case NodeKind::water_only: agent_.water_only = true; break;
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

  /// The figure of a segment; reports what cannot be reckoned with.
  std::optional<Rational> figure(const Node& line, const Reading& reading, std::string_view label) {
    const auto value = figure_of(line.phrase[reading.find(label)->begin].text);
    if (!value) report_figure(line, reading, label);
    return value;
  }
  void report_figure(const Node& line, const Reading& reading, std::string_view label) {
    const Segment* segment = reading.find(label);
    context_.report(Code::T706, span_of(line, *segment), {line.phrase[segment->begin].written});
  }

  /// A strength in ppm. A degree of chlorum is 0.3 percent of active chlorine (CDC, appendix E).
  std::optional<Rational> strength_of(const Node& line, const Reading& reading) {
    const auto value = figure(line, reading, "n");
    if (!value) return std::nullopt;
    const std::string unit = words(line, *reading.find("unit"));
    const Rational ppm = *value * Rational(unit == "percent" ? 10'000 : unit == "degrees" ? 3'000 : 1);
    if (!(Rational(1'000'000) < ppm)) return ppm;
    report_figure(line, reading, "n");
    return std::nullopt;
  }

  void read_stock(const Node& line) {
    if (!once_.first(line, "made from")) return;
    if (const auto reading = context_.read(line, context_.frames->made_from)) agent_.stock = stock_of(line, *reading);
  }
  mixture::Stock stock_of(const Node& line, const Reading& reading) {
    mixture::Stock stock;
    stock.name = quoted(line, reading);
    stock.powder = reading.has("powder");
    if (reading.find("each"))
      stock.grams_each = figure(line, reading, "each");
    else
      stock.ppm = strength_of(line, reading);
    return stock;
  }

  /// The reading of a line that says how it is mixed; nothing if it cannot be read or is not the first.
  std::optional<Reading> read_recipe(const Node& line, const resolve::Frame& frame) {
    if (!once_.first(line, "how it is mixed")) return std::nullopt;
    auto reading = context_.read(line, frame);
    if (!reading) return std::nullopt;
    agent_.diluent = quoted(line, *reading);
    how_ = line.span;
    return reading;
  }

  void read_mix(const Node& line) {
    const auto reading = read_recipe(line, context_.frames->mix);
    if (!reading) return;
    if (const Segment* ratio = reading->find("ratio")) {
      ratio_ = &line.phrase[ratio->begin];
      return;
    }
    const auto part = figure(line, *reading, "a"), other = figure(line, *reading, "b");
    if (part && other) agent_.recipe = Recipe{Recipe::How::parts, {*part, Unit::part, {}}, *other};
  }

  /// How much of the stock, in millilitres or grams, by spoons or tablets.
  std::optional<Measured> measured(const Node& line, const Reading& reading) {
    const auto count = figure(line, reading, "a");
    Measured measured;
    if (reading.find("each")) {
      measured.each = figure(line, reading, "each");
      if (!measured.each) return std::nullopt;
    }
    if (!count) return std::nullopt;
    measured.count = *count;
    if (reading.find("spoons") || reading.find("tablets")) {
      measured.unit = reading.find("spoons") ? Unit::spoon : Unit::tablet;
      return measured;
    }
    const std::string unit = words(line, *reading.find("from"));
    const bool liquid = unit == "ml" || unit[0] == 'l';
    measured.unit = liquid ? Unit::millilitre : Unit::gram;
    if (unit == "kg" || (liquid && unit != "ml")) measured.count = measured.count * Rational(1000);
    return measured;
  }

  /// The volume behind "to" or "in", in millilitres.
  std::optional<Rational> volume(const Node& line, const Reading& reading) {
    const auto figure_read = figure(line, reading, "b");
    if (!figure_read) return std::nullopt;
    return words(line, *reading.find("to")) == "ml" ? *figure_read : *figure_read * Rational(1000);
  }

  void read_poured(const Node& line, const resolve::Frame& frame, Recipe::How how) {
    const auto reading = read_recipe(line, frame);
    if (!reading) return;
    const auto stock = measured(line, *reading);
    const auto all = volume(line, *reading);
    if (!stock || !all) return;
    const auto poured = mixture::amount_of(*stock);
    if (how == Recipe::How::filled_up && poured && !(*poured < Exact(*all))) {
      context_.report(Code::T705, line.span);
      return;
    }
    agent_.recipe = Recipe{how, *stock, *all};
  }

  void read_dissolved(const Node& line) {
    const auto reading = read_recipe(line, context_.frames->dissolve);
    if (!reading) return;
    const auto stock = measured(line, *reading);
    const auto water = volume(line, *reading);
    if (stock && water) agent_.recipe = Recipe{Recipe::How::dissolved, *stock, *water};
  }

  void read_strength(const Node& line) {
    if (!once_.first(line, "strength")) return;
    const auto reading = context_.read(line, context_.frames->strength);
    if (!reading) return;
    agent_.strength_ppm = strength_of(line, *reading);
    strength_span_ = line.span;
  }

  /// A stock and a strength are enough: the recipe is then worked out.
  void check_mixing() {
    if (once_.had("how it is mixed"))
      check_strength();
    else if (once_.had("made from") && once_.had("strength"))
      work_out(agent_.span);
    else
      context_.report(Code::N114, agent_.span, {agent_.name, "how it is mixed"});
  }

  void work_out(source::Span at) {
    if (!agent_.strength_ppm || (!agent_.stock.ppm && !agent_.stock.grams_each)) return;
    const Exact wanted(*agent_.strength_ppm);
    if (is_too_weak(wanted)) report_weak_stock(at, wanted);
    else agent_.recipe = mixture::recipe_for(agent_.stock, wanted);
    if (agent_.diluent.empty()) agent_.diluent = "water";
  }

  bool is_too_weak(Exact wanted) const { return agent_.stock.ppm && Exact(*agent_.stock.ppm) < wanted; }
  void report_weak_stock(source::Span at, Exact wanted) {
    context_.report(Code::T703, at, {agent_.stock.name, wording::ppm_phrase(Exact(*agent_.stock.ppm)), wording::ppm_phrase(wanted)});
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
    if (!agent_.recipe || (!agent_.stock.ppm && !agent_.stock.grams_each)) return;
    const auto gives = mixture::strength_of(agent_.stock, *agent_.recipe);
    if (!gives)
      explain_size(*agent_.recipe);
    else if (agent_.strength_ppm)
      hold_against(*gives, Exact(*agent_.strength_ppm));
  }

  void hold_against(Exact gives, Exact stated) {
    if (is_too_weak(stated)) return report_weak_stock(strength_span_, stated);
    if (mixture::is_same_strength(gives, stated)) return;
    auto& finding = context_.report(Code::T702, strength_span_, {wording::ppm_phrase(gives), wording::ppm_phrase(stated), ""});
    finding.places.push_back({how_, "mixed here"});
    for (const Recipe& other : mixture::other_readings(*agent_.recipe)) {
      if (!gives_stated(other)) continue;
      finding.args[2] = gives_phrase(other);
      finding.fix = wording::recipe_line(other, agent_.diluent);
    }
  }

  /// Spoons and tablets differ: nobody can reckon with one of which nothing more is said.
  void explain_size(const Recipe& recipe) {
    const bool spoon = recipe.stock.unit == Unit::spoon;
    if (agent_.stock.grams_each || (!spoon && recipe.stock.unit != Unit::tablet)) {
      context_.report(Code::T709, how_, {agent_.stock.name});
      return;
    }
    auto& finding = context_.report(Code::T708, how_, {spoon ? "spoon" : "tablet", ""});
    for (const Recipe& other : mixture::other_readings(recipe)) {
      finding.args[1] += (finding.args[1].empty() ? "" : "; ") + gives_phrase(other);
      if (gives_stated(other)) finding.fix = wording::recipe_line(other, agent_.diluent);
    }
  }

  /// "1 part with 9 parts gives 5 000 ppm"
  std::string gives_phrase(const Recipe& recipe) const {
    std::string line = wording::recipe_line(recipe, "");
    if (recipe.how == Recipe::How::parts) line.erase(0, line.find(' ') + 1);
    const auto gives = mixture::strength_of(agent_.stock, recipe);
    return gives ? line + " gives " + wording::ppm_phrase(*gives) : line;
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
    const Recipe in = parts(*part, *other - *part), with = parts(*part, *other);
    auto& finding = context_.report(Code::T701, ratio_->span, {text, gives_phrase(in), gives_phrase(with)});
    const std::string diluent = agent_.diluent.empty() ? "cold water" : agent_.diluent;
    finding.fix = wording::recipe_line(gives_stated(with) ? with : in, diluent);
  }

  bool gives_stated(const Recipe& recipe) const {
    const auto gives = mixture::strength_of(agent_.stock, recipe);
    return gives && agent_.strength_ppm && mixture::is_same_strength(*gives, Exact(*agent_.strength_ppm));
  }

  Context& context_;
  Place place_;
  Agent& agent_;
  Once once_;
  source::Span how_, strength_span_;
  const syntax::Token* ratio_ = nullptr;
};

}  // namespace

void read_agent(Context& context, const Place& place, Agent& agent) { AgentReader(context, place, agent).run(); }

void read_stocks(Context& context) {
  std::unordered_map<std::uint32_t, source::Span> said;
  for (std::uint32_t file = 0; file < context.loaded.files.size(); ++file) {
    const syntax::Tree& tree = context.loaded.files[file].tree;
    for (const NodeId top : tree.root().children) {
      if (tree[top].kind != NodeKind::stock_for) continue;
      const auto reading = context.read(tree[top], context.frames->stock_for);
      if (!reading) continue;
      Agent& agent = context.protocol.agents[reading->find("agent")->meaning.index];
      const auto [first, is_first] = said.emplace(reading->find("agent")->meaning.index, tree[top].span);
      if (is_first) AgentReader(context, {file, top}, agent).replace_stock(tree[top], *reading);
      else context.report(Code::N113, tree[top].span, {"the stock for " + agent.name}).places.push_back({first->second, "said first"});
    }
  }
}

namespace {

/// Who speaks nearer to the wearer goes first: the protocol, then the hospital's own libraries, then the standard one.
int rank_of(const Context& context, std::uint32_t file) { return file == 0 ? 0 : context.loaded.files[file].standard ? 2 : 1; }

class UsualAgentReader {
 public:
  explicit UsualAgentReader(Context& context) : context_(context), protocol_(context.protocol) {}

  void run() {
    for (std::uint32_t file = 0; file < context_.loaded.files.size(); ++file) {
      const syntax::Tree& tree = context_.loaded.files[file].tree;
      for (const NodeId top : tree.root().children) {
        if (tree[top].kind != NodeKind::usual_agent) continue;
        if (const auto reading = context_.read(tree[top], context_.frames->usual_agent))
          take(AgentId{reading->find("agent")->meaning.index}, tree[top].span, rank_of(context_, file));
      }
    }
  }

 private:
  void take(AgentId agent, source::Span said, int rank) {
    if (rank == rank_ && agent != protocol_.usual_agent) {
      context_.report(Code::N113, said, {"what disinfects"}).places.push_back({protocol_.usual_agent_said, "said first"});
    } else if (rank < rank_) {
      rank_ = rank;
      protocol_.usual_agent = agent;
      protocol_.usual_agent_said = said;
    }
  }

  Context& context_;
  Protocol& protocol_;
  int rank_ = 3;
};

}  // namespace

void read_usual_agent(Context& context) { UsualAgentReader(context).run(); }

void check_usual_agent(Context& context) {
  const source::Span said = context.protocol.usual_agent_said;
  if (said.file && said.file == context.loaded.files[0].tree.root().span.file && !context.usual_agent_needed)
    context.report(Code::N131, said);
}

}  // namespace stepward::model::reading
