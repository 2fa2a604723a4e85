#include "driver/mend_text.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "diagnostics/render.hpp"
#include "driver/verdict_text.hpp"
#include "mend/costs.hpp"
#include "wording/messages.hpp"
#include "wording/step_text.hpp"

namespace stepward::driver {
namespace {

using diagnostics::Diagnostic;
using mend::Change;
using mend::Mend;
using mend::Placed;

std::string counted_things(std::uint64_t count, const char* one, const char* several) { return fmt::format("{} {}", grouped(count), count == 1 ? one : several); }

std::string headline_of(const Diagnostic& d, const source::Files& files) {
  const std::string where = d.at.file ? fmt::format(" {}:{}", files.path(d.at.file), files.position(d.at.file, d.at.begin).line) : "";
  return fmt::format("{}{}  {}", diagnostics::code_name(d.code), where, wording::headline(d.code, d.args));
}

std::string_view line_on_disk(const source::Files& files, const std::string& path, std::uint32_t line) {
  for (std::uint32_t f = 0; f < files.size(); ++f)
    if (files.path(source::FileId(f)) == path) return files.line_text(source::FileId(f), line);
  return {};
}

/// Lines of a file with what becomes of them: "+" is to be written, "-" leaves this place.
class Excerpt {
 public:
  Excerpt(const source::Files& files, const std::string& path) : files_(files), path_(path) {}

  void here(std::uint32_t line) { if (line > 0 && !text(line).empty()) row(std::to_string(line), ' ', text(line)); }
  void leaves(std::uint32_t line) { row(std::to_string(line), '-', text(line)); }
  void stays(std::uint32_t line, const std::string& written) { row(std::to_string(line), ' ', written); }
  void written(const std::string& line) { row("", '+', line); }
  std::string take() { return std::move(out_); }

  std::string text(std::uint32_t line) const { return std::string(line_on_disk(files_, path_, line)); }

 private:
  void row(const std::string& number, char mark, const std::string& line) { out_ += fmt::format("   {:>4} {} {}\n", number, mark, line); }

