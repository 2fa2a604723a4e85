// Harmless edits of what things are called: an item renamed throughout, and a further value for a choice.

#include <algorithm>

#include "model/from_syntax.hpp"
#include "model/variants.hpp"
#include "mutant.hpp"

namespace stepward::mutations {
namespace {

using syntax::NodeKind;

using Words = std::vector<std::string>;
Words split(const std::string& name) {
  Words out;
  for (std::size_t at = 0; at < name.size();) {
    const std::size_t end = std::min(name.find(' ', at), name.size());
    out.push_back(name.substr(at, end - at));
    at = end + 1;
  }
  return out;
}

/// Tokens [first, last] of a phrase.
struct Stretch { std::size_t first, last; };

bool stands_at(const std::vector<syntax::Token>& phrase, std::size_t at, const Words& name) {
  for (std::size_t k = 0; k < name.size(); ++k)
    if (at + k >= phrase.size() || phrase[at + k].kind != syntax::TokenKind::word || phrase[at + k].text != name[k]) return false;
  return true;
}

/// What stands before this name in names of other items that end in it: "hooded" for "coverall", beside a "hooded coverall".
std::vector<std::string> longer_by(const Base& base, const std::string& name) {
  std::vector<std::string> out;
  for (const model::Item& item : base.protocol->items)
    if (item.name.ends_with(' ' + name)) out.push_back(item.name.substr(0, item.name.size() - name.size() - 1));
  return out;
}

/// Where a name stands among the words of a phrase, and is not the end of a longer one.
std::vector<Stretch> stretches(const Base& base, const std::vector<syntax::Token>& phrase, const std::string& name) {
  const Words words = split(name);
  const std::vector<std::string> longer = longer_by(base, name);
  std::vector<Stretch> out;
  for (std::size_t i = 0; i + words.size() <= phrase.size(); ++i) {
    const bool ends_another = std::any_of(longer.begin(), longer.end(), [&](const std::string& text) {
      const Words before = split(text);
      return before.size() <= i && stands_at(phrase, i - before.size(), before);
    });
    if (!ends_another && stands_at(phrase, i, words)) out.push_back({i, i + words.size() - 1});
  }
  return out;
}

std::size_t column(const Base& base, std::uint32_t offset, std::uint32_t file) {
  const std::string_view text = base.files.text(source::FileId(file));
  const std::size_t line_end = offset == 0 ? std::string_view::npos : text.rfind('\n', offset - 1);
  return line_end == std::string_view::npos ? offset : offset - line_end - 1;
}

std::string between(const Base& base, const std::vector<syntax::Token>& phrase, Stretch s) {
  return std::string(base.files.text(source::Span{phrase[s.first].span.file, phrase[s.first].span.begin, phrase[s.last].span.end}));
}

void replace(const Base& base, Copies& copies, Place p, Stretch s, const std::string& with) {
  const auto& phrase = base[p].phrase;
  copies.replace(base.origin(phrase[s.first].span), column(base, phrase[s.first].span.begin, p.file), between(base, phrase, s).size(), with);
}

void put_behind(const Base& base, Copies& copies, Place p, std::size_t token, const std::string& text) {
  const auto& span = base[p].phrase[token].span;
  copies.replace(base.origin(span), column(base, span.end, p.file), 0, text);
}

std::vector<Place> every_statement(const Base& base) {
  std::vector<Place> out;
  for (std::uint32_t file = 0; file < base.loaded.files.size(); ++file)
    for (std::uint32_t n = 1; n < base.loaded.files[file].tree.nodes.size(); ++n) out.push_back({file, syntax::NodeId(n)});
  return out;
}

/// A line's text with a name exchanged, but neither inside quotes nor at the end of a longer name.
std::string with_name(const Base& base, const std::string& text, const std::string& name, const std::string& other) {
  const std::vector<std::string> longer = longer_by(base, name);
  std::string out;
  bool quoted = false;
  for (std::size_t at = 0; at < text.size();) {
    if (text[at] == '"') quoted = !quoted;
    const std::size_t end = at + name.size();
    const bool begins = at == 0 || text[at - 1] == ' ';
    const bool ends = end == text.size() || text[end] == ' ' || text[end] == ',';
    const bool ends_another = std::any_of(longer.begin(), longer.end(), [&](const std::string& before) { return out.ends_with(before + ' '); });
    if (!quoted && begins && !ends_another && text.compare(at, name.size(), name) == 0 && ends) { out += other; at = end; continue; }
    out += text[at++];
  }
  return out;
}

}  // namespace

std::vector<Mutant> items_renamed(const Base& base) {
  std::vector<Mutant> out;
  const auto statements = every_statement(base);
  for (const model::Item& item : base.protocol->items) {
    Mutant m = start(base, "an item renamed throughout", base.origin(item.span));
    m.note = item.name;
    for (const Place& p : statements) {
      auto found = stretches(base, base[p].phrase, item.name);
      std::reverse(found.begin(), found.end());
      for (const Stretch& s : found) replace(base, m.copies, p, s, "kestrel " + item.name);
    }
    out.push_back(std::move(m));
  }
  return out;
}

namespace {

/// Writes a twin of one item into every place that names the item as one of several.
class Twin {
 public:
  Twin(const Base& base, Mutant& mutant, const model::Choice& choice, const std::string& name)
      : base_(base), copies_(mutant.copies), choice_(choice), name_(name), twin_("twin " + name) {}

