#include "emit/fresh/paper_lines.hpp"

#include <algorithm>
#include <cctype>
#include <iterator>
#include <map>
#include <set>
#include <sstream>

namespace stepward::emit {

namespace {

using Senses = std::map<std::string, std::string>;  // by label

/// How a reference is read: as it is printed, not at all, or as what it leads to.
struct References {
  enum class As : std::uint8_t { printed, nothing, sense } as = As::printed;
  const Senses* senses = nullptr;
};

/// Collects the words of a block with marks between its parts.
class Reading {
 public:
  explicit Reading(References references) : references_(references) {}

  Reading& add(const std::string& part, const char* before = " ", const char* after = "") {
    if (part.empty()) return *this;
    if (!text_.empty()) text_ += before;
    text_ += part;
    text_ += after;
    return *this;
  }
  Reading& add(const Text& text, const char* before = " ") { return add(words(text), before); }
  template <class Part>
  Reading& add_all(const std::vector<Part>& parts, const char* before = " ") {
    for (const Part& part : parts) add(part, before);
    return *this;
  }
  Reading& named(const char* name, const std::string& part) {
    if (part.empty()) return *this;
    return add(std::string(name) + ' ' + part, "; ");
  }
  std::string words(const Text& text) const {
    std::string words;
    for (const Run& run : text) words += run.target.empty() ? run.text : reference(run);
    return words;
  }
  std::string text() const { return text_; }

 private:
  std::string reference(const Run& run) const {
    switch (references_.as) {
      case References::As::printed: return run.text;
      case References::As::nothing: return {};
      case References::As::sense: {
        const auto found = references_.senses->find(run.target);
        return found == references_.senses->end() ? run.text : "(" + found->second + ")";
      }
    }
    return {};
  }

  References references_;
  std::string text_;
};

struct Reader {
  const Sheet& sheet;
  References references;

  Reading reading() const { return Reading(references); }

  std::string operator()(const ZoneBand& b) const { return reading().add(b.name).add(b.risk, " · ").text(); }
  std::string operator()(const Heading& b) const { return b.text; }
  std::string operator()(const Paragraph& b) const { return reading().add(b.text).text(); }
  std::string operator()(const Step& b) const {
    return reading().add(critical(b.critical)).add_all(b.warnings).add(b.act).add(b.manner, ". ").add(b.clock, "; ").add_all(b.side, "; ").text();
  }
  std::string operator()(const Frame& b) const {
    Reading words = reading().add(b.ask);
    for (const FrameRow& row : b.rows) words.add(row.key, "; ").add(row.text, row.key.empty() ? "; " : ": ");
    return words.text();
  }
  std::string operator()(const Notice& b) const { return reading().add(b.text).text(); }
  std::string operator()(const BranchMark& b) const { return b.text; }
  std::string operator()(const BoxMark& b) const { return reading().add(b.breach ? sheet.captions.breach : sheet.captions.box).add(b.title).add(b.when, "; ").text(); }
  std::string operator()(const EndMark& b) const { return reading().add(b.text).text(); }
  std::string operator()(const SayRow& b) const {
    const Captions& c = sheet.captions;
    return reading()
        .add(critical(b.critical))
        .add_all(b.warnings)
        .named(c.say.c_str(), quoted(b.say))
        .named(c.hear.c_str(), quoted(b.hear))
        .named(c.act.c_str(), reading().words(b.act))
        .named(c.look_for.c_str(), b.look_for)
        .named(c.clock.c_str(), b.clock)
        .named(c.if_not.c_str(), b.if_not)
        .add_all(b.remarks, "; ")
        .text();
  }
  std::string operator()(const TableHead& b) const {
    Reading words = reading();
    for (const Column& column : sheet.tables[b.table]) words.add(column.caption, " · ");
    return words.text();
  }
  std::string operator()(const TableRow& b) const { return reading().add(critical(b.critical)).add_all(b.cells, " · ").text(); }

  std::string operator()(const Figure& b) const { return b.told; }

