#include "resolve/imports.hpp"

#include <algorithm>

#include "parse/parse.hpp"
#include "resolve/name_table.hpp"
#include "resolve/standard_library.hpp"

namespace stepward::resolve {
namespace {

using diagnostics::Code;
using syntax::NodeKind;
using syntax::TokenKind;

/// What a `use` line asks for.
struct Use {
  bool standard = false;
  std::string named;
  std::string version;
  std::string kind;  ///< library, rules or words
  source::Span span, name_span;
};

/// A protocol of the library is begun from, never used.
const StandardFile* standard_file(const std::string& named) {
  for (const StandardFile& file : standard_files()) {
    const bool is_meant = file.path == named || short_name(file.path) == named || file.path == named + ".ward";
    if (is_meant && !is_protocol(file)) return &file;
  }
  return nullptr;
}

class Loader {
 public:
  Loader(const FileAccess& access, source::Files& files, diagnostics::Sink& sink)
      : access_(access), files_(files), sink_(sink) {}

  Loaded run(const std::string& path) {
    std::string why;
    std::optional<std::string> text = access_.read(path, why);
    if (!text) {
      // There is no line to point at, so the file is entered empty under its path.
      const source::FileId file = files_.add(path, "");
      sink_.push_back(diagnostics::make(Code::N201, {file, 0, 0}, {path, why}));
      return std::move(loaded_);
    }
    add(path, std::move(*text), false);
    for (std::size_t at = 0; at < loaded_.files.size(); ++at) follow_uses(at);
    order_files();
    return std::move(loaded_);
  }

 private:
  void add(const std::string& path, std::string text, bool standard) {
    const source::FileId file = files_.add(path, std::move(text));
    loaded_.files.push_back({parse::parse(file, files_.text(file), sink_), path, standard});
    uses_.emplace_back();
  }

  void follow_uses(std::size_t at) {
    std::vector<syntax::NodeId> lines;
    for (const syntax::NodeId top : loaded_.files[at].tree.root().children) {
      const NodeKind kind = loaded_.files[at].tree[top].kind;
      if (kind == NodeKind::use_library || kind == NodeKind::use_rules || kind == NodeKind::use_words) lines.push_back(top);
    }
    for (const syntax::NodeId line : lines) {
      if (const auto use = read_use(loaded_.files[at].tree[line])) follow(at, *use);
    }
  }

  std::optional<Use> read_use(const syntax::Node& node) {
    Use use;
    use.kind = node.kind == NodeKind::use_library ? "library" : node.kind == NodeKind::use_rules ? "rules" : "words";
    use.span = node.span;
    std::size_t at = 0;
    const auto& phrase = node.phrase;
    use.standard = at < phrase.size() && phrase[at].text == "standard";
    at += use.standard;
    if (at >= phrase.size() || phrase[at].kind != TokenKind::quoted) return misread(node, at);
    use.named = phrase[at].text;
    use.name_span = phrase[at++].span;
    if (at + 1 < phrase.size() && phrase[at].text == "version") {
      use.version = phrase[at + 1].written;
      at += 2;
    }
    if (at < phrase.size()) return misread(node, at);
    return use;
  }

  std::optional<Use> misread(const syntax::Node& node, std::size_t at) {
    const bool ends = at >= node.phrase.size();
    const std::string found = ends ? "the end of the line" : "\"" + node.phrase[at].written + "\"";
    const source::Span span = ends ? node.span : node.phrase[at].span;
    sink_.push_back(diagnostics::make(Code::N208, span, {found}));
    return std::nullopt;
  }

  void follow(std::size_t from, const Use& use) {
    const auto target = use.standard ? find_standard(use) : find_in_folder(from, use);
    if (!target) return;
    uses_[from].push_back({*target, use.name_span});
    const LoadedFile& file = loaded_.files[*target];
    if (file.tree.file_kind != use.kind && !file.tree.file_kind.empty()) {
      sink_.push_back(diagnostics::make(Code::N206, use.span, {use.named, file.tree.file_kind, use.kind}));
    }
    const std::string version = version_of(file.tree);
    if (!use.version.empty() && !version.empty() && version != use.version) {
      sink_.push_back(diagnostics::make(Code::N205, use.span, {use.named, version, use.version}));
    }
  }

  std::optional<std::size_t> find_standard(const Use& use) {
    const StandardFile* file = standard_file(use.named);
    if (!file) {
      std::vector<std::string> names;
      for (const StandardFile& known : standard_files())
        if (!is_protocol(known)) names.emplace_back(short_name(known.path));
      diagnostics::Diagnostic unknown = diagnostics::make(Code::N207, use.name_span, {use.named});
      if (const auto near = nearest_of(names, use.named))
        unknown.fix = "use " + use.kind + " standard \"" + *near + "\"";
      sink_.push_back(std::move(unknown));
      return std::nullopt;
    }
    const std::string path = "standard/" + std::string(file->path);
    if (const auto known = already_read(path)) return known;
    add(path, std::string(file->text), true);
    return loaded_.files.size() - 1;
  }