  void run() {
    for (const Place& p : every_statement(base_)) visit(p);
  }
  const std::string& twin() const { return twin_; }

 private:
  void visit(Place p) {
    const auto found = stretches(base_, base_[p].phrase, name_);
    if (found.empty()) return;
    const auto& phrase = base_[p].phrase;
    switch (base_[p].kind) {
      case NodeKind::item: if (phrase.size() == split(name_).size()) twice(p); break;
      case NodeKind::goes_over: case NodeKind::takes_off: case NodeKind::puts_on: case NodeKind::tests: case NodeKind::cleans:
      case NodeKind::works_on: case NodeKind::never_on: case NodeKind::unless: case NodeKind::while_state: in_list(p, found); break;
      case NodeKind::require: in_alternatives(p, found); break;
      case NodeKind::only_for: case NodeKind::never_together: twice(p); break;
      case NodeKind::plain: plain(p, found); break;
      default: break;
    }
  }

  /// A choice's values, or a line that ends in `only for` the item.
  void plain(Place p, const std::vector<Stretch>& found) {
    const auto& phrase = base_[p].phrase;
    if (base_[base_.parent(p)].kind == NodeKind::variants) {
      if (!stretches(base_, phrase, choice_.name).empty()) put_behind(base_, copies_, p, phrase.size() - 1, " or " + twin_);
      return;
    }
    const std::size_t first = found.back().first;
    if (first >= 2 && phrase[first - 1].text == "for" && phrase[first - 2].text == "only" && found.back().last + 1 == phrase.size()) twice(p);
  }

  void twice(Place p) {
    for (Place above = base_.parent(p); above.node; above = base_.parent(above))
      if (base_[above].kind == NodeKind::only_for && !stretches(base_, base_[above].phrase, name_).empty()) return;  // goes with it
    std::vector<TextLine> lines;
    for (TextLine line : base_.copies.lines(base_.range(p))) {
      line.text = with_name(base_, line.text, name_, twin_);
      if (line.text.find("known as ") == std::string::npos) lines.push_back(std::move(line));
    }
    copies_.put_after({p.file, base_.range(p).last}, as_new(lines));
  }

  /// "front of X, zip of X" with ", front of Y, zip of Y" behind.
  void in_list(Place p, std::vector<Stretch> found) {
    const auto& phrase = base_[p].phrase;
    std::reverse(found.begin(), found.end());
    for (const Stretch& s : found) {
      std::size_t first = s.first;
      while (first > 0 && phrase[first - 1].kind != syntax::TokenKind::comma && phrase[first - 1].text != "except") --first;
      put_behind(base_, copies_, p, s.last, ", " + with_name(base_, between(base_, phrase, {first, s.last}), name_, twin_));
    }
  }

  void in_alternatives(Place p, std::vector<Stretch> found) {
    const auto& phrase = base_[p].phrase;
    std::reverse(found.begin(), found.end());
    for (const Stretch& s : found) {
      std::size_t first = s.first;
      while (first > 0 && phrase[first - 1].text != "or") --first;
      put_behind(base_, copies_, p, s.last, " or " + with_name(base_, between(base_, phrase, {first, s.last}), name_, twin_));
    }
  }

  const Base& base_;
  Copies& copies_;
  const model::Choice& choice_;
  std::string name_, twin_;
};

/// The variants of the edited protocol that choose `name`.
std::vector<std::size_t> variants_with(const Copies& copies, const std::string& name) {
  source::Files files;
  diagnostics::Sink sink;
  const auto loaded = resolve::load(copies.path(0), copies.as_files(), files, sink);
  const auto protocol = model::build(loaded, files, sink);
  std::vector<std::size_t> out;
  if (!protocol) return out;
  const auto variants = model::all_variants(*protocol);
  for (std::size_t v = 0; v < variants.size(); ++v)
    for (std::size_t c = 0; c < variants[v].size(); ++c)
      if (variants[v][c] >= 0 && protocol->choices[c].values[static_cast<std::size_t>(variants[v][c])].name == name) out.push_back(v);
  return out;
}

}  // namespace

// The twin has the same surfaces and covers, comes off in the same way, and is named wherever the item is.
std::vector<Mutant> variants_added(const Base& base) {
  std::vector<Mutant> out;
  for (const model::Choice& choice : base.protocol->choices)
    for (const model::ChoiceOption& value : choice.values) {
      if (!value.item) continue;
      Mutant m = start(base, "a variant added", base.origin(choice.span));
      m.note = "a twin of " + value.name;
      Twin twin(base, m, choice, value.name);
      twin.run();
      m.all_variants = variants_with(m.copies, twin.twin());
      if (!m.all_variants.empty()) m.variant = m.all_variants.front();
      out.push_back(std::move(m));
    }
  return out;
}

}  // namespace stepward::mutations