  std::string critical(bool is) const { return is ? sheet.captions.critical : std::string(); }
  static std::string quoted(const std::string& words) { return words.empty() ? words : "“" + words + "”"; }
};

std::string one_line(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

bool is_of_word(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0; }

/// "WARNING before step 19." says the same on step 20.
std::string without_own_label(std::string text, const std::string& label) {
  for (std::size_t at = text.find(label); !label.empty() && at != std::string::npos; at = text.find(label, at + 1)) {
    const std::size_t end = at + label.size();
    const bool is_whole = (at == 0 || !is_of_word(text[at - 1])) && (end == text.size() || !is_of_word(text[end]));
    if (is_whole) text.replace(at, label.size(), "*");
  }
  return text;
}

/// What each label leads to. Where that refers to something itself, no circle is followed.
Senses senses_of(const Sheet& sheet) {
  Senses senses;
  for (const Block& block : sheet.blocks) {
    const std::string label = label_of(block);
    if (!label.empty()) senses.emplace(label, without_own_label(std::visit(Reader{sheet, {References::As::nothing, nullptr}}, block), label));
  }
  return senses;
}

void add_facts(const Control& c, std::vector<PaperLine>& lines) {
  const auto fact = [&](const char* name, const std::string& value) { lines.push_back({name, value, std::string(name) + ' ' + value, true}); };
  fact("paper", c.kind);
  fact("title", c.title);
  fact("number", c.number);
  fact("version", c.version);
  fact("status", c.status);
  fact("in force", c.in_force);
  fact("review due", c.review_due);
  fact("owner", c.owner);
  fact("approved by", c.approver);
  fact("variant", c.variant);
  fact("reminder", c.reminder);
  fact("mark", c.watermark);
  for (const FaceMark& mark : c.marks) {
    if (mark.in_words) fact("mark", mark.word + ": " + mark.why);
  }
}

// ------------------------------------------------------------------ difference

/// Pairs of lines that are the same in both, rising in both, as many as there can be.
std::vector<std::pair<std::size_t, std::size_t>> in_common(const std::vector<PaperLine>& then, const std::vector<PaperLine>& now) {
  const std::size_t width = now.size() + 1;
  std::vector<std::uint32_t> longest((then.size() + 1) * width, 0);  // from here to the end
  for (std::size_t i = then.size(); i-- > 0;) {
    for (std::size_t j = now.size(); j-- > 0;) {
      longest[i * width + j] = then[i].sense == now[j].sense ? longest[(i + 1) * width + j + 1] + 1
                                                             : std::max(longest[(i + 1) * width + j], longest[i * width + j + 1]);
    }
  }
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  for (std::size_t i = 0, j = 0; i < then.size() && j < now.size();) {
    if (then[i].sense == now[j].sense) pairs.emplace_back(i++, j++);
    else if (longest[(i + 1) * width + j] >= longest[i * width + j + 1]) ++i;
    else ++j;
  }
  return pairs;
}

std::multiset<std::string> words_of(const std::string& text) {
  std::istringstream stream(text);
  std::multiset<std::string> words;
  for (std::string word; stream >> word;) words.insert(word);
  return words;
}

/// Half of the words of the longer one are in the other; facts belong together by name.
bool are_alike(const PaperLine& a, const PaperLine& b) {
  if (a.is_fact || b.is_fact) return a.is_fact && b.is_fact && a.label == b.label;
  const auto left = words_of(a.text), right = words_of(b.text);
  std::vector<std::string> both;
  std::set_intersection(left.begin(), left.end(), right.begin(), right.end(), std::back_inserter(both));
  return 2 * both.size() >= std::max(left.size(), right.size()) && !both.empty();
}

class Difference {
 public:
  Difference(const std::vector<PaperLine>& then, const std::vector<PaperLine>& now) : then_(then), now_(now) {}

  std::vector<PaperChange> find() {
    std::size_t i = 0, j = 0;
    for (const auto& [same_then, same_now] : in_common(then_, now_)) {
      gap(i, same_then, j, same_now);
      if (then_[same_then].label != now_[same_now].label || then_[same_then].text != now_[same_now].text)
        changes_.push_back({PaperChange::What::renumbered, then_[same_then], now_[same_now]});
      i = same_then + 1;
      j = same_now + 1;
    }
    gap(i, then_.size(), j, now_.size());
    join_moved();
    return std::move(changes_);
  }

 private:
  /// Lines between two that stayed: what is alike was changed, the rest is gone or new.
  void gap(std::size_t i, std::size_t i_end, std::size_t j, std::size_t j_end) {
    for (; j < j_end; ++j) {
      std::size_t like = i;
      while (like < i_end && !are_alike(then_[like], now_[j])) ++like;
      if (like == i_end) {
        changes_.push_back({PaperChange::What::added, {}, now_[j]});
        continue;
      }
      for (; i < like; ++i) changes_.push_back({PaperChange::What::gone, then_[i], {}});
      // A question that leads to a step which changed reads as before; the change is told at the step.
      const PaperLine& was = then_[i++];
      const bool reads_as_before = was.label == now_[j].label && was.text == now_[j].text;
      if (!reads_as_before) changes_.push_back({PaperChange::What::changed, was, now_[j]});
    }
    for (; i < i_end; ++i) changes_.push_back({PaperChange::What::gone, then_[i], {}});
  }

  /// What is gone in one place and new in another has moved; it is told where it stands now.
  void join_moved() {
    for (PaperChange& here : changes_) {
      if (here.what != PaperChange::What::added) continue;
      const auto left = std::find_if(changes_.begin(), changes_.end(), [&](const PaperChange& each) {
        return each.what == PaperChange::What::gone && each.then.sense == here.now.sense && !each.then.label.empty();
      });
      if (left == changes_.end()) continue;
      here.what = PaperChange::What::moved;
      here.then = left->then;
      left->then.sense.clear();
      left->what = PaperChange::What::renumbered;  // told with its other half; dropped below
    }
    std::erase_if(changes_, [](const PaperChange& each) { return each.what == PaperChange::What::renumbered && each.then.sense.empty(); });
  }

  const std::vector<PaperLine>& then_;
  const std::vector<PaperLine>& now_;
  std::vector<PaperChange> changes_;
};

}  // namespace

std::vector<PaperLine> lines_of(const Sheet& sheet) {
  std::vector<PaperLine> lines;
  add_facts(sheet.control, lines);
  const Senses senses = senses_of(sheet);
  for (const Block& block : sheet.blocks) {
    const std::string text = one_line(std::visit(Reader{sheet, {}}, block)), label = label_of(block);
    if (text.empty()) continue;
    lines.push_back({label, text, without_own_label(one_line(std::visit(Reader{sheet, {References::As::sense, &senses}}, block)), label)});
  }
  return lines;
}

std::vector<PaperChange> changes(const Sheet& then, const Sheet& now) {
  const std::vector<PaperLine> before = lines_of(then), after = lines_of(now);
  return Difference(before, after).find();
}

}  // namespace stepward::emit