  std::optional<std::size_t> find_in_folder(std::size_t from, const Use& use) {
    const std::string from_path = loaded_.files[from].path;
    const auto path = loaded_.files[from].standard ? std::nullopt : path_inside(from_path, use.named);
    if (!path) {
      sink_.push_back(diagnostics::make(Code::N203, use.name_span, {use.named}));
      return std::nullopt;
    }
    if (const auto known = already_read(*path)) return known;
    if (unreadable(*path)) return std::nullopt;
    std::string why;
    std::optional<std::string> text = access_.read(*path, why);
    if (!text) {
      unreadable_.push_back(*path);
      sink_.push_back(diagnostics::make(Code::N202, use.name_span, {use.named, why}));
      return std::nullopt;
    }
    add(*path, std::move(*text), false);
    return loaded_.files.size() - 1;
  }

  bool unreadable(const std::string& path) const {
    return std::find(unreadable_.begin(), unreadable_.end(), path) != unreadable_.end();
  }

  std::optional<std::size_t> already_read(const std::string& path) const {
    for (std::size_t at = 0; at < loaded_.files.size(); ++at) {
      if (loaded_.files[at].path == path) return at;
    }
    return std::nullopt;
  }

  /// Walks depth first over who uses whom; a file that is met while it is still open closes a circle, and one that is
  /// left stands behind all that it uses.
  void order_files() {
    enum class Seen : std::uint8_t { no, open, done };
    std::vector<Seen> seen(loaded_.files.size(), Seen::no);
    struct Place {
      std::size_t file;
      std::size_t next;
    };
    for (std::size_t start = 0; start < seen.size(); ++start) {
      if (seen[start] != Seen::no) continue;
      std::vector<Place> open{{start, 0}};
      seen[start] = Seen::open;
      while (!open.empty()) {
        Place& place = open.back();
        if (place.next == uses_[place.file].size()) {
          seen[place.file] = Seen::done;
          loaded_.order.push_back(static_cast<std::uint32_t>(place.file));
          open.pop_back();
          continue;
        }
        const Edge edge = uses_[place.file][place.next++];
        if (seen[edge.to] == Seen::open) report_loop(place.file, edge);
        if (seen[edge.to] != Seen::no) continue;
        seen[edge.to] = Seen::open;
        open.push_back({edge.to, 0});
      }
    }
  }

  struct Edge {
    std::size_t to;
    source::Span span;
  };

  void report_loop(std::size_t from, const Edge& edge) {
    const std::string& user = loaded_.files[from].path;
    const std::string& used = loaded_.files[edge.to].path;
    sink_.push_back(diagnostics::make(Code::N204, edge.span, {user, used}));
  }

  const FileAccess& access_;
  source::Files& files_;
  diagnostics::Sink& sink_;
  Loaded loaded_;
  std::vector<std::vector<Edge>> uses_;
  std::vector<std::string> unreadable_;
};

}  // namespace

namespace {

/// The line of a file's document block that opens so; nullptr: it has none.
const syntax::Node* line_of_document(const syntax::Tree& tree, NodeKind kind) {
  for (const syntax::NodeId top : tree.root().children) {
    if (tree[top].kind != NodeKind::document) continue;
    for (const syntax::NodeId detail : tree[top].children) {
      if (tree[detail].kind == kind && !tree[detail].phrase.empty()) return &tree[detail];
    }
  }
  return nullptr;
}

}  // namespace

std::string version_of(const syntax::Tree& tree) {
  const syntax::Node* line = line_of_document(tree, NodeKind::version);
  return line ? line->phrase[0].written : std::string();
}

std::string number_of(const syntax::Tree& tree) {
  const syntax::Node* line = line_of_document(tree, NodeKind::number);
  if (!line) return {};
  std::string number;
  for (const syntax::Token& token : line->phrase) number += (number.empty() ? "" : " ") + (token.written.empty() ? token.text : token.written);
  return number;
}

source::Span languages_span(const syntax::Tree& tree) {
  const syntax::Node* line = line_of_document(tree, NodeKind::languages);
  return line ? line->span : tree.root().span;
}

std::optional<std::string> path_inside(const std::string& from, const std::string& named) {
  const bool leads_away = named.empty() || named.front() == '/' || named.find('\\') != std::string::npos ||
                          named.find(':') != std::string::npos || named.find('\0') != std::string::npos;
  if (leads_away) return std::nullopt;
  std::string inside;
  for (std::size_t begin = 0; begin <= named.size();) {
    const std::size_t end = std::min(named.find('/', begin), named.size());
    const std::string part = named.substr(begin, end - begin);
    begin = end + 1;
    if (part == "..") return std::nullopt;
    if (part.empty() || part == ".") continue;
    if (!inside.empty()) inside += '/';
    inside += part;
  }
  if (inside.empty()) return std::nullopt;
  const std::size_t folder = from.rfind('/');
  return folder == std::string::npos ? inside : from.substr(0, folder + 1) + inside;
}

Loaded load(const std::string& path, const FileAccess& access, source::Files& files, diagnostics::Sink& sink) {
  return Loader(access, files, sink).run(path);
}

}  // namespace stepward::resolve