  const source::Files& files_;
  const std::string& path_;
  std::string out_;
};

std::string moved(const Placed& p, const source::Files& files) {
  Excerpt from(files, p.change.path), to(files, p.change.path);
  for (std::uint32_t line = p.first; line <= p.last; ++line) from.leaves(line);
  to.here(p.before - 1);
  for (const std::string& line : p.change.lines) to.written(line);
  to.here(p.before);
  return p.first < p.before ? from.take() + "    ...\n" + to.take() : to.take() + "    ...\n" + from.take();
}

/// A question put around lines, or made two of one.
std::string parted(const Placed& p, const source::Files& files) {
  Excerpt out(files, p.change.path);
  out.here(p.first - 1);
  std::uint32_t next = p.first;
  const auto is_next = [&](const std::string& line) { return next <= p.last && mend::without_margin(line) == mend::without_margin(out.text(next)); };
  const bool keeps_none = std::none_of(p.change.lines.begin(), p.change.lines.end(), is_next);
  for (; keeps_none && next <= p.last; ++next) out.leaves(next);
  for (const std::string& line : p.change.lines) is_next(line) ? out.stays(next++, line) : out.written(line);
  out.here(p.last + 1);
  return out.take();
}

std::string inserted(const Placed& p, const source::Files& files) {
  Excerpt out(files, p.change.path);
  out.here(p.before - 1);
  for (const std::string& line : p.change.lines) out.written(line);
  out.here(p.before);
  return out.take();
}

std::string excerpt_of(const Placed& p, const source::Files& files) {
  if (p.change.kind == Change::Kind::move) return moved(p, files);
  return p.change.first != 0 ? parted(p, files) : inserted(p, files);
}

std::string lines_phrase(std::uint32_t first, std::uint32_t last) { return first == last ? fmt::format("line {}", first) : fmt::format("lines {} to {}", first, last); }

std::string what_to_do(const Placed& p) {
  const std::string count = p.change.written == 1 ? "one line" : fmt::format("{} lines", p.change.written);
  switch (p.change.kind) {
    case Change::Kind::move: return fmt::format("move {} in front of line {} of {}", lines_phrase(p.first, p.last), p.before, p.change.path);
    case Change::Kind::branch:
      if (p.change.first != 0) return fmt::format("write {} at line {} of {}", count, p.first, p.change.path);
      [[fallthrough]];
    case Change::Kind::insert: return fmt::format("write {} in front of line {} of {}", count, p.before, p.change.path);
  }
  return {};
}

std::string use_phrase(const mend::Use& use) {
  const std::string unit = use.unit.empty() ? "" : use.unit + ' ';
  const std::string kit = use.listed ? fmt::format("; all lines then need at most {} of the {} at hand", use.needed, use.given) : "";
  return fmt::format("uses up to {} {}{}{}", use.by_these, unit, use.name, kit);
}

std::vector<std::string> cost_phrases(const Mend& m) {
  const mend::Costs costs = mend::costs_of(m);
  std::vector<std::string> out;
  if (costs.steps == 0) out.push_back("no step more on the longest path");
  else out.push_back(fmt::format("{} {} on the longest path", counted_things(static_cast<std::uint64_t>(std::abs(costs.steps)), "step", "steps"), costs.steps > 0 ? "more" : "fewer"));
  if (costs.seconds > 0) out.push_back(fmt::format("at least {} each time", wording::duration_phrase({costs.seconds})));
  for (const mend::Use& use : costs.uses) out.push_back(use_phrase(use));
  return out;
}

std::string clears_phrase(const mend::Result& result, const Mend& m) {
  const std::string all = result.errors.size() == 1 ? "the error above" : "all errors above";
  if (m.left == 0 && m.others == 0) return all + "; none is left";
  if (m.left == 0) return fmt::format("{}; {} left that no change of steps clears", all, counted_things(m.others, "error is", "errors are"));
  return fmt::format("the first of the errors above; {} left", counted_things(m.left, "error is", "errors are"));
}

std::string walk_phrase(const Mend& m) {
  const auto counts = diagnostics::count(m.seen.findings);
  return fmt::format("{}, {}, interruptions included: {}, {}", counted_things(m.seen.verdict.walks.size(), "variant", "variants"),
                     counted_things(m.seen.verdict.states(), "state", "states"), counted_things(counts.errors, "error", "errors"),
                     counted_things(counts.warnings, "warning", "warnings"));
}

std::string mend_text(const mend::Result& result, std::size_t number) {
  const Mend& m = result.mends[number];
  std::string out = fmt::format("mend {}\n", number + 1);
  for (const Placed& p : m.changes) out += "  " + what_to_do(p) + '\n' + excerpt_of(p, result.before.files);
  out += fmt::format("  clears   {}\n", clears_phrase(result, m));
  out += fmt::format("  costs    {}\n", fmt::join(cost_phrases(m), "; "));
  return out + fmt::format("  checked  {}\n\n", walk_phrase(m));
}

std::string tried_phrase(const mend::Result& result, std::size_t limit) {
  return fmt::format("{} tried: new lines in the words of this protocol, lines moved, questions put around lines{}",
                     counted_things(result.tried, "change was", "changes were"),
                     result.tried >= limit ? fmt::format("; more are tried with --limit {}", 4 * limit) : "");
}

std::string errors_text(const mend::Result& result) {
  std::string out;
  for (const Diagnostic& d : result.errors) out += "error " + headline_of(d, result.before.files) + '\n';
  if (result.other_errors > 0) out += fmt::format("{} besides, which no change of steps clears; \"check\" tells of them\n", counted_things(result.other_errors, "error", "errors"));
  return out;
}

constexpr const char* last_words =
    "No file was changed. These are changes that your rules and the declared touches, covers and places let pass, and no advice:\n"
    "whether one of them is right at the bedside is for local policy, product labels and licensed practice to say. What happens\n"
    "when somebody leaves one of the new lines out was not looked at.\n";

}  // namespace

std::string mends_as_text(const mend::Result& result, const std::string& file, std::size_t limit) {
  if (result.errors.empty()) return errors_text(result) + fmt::format("nothing in the steps of {} has to be mended\n", file);
  std::string out = errors_text(result) + '\n';
  for (std::size_t m = 0; m < result.mends.size(); ++m) out += mend_text(result, m);
  if (result.mends.empty()) return out + fmt::format("no mend was found; {}\n", tried_phrase(result, limit));
  if (result.mends.front().left > 0) out += fmt::format("nothing was found that clears every error; {}\n", tried_phrase(result, limit));
  else out += fmt::format("{} tried; {} passed and walked to the end.\n", counted_things(result.tried, "change was", "changes were"), grouped(result.walked));
  return out + last_words;
}

namespace {

using diagnostics::Row;

std::string kind_name(Change::Kind kind) {
  switch (kind) {
    case Change::Kind::insert: return "insert";
    case Change::Kind::move: return "move";
    case Change::Kind::branch: return "branch";
  }
  return {};
}

Row row_of(std::size_t number, const Placed& p) {
  return {{{"mend", std::int64_t(number)}, {"what", kind_name(p.change.kind)}, {"file", p.change.path}, {"before_line", std::int64_t(p.before)},
           {"first_line", std::int64_t(p.first)}, {"last_line", std::int64_t(p.last)}, {"lines", p.change.lines}}};
}

Row row_of(std::size_t number, const Mend& m) {
  const mend::Costs costs = mend::costs_of(m);
  std::vector<std::string> uses;
  for (const mend::Use& use : costs.uses) uses.push_back(use_phrase(use));
  return {{{"mend", std::int64_t(number)}, {"lines_written", std::int64_t(m.size)}, {"errors_left", std::int64_t(m.left)}, {"steps_more", costs.steps},
           {"seconds_more", std::int64_t(costs.seconds)}, {"kit", uses}, {"variants", std::int64_t(m.seen.verdict.walks.size())},
           {"states", std::int64_t(m.seen.verdict.states())}, {"complete", m.seen.verdict.complete}}};
}

}  // namespace

std::string mends_as_json(const mend::Result& result, const std::string& file, std::size_t limit) {
  std::vector<Row> mends, changes;
  for (std::size_t m = 0; m < result.mends.size(); ++m) {
    mends.push_back(row_of(m + 1, result.mends[m]));
    for (const Placed& p : result.mends[m].changes) changes.push_back(row_of(m + 1, p));
  }
  return diagnostics::as_json(result.errors, result.before.files,
                              {{"file", file}, {"mends", std::move(mends)}, {"changes", std::move(changes)}, {"tried", std::int64_t(result.tried)},
                               {"limit", std::int64_t(limit)}, {"other_errors", std::int64_t(result.other_errors)}, {"applied", false}, {"note", std::string(last_words)}});
}

}  // namespace stepward::driver
