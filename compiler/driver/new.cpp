// `stepward new`: begins a protocol of one's own from one of the standard library.
//
// The text is copied as it stands, remarks and sources included; only the first lines of document control become those of a new
// draft, for a copy must not pass for the sheet it came from. An exit that pairs with an entry brings the entry along.
//
// Where a copy names a document that is copied with it ("continue with STD-PR-01"), it names the copy: whoever is sent on
// must not end up in the library's version of the same sheet. Documents that stay in the library keep their numbers, for nobody here knows whether
// they are used as they are; the author is told of each, with its lines.

#include <algorithm>
#include <cctype>
#include <string_view>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/text.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "driver/standard_files.hpp"
#include "resolve/standard_library.hpp"

namespace stepward::driver {
namespace {

using syntax::Node;
using syntax::NodeKind;

struct Replacement { source::Span at; std::string by; };

std::string replaced(std::string text, std::vector<Replacement> all) {
  std::sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.at.begin > b.at.begin; });
  for (const Replacement& each : all) text.replace(each.at.begin, each.at.end - each.at.begin, each.by);
  return text;
}

std::string quoted(const std::string& text) { return '"' + text + '"'; }

/// What a copy is filed under, and what it is called; no title: as the library calls it.
struct Begun { const StandardSource* file; std::string title, number; };

bool is_of_number(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-'; }

/// Where a text names a document by its number, remarks left out.
std::vector<std::size_t> places_of(const std::string& text, const std::string& number) {
  std::vector<std::size_t> places;
  for (std::size_t at = text.find(number); at != std::string::npos; at = text.find(number, at + number.size())) {
    const std::size_t line = text.rfind('\n', at) + 1, end = at + number.size();
    const bool is_remark = text[text.find_first_not_of(' ', line)] == '#';
    const bool is_longer = (at > 0 && is_of_number(text[at - 1])) || (end < text.size() && is_of_number(text[end]));
    if (!is_remark && !is_longer) places.push_back(at);
  }
  return places;
}

/// Behind "continue with" the library's title may follow; the number alone takes the place of both.
std::vector<Replacement> of_references(const StandardSource& file, const Begun& named) {
  constexpr std::string_view sends_on = "continue with ";
  std::vector<Replacement> all;
  for (const std::size_t at : places_of(file.text, named.file->number)) {
    const bool is_sent_on = at >= sends_on.size() && file.text.compare(at - sends_on.size(), sends_on.size(), sends_on) == 0;
    const std::size_t number_ends = at + named.file->number.size();
    const std::size_t end = is_sent_on ? file.text.find_first_of(",#\n", number_ends) : number_ends;
    all.push_back({{file.tree.file, static_cast<std::uint32_t>(at), static_cast<std::uint32_t>(std::min(end, file.text.size()))}, named.number});
  }
  return all;
}

/// "NEW-RESPIRATOR-EXIT": to be numbered by whoever adopts it.
std::string provisional_number(const StandardSource& file) { return "NEW-" + text::upper(file.name); }

constexpr const char* first_version = "0.1";

/// What takes the place of the library's own title, number and version.
std::vector<Replacement> of_document(const StandardSource& file, const Node& document, const std::string& title, const std::string& number) {
  std::vector<Replacement> all;
  for (const syntax::NodeId detail : document.children) {
    const Node& line = file.tree[detail];
    if (line.phrase.empty()) continue;
    const source::Span said = line.phrase.front().span;
    if (line.kind == NodeKind::title && !title.empty()) all.push_back({said, quoted(title)});
    if (line.kind == NodeKind::number) all.push_back({said, number});
    if (line.kind == NodeKind::version) all.push_back({said, first_version});
  }
  return all;
}

std::string begun_from(const StandardSource& file) {
  return fmt::format("\n# Begun from \"{}\" of the standard library, {} version {}: to be changed, reviewed and signed here.\n", file.name, file.number, file.version);
}

bool is_inside(const Replacement& each, const std::vector<Replacement>& others) {
  return std::any_of(others.begin(), others.end(), [&](const Replacement& other) { return each.at.begin < other.at.end && other.at.begin < each.at.end; });
}

std::string copy_of(const Begun& copy, const std::vector<Begun>& begun) {
  const StandardSource& file = *copy.file;
  std::vector<Replacement> all;
  for (const syntax::NodeId top : file.tree.root().children) {
    const Node& node = file.tree[top];
    if (node.kind == NodeKind::document) {
      const auto lines = of_document(file, node, copy.title, copy.number);
      all.insert(all.end(), lines.begin(), lines.end());
    }
    if (node.kind == NodeKind::pairs_with && node.phrase.size() >= 3) all.push_back({node.phrase[2].span, first_version});
  }
  for (const Begun& each : begun) {
    for (Replacement& reference : of_references(file, each)) {
      if (!is_inside(reference, all)) all.push_back(std::move(reference));
    }
  }
  const auto first_line = static_cast<std::uint32_t>(file.text.find('\n'));
  all.push_back({{file.tree.file, first_line, first_line}, begun_from(file)});
  all.back().by.pop_back();  // the line's own end follows
  return replaced(file.text, std::move(all));
}

/// The entries that an exit names, by the names of their files.
std::vector<std::string> partners_of(const StandardSource& file) {
  std::vector<std::string> names;
  for (const syntax::NodeId top : file.tree.root().children) {
    if (file.tree[top].kind == NodeKind::pairs_with) names.emplace_back(resolve::short_name(file.tree[top].phrase.front().text));
  }
  return names;
}

std::string list_of_protocols() {
  const std::vector<StandardSource> files = standard_sources();
  std::size_t widest = 0;
  for (const StandardSource& file : files) widest = std::max(widest, file.name.size());
  std::string text;
  for (const StandardSource& file : files) {
    if (file.tree.file_kind == "protocol") text += fmt::format("stepward new {:<{}} {}\n", file.name, widest, file.title);
  }
  return text;
}

/// The documents of the library that a copy goes on naming, each with the lines of the copy.
std::string still_named(const Output& output, const std::vector<StandardSource>& known) {
  std::string text;
  for (const StandardSource& file : known) {
    if (file.tree.file_kind != "protocol") continue;
    std::vector<std::string> lines;
    for (const std::size_t at : places_of(output.bytes, file.number))
      lines.push_back(std::to_string(std::count(output.bytes.begin(), output.bytes.begin() + static_cast<std::ptrdiff_t>(at), '\n') + 1));
    if (!lines.empty()) text += fmt::format("  {}, line {}: {} ({})\n", output.path, fmt::join(lines, ", "), file.number, file.title);
  }
  return text;
}

std::string path_in(const std::string& folder, const std::string& name) { return (folder.empty() ? "" : folder + '/') + name + ".ward"; }

}  // namespace

