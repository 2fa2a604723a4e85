#pragma once
// What the sections of the dossier are written with: headings, paragraphs and rows; things, levels and steps in words.

#include <functional>
#include <string>
#include <vector>

#include "emit/dossier/facts.hpp"
#include "emit/paper_parts.hpp"

namespace stepward::emit::dossier {

/// Positions in `Sheet::tables`.
enum Tables : std::size_t { fields_table, list_table, stories_table, rules_table, map_table, kit_table, waste_table, times_table, sources_table, signatures_table, slips_table,
                           scales_table, matrix_table, modes_table, causes_fields, action_fields, all_fields };

/// The numbers of the variants that say the same, and what they say.
struct Shared { std::vector<std::size_t> variants; std::string said; };

class Writer {
 public:
  Writer(const PaperSource& source, const Facts& facts, const Sheet& sheet) : source_(source), facts_(facts), captions_(sheet.captions) {}

  const model::Protocol& protocol() const { return source_.protocol; }
  const PaperSource& source() const { return source_; }
  const Facts& facts() const { return facts_; }
  /// What the papers of one variant are made from.
  PaperSource source_of(const VariantFacts& variant) const { return {source_.protocol, source_.written, variant.variant, variant.course, variant.walk}; }
  std::string said(wording::Phrase which, std::initializer_list<wording::Gap> gaps = {}) const { return source_.said(which, gaps); }

  /// Opens the next numbered section; `heading` opens a part of one.
  void section(wording::Phrase which, bool whole = false) { blocks_.push_back(Heading{next_title(which), whole}); }
  /// The same on a face of its own; runs lead there by this label.
  void section_apart(wording::Phrase which, const std::string& label) { blocks_.push_back(Heading{next_title(which), false, true, label}); }
  void heading(wording::Phrase which) { blocks_.push_back(Heading{said(which)}); }
  /// The same with words that come from the protocol.
  void heading_of(const std::string& words) { blocks_.push_back(Heading{words}); }
  void paragraph(const std::string& text, bool strong = false) { blocks_.push_back(Paragraph{{{text, strong, ""}}, false}); }
  void warning(const std::string& text) { blocks_.push_back(Paragraph{{{text, true, ""}}, true}); }
  void open(Tables table) { blocks_.push_back(TableHead{table}); }
  /// `keeps_with_next`: it stands on the face of the row below.
  void row(Tables table, std::vector<Text> cells, bool keeps_with_next = false) { blocks_.push_back(TableRow{table, "", false, std::move(cells), keeps_with_next}); }
  /// A row of "name, value"; one without a value is left out.
  void field(wording::Phrase name, const std::string& value);
  void add(Block block) { blocks_.push_back(std::move(block)); }
  std::vector<Block> take() { return std::move(blocks_); }

  // ---- words
  std::string day(const std::string& iso) const;
  std::string level(std::uint32_t level) const;
  /// "plastic apron", "helper’s outer gloves", "bare hands": without an article.
  std::string bearer(const effects::Bearer& bearer) const;
  /// Things with the surfaces that are meant: "gown (ties, front), goggles".
  std::string surfaces(const std::vector<check::MapSurface>& all) const;
  /// "R01 gloves first".
  std::string rule(const model::Rule& rule) const { return rule.name.empty() ? rule.number : rule.number + ' ' + rule.name; }
  /// The act of a step as on the card, the doer before it where that is not the person who acts.
  Text act(const VariantFacts& variant, model::LineId line) const;

  // ---- variants
  bool has_variants() const { return facts_.variants.size() > 1; }
  /// What each variant says (empty: nothing), those that say the same together.
  std::vector<Shared> shared(const std::function<std::string(const VariantFacts&)>& say) const;
  /// The same in lines: what is said, and where there are several, in which variants.
  std::string by_variant(const std::function<std::string(const VariantFacts&)>& say, const char* between = "\n") const;
  /// "42 (variants 1, 3)": the numbers that these lines have on the cards of the variants `of`, counted from 0.
  std::string steps_of_lines(const std::set<model::LineId>& lines, const std::set<std::size_t>& of, const char* between) const;
  std::string in_variants(const Shared& shared) const;
  /// "1–3, 5".
  static std::string numbers(const std::vector<std::size_t>& variants);

 private:
  std::string next_title(wording::Phrase which) {
    return said(wording::Phrase::dossier_section, {{"number", std::to_string(++sections_)}, {"title", wording::capitalised(said(which))}});
  }

  const PaperSource& source_;
  const Facts& facts_;
  const Captions& captions_;
  std::vector<Block> blocks_;
  std::size_t sections_ = 0;
};

/// The labels of these lines in order, each once, runs of whole numbers drawn together: "1, 2a, 5–8".
std::string steps_of(const VariantFacts& variant, const std::set<model::LineId>& lines);
/// Whether a label stands before another one: the trunk with its branches, then boxes, then breaches.
bool stands_before(const std::string& a, const std::string& b);
/// The labels of a variant in this order.
std::vector<std::string> labels_of(const VariantFacts& variant);

/// Until when somebody answers for a slip, why, and who agreed; that the day is past first and loud.
Text answer_agreed(const Writer& writer, const model::AnsweredSlip& answer);

/// What the table of failure modes is referred to by.
inline constexpr const char* failure_modes_label = "failure-modes";
/// How many slips became of this.
std::string count_of(const slips::Table& table, slips::Outcome outcome);

// ---- the sections
void write_front(Writer& writer);
void write_start(Writer& writer);  ///< a part of the front
void write_findings(Writer& writer);
void write_rules(Writer& writer);
void write_registers(Writer& writer);
void write_map(Writer& writer);
void write_kit(Writer& writer);
void write_sources(Writer& writer);
void write_slips(Writer& writer);
void write_failure_modes(Writer& writer);

}  // namespace stepward::emit::dossier
