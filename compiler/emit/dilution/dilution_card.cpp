#include "emit/dilution/dilution_card.hpp"

#include <algorithm>

#include "emit/dilution/mixture_words.hpp"
#include "emit/document/check_words.hpp"
#include "model/variants.hpp"

namespace stepward::emit {

using mixture::Exact;
using mixture::Recipe;
using mixture::Unit;
using wording::Phrase;

namespace {

enum : std::size_t { recipe_table, buckets_table, contact_table, made_table };

// A jug, a bottle and a bucket. Common practice, no source.
constexpr std::int64_t volumes_ml[] = {1000, 5000, 10'000};
constexpr int made_rows = 3;

std::vector<Table> dilution_tables(const PaperSource& source) {
  using What = Column::What;
  const auto words = [&](Phrase caption, double share) { return Column{What::words, source.said(caption), share}; };
  const auto pen = [&](Phrase caption, double share) { return Column{What::pen, source.said(caption), share}; };
  return {{{What::figure, source.said(Phrase::how_it_is_made), 1.2}, {What::words, "", 3}},
          {{What::figure, source.said(Phrase::to_make), 0.9}, {What::figure, source.said(Phrase::take_of_stock), 1}, words(Phrase::and_then, 3.2)},
          {words(Phrase::on_what, 3), {What::figure, source.said(Phrase::stays_wet_for), 2}},
          {words(Phrase::which_mixture, 1.3), pen(Phrase::made_on, 1.2), pen(Phrase::made_by, 1), pen(Phrase::throw_away_after, 1.2)}};
}

Text plain(const std::string& words) { return {{words, false, ""}}; }
Text strong(const std::string& words) { return {{words, true, ""}}; }

class DilutionPrinter {
 public:
  explicit DilutionPrinter(const PaperSource& source) : source_(source) {}

  bool has_mixture() const {
    const auto all = used();
    return std::any_of(all.begin(), all.end(), [&](model::AgentId agent) { return source_.protocol[agent].recipe.has_value(); });
  }

  std::vector<Block> print() {
    if (used().size() > 1) contents();
    for (const bool mixed : {true, false}) {
      for (const model::AgentId agent : used()) {
        if (source_.protocol[agent].recipe.has_value() == mixed) part(source_.protocol[agent]);
      }
    }
    return std::move(blocks_);
  }

 private:
  std::string said(Phrase which, std::initializer_list<wording::Gap> gaps = {}) const { return source_.said(which, gaps); }

  void say(Text text, bool warning = false) { blocks_.push_back(Paragraph{std::move(text), warning}); }
  void row(std::size_t table, std::vector<Text> cells) { blocks_.push_back(TableRow{table, "", false, std::move(cells)}); }

  /// Who finds one mixture on the first face is told that there is more.
  void contents() {
    std::vector<std::string> names;
    for (const model::AgentId agent : used()) names.push_back(source_.protocol[agent].name);
    say(plain(said(Phrase::on_this_card, {{"things", wording::all_of(source_.protocol.tongue, names)}})));
  }

  /// Agents by their declaration, each once.
  std::vector<model::AgentId> used() const {
    std::vector<bool> is_used(source_.protocol.agents.size(), false);
    for (const model::Line& line : source_.protocol.lines) {
      if (line.agent) is_used[line.agent.value] = true;
    }
    std::vector<model::AgentId> all;
    for (std::size_t a = 0; a < is_used.size(); ++a) {
      if (is_used[a]) all.push_back(model::AgentId(a));
    }
    return all;
  }

  void part(const model::Agent& agent) {
    blocks_.push_back(Heading{wording::capitalised(agent.name), true});
    if (agent.recipe) making(agent);
    else say(strong(said(Phrase::use_undiluted)));
    use(agent);
    contact(agent);
    if (agent.recipe) keeping(agent);
  }

  // ---- how it is made

  void making(const model::Agent& agent) {
    const auto gives = mixture::strength_of(agent.stock, *agent.recipe);
    if (gives) say(strong(said(Phrase::strength_is, {{"percent", percent_words(source_, *gives)}, {"ppm", ppm_words(source_, *gives)}})));
    blocks_.push_back(TableHead{recipe_table});
    row(recipe_table, {plain(measured_words(source_, *agent.recipe)), plain(stock_words(source_, agent.stock))});
    row(recipe_table, {plain(other_amount(*agent.recipe)), plain(other_words(agent))});
    if (agent.water_only) say(strong(said(Phrase::water_only)), true);
    if (gives) buckets(agent);
  }

  std::string diluent(const model::Agent& agent) const { return agent.diluent.empty() ? said(Phrase::water_for_mixing) : agent.diluent; }

  std::string other_amount(const Recipe& recipe) const {
    if (recipe.how != Recipe::How::parts) return volume_words(source_, Exact(recipe.other));
    return parts_words(source_, Exact(recipe.other));
  }

  std::string other_words(const model::Agent& agent) const {
    switch (agent.recipe->how) {
      case Recipe::How::parts: return diluent(agent);
      case Recipe::How::filled_up: return said(Phrase::filled_up_with, {{"diluent", diluent(agent)}});
      case Recipe::How::added: return said(Phrase::added_to, {{"diluent", diluent(agent)}});
      case Recipe::How::dissolved: return said(Phrase::dissolved_in, {{"diluent", diluent(agent)}});
    }
    return {};
  }

  void buckets(const model::Agent& agent) {
    blocks_.push_back(TableHead{buckets_table});
    for (const std::int64_t volume : volumes_ml) {
      const mixture::Batch batch = mixture::batch_for(agent.stock, *agent.recipe, Exact(volume));
      const std::string all = volume_words(source_, Exact(volume));
      const bool broken = batch.unit == Unit::tablet && batch.amount.den != 1;
      const std::string then = broken ? said(Phrase::no_whole_tablets)
                               : batch.unit == Unit::millilitre ? said(Phrase::fill_up_to, {{"stock", agent.stock.name}, {"diluent", diluent(agent)}, {"volume", all}})
                                                                : said(Phrase::dissolve_in, {{"stock", agent.stock.name}, {"diluent", diluent(agent)}, {"volume", all}});
      row(buckets_table, {plain(all), plain(batch_words(source_, batch)), plain(then)});
    }
  }

  // ---- what it is for

  std::string target_words(const model::Target& target) const {
    const model::Protocol& protocol = source_.protocol;
    if (target.item) return protocol[target.item].name;
    if (target.kind) return protocol[target.kind].name;
    if (target.site) return protocol[target.site].name;
    if (target.spot) return protocol[target.spot].name;
    return said(Phrase::on_everything);
  }

  std::vector<std::string> targets_words(const std::vector<model::Target>& targets) const {
    std::vector<std::string> names;
    for (const model::Target& target : targets) names.push_back(target_words(target));
    return names;
  }

  std::string all_of(const std::vector<model::Target>& targets) const { return wording::all_of(source_.protocol.tongue, targets_words(targets)); }
  std::string any_of(const std::vector<model::Target>& targets) const { return wording::any_of(source_.protocol.tongue, targets_words(targets)); }

  /// Then the contact times name everything that it is for.
  static bool has_times_for_all(const model::Agent& agent) {
    return std::any_of(agent.contact_times.begin(), agent.contact_times.end(), [](const model::ContactTime& time) { return time.on.empty(); });
  }

  void use(const model::Agent& agent) {
    if (!agent.works_on.empty() && !has_times_for_all(agent)) say(plain(said(Phrase::it_is_for, {{"things", all_of(agent.works_on)}})));
    if (!agent.never_on.empty()) say(strong(said(Phrase::never_on, {{"things", any_of(agent.never_on)}})), true);
    if (agent.only_after_cleaning) say(strong(said(Phrase::clean_first)));
  }

  /// By name what has no time of its own: the list of what the mixture is for may stand on the face before.
  std::string everything_else(const model::Agent& agent) const {
    std::vector<std::string> names = targets_words(agent.works_on);
    for (const model::ContactTime& time : agent.contact_times) {
      for (const std::string& timed : targets_words(time.on)) std::erase(names, timed);
    }
    if (!names.empty()) return wording::all_of(source_.protocol.tongue, names);
    return said(agent.contact_times.size() == 1 ? Phrase::on_everything : Phrase::on_everything_else);
  }

  void contact(const model::Agent& agent) {
    if (agent.contact_times.empty()) return;
    blocks_.push_back(TableHead{contact_table});
    for (const model::ContactTime& time : agent.contact_times) {
      const std::string on = time.on.empty() ? everything_else(agent) : all_of(time.on);
      row(contact_table, {plain(wording::capitalised(on)), plain(wording::duration_phrase(time.time))});
    }
  }

  void keeping(const model::Agent& agent) {
    say(strong(agent.keeps ? said(Phrase::throw_away_after_time, {{"time", wording::duration_phrase(*agent.keeps)}}) : said(Phrase::keeping_not_said)));
    blocks_.push_back(TableHead{made_table});
    for (int i = 0; i < made_rows; ++i) row(made_table, {plain(wording::capitalised(agent.name))});
  }

  const PaperSource& source_;
  std::vector<Block> blocks_;
};

}  // namespace

std::optional<Sheet> dilution_card(const PaperSource& source) {
  DilutionPrinter printer(source);
  if (!printer.has_mixture()) return std::nullopt;
  Sheet sheet = begun_sheet(source, SheetKind::table, source.said(Phrase::dilution_card));
  sheet.tables = dilution_tables(source);
  sheet.blocks = printer.print();
  stamp(sheet);
  return sheet;
}

}  // namespace stepward::emit