Outcome new_command(const NewRequest& request) {
  if (request.name.empty()) return {ExitCode::fine, list_of_protocols(), ""};
  const auto known = standard_sources();
  const auto find = [&](const std::string& name) {
    return std::find_if(known.begin(), known.end(), [&](const auto& file) { return file.name == name && file.tree.file_kind == "protocol"; });
  };
  const auto first = find(request.name);
  if (first == known.end()) return refusal(ExitCode::wrong_use, fmt::format("the library holds no protocol called \"{}\"; there are:\n{}", request.name, list_of_protocols()));
  std::vector<Begun> begun{{&*first, request.title, request.number.empty() ? provisional_number(*first) : request.number}};
  for (const std::string& name : partners_of(*first)) {
    if (const auto partner = find(name); partner != known.end()) begun.push_back({&*partner, "", provisional_number(*partner)});
  }
  std::vector<Output> outputs;
  for (const Begun& each : begun) outputs.push_back({path_in(request.folder, each.file->name), copy_of(each, begun)});
  for (const Output& output : outputs) {
    if (disk_holds(output.path)) return refusal(ExitCode::wrong_use, output.path + " is there already; nothing was changed");
  }
  if (!request.folder.empty()) {
    if (const std::string why = make_folder(request.folder); !why.empty()) return refusal(ExitCode::file_trouble, why);
  }
  if (const std::string why = write_all(outputs); !why.empty()) return refusal(ExitCode::file_trouble, why);
  std::string text, named;
  for (const Output& output : outputs) {
    text += output.path + '\n';
    named += still_named(output, known);
  }
  if (!named.empty()) text += "\nReaders are still sent to documents of the library. Where you have your own, write its number there:\n" + named;
  return {ExitCode::fine, text + fmt::format("\nChange it, then: stepward check {}\nIt is a draft until your own people have reviewed and signed it.\n", outputs.front().path), ""};
}

}  // namespace stepward::driver
