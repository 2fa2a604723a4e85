#include "base.hpp"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "diagnostics/render.hpp"
#include "model/from_syntax.hpp"
#include "model/variants.hpp"

namespace stepward::mutations {
namespace {

namespace disk = std::filesystem;
using syntax::NodeKind;

std::string text_of(const disk::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

/// `use library standard "x"` as `use library "x.ward"`: the same line, read from the copies.
std::string with_copied_library(std::string text) {
  const std::string before = " standard \"";
  for (std::size_t at = text.find(before); at != std::string::npos; at = text.find(before, at)) {
    const std::size_t close = text.find('"', at + before.size());
    text.replace(close, 1, ".ward\"");
    text.replace(at, before.size(), " \"");
  }
  return text;
}

bool stands_alone(NodeKind kind) {
  return kind == NodeKind::otherwise || kind == NodeKind::otherwise_if || kind == NodeKind::until || kind == NodeKind::if_still_not;
}

/// Puts the statements of a block into a course, one after the other.
class Flattening {
 public:
  Flattening(const Base& base, const model::Variant& variant) : base_(base), p_(*base.protocol), variant_(variant) {}

  Course run(model::BlockId block) { add(block); return std::move(course_); }

 private:
  using S = model::Statement;

  void add(model::BlockId block) {
    if (!block) return;
    for (const S& s : p_[block].statements) add(s);
  }

  void add(const S& s) {
    const Origin at = base_.origin(s.span);
    switch (s.what) {
      case S::What::line:
        if (model::holds(p_[s.line].only_for, variant_))
          put({Step::What::line, base_.origin(p_[s.line].span), s.line, &s, nullptr, {}});
        break;
      case S::What::question: add_question(s, at); break;
      case S::What::only_for: if (model::holds(s.only_for, variant_)) add(s.block); break;
      case S::What::repeat:
        add(s.block);
        put({Step::What::until, base_.origin(s.until.span), {}, &s, &s.until, {}});
        ++conditions_;
        add(s.fallback);
        --conditions_;
        break;
      case S::What::call:
      case S::What::together: add(s.block); break;
      case S::What::finish: put({Step::What::finish, at, {}, &s, nullptr, s.ending}); break;
      case S::What::resume: put({Step::What::resume, at, {}, &s, nullptr, {}}); break;
    }
  }

  void put(Step step) {
    step.conditional = conditions_ > 0;
    course_.push_back(std::move(step));
  }

  void add_question(const S& s, Origin at) {
    put({Step::What::question, at, {}, &s, nullptr, {}});
    for (const S::Arm& arm : s.arms) {
      put({Step::What::arm, base_.origin(arm.span), {}, &s, &arm.condition, {}});
      ++conditions_;
      add(arm.block);
      --conditions_;
    }
  }

  const Base& base_;
  const model::Protocol& p_;
  const model::Variant& variant_;
  Course course_;
  int conditions_ = 0;
};

}  // namespace

std::vector<Place> Base::children(Place p) const {
  std::vector<Place> out;
  for (const syntax::NodeId child : (*this)[p].children) out.push_back({p.file, child});
  return out;
}

Origin Base::origin(source::Span span) const { return {span.file.value, files.position(span.file, span.begin).line}; }

Range Base::range(Place p) const {
  const syntax::Node& node = (*this)[p];
  Range out{p.file, origin(p).line, origin(p).line};
  for (const Place& child : children(p)) out.last = std::max(out.last, range(child).last);
  if (node.closed_by.file) out.last = std::max(out.last, origin(node.closed_by).line);
  return out;
}

std::vector<Place> Base::neighbours(Place p) const {
  std::vector<Place> out;
  bool mine = false;
  for (const Place& child : children(parent(p))) {
    if (stands_alone((*this)[child].kind)) {
      if (mine) return out;
      out.clear();
      continue;
    }
    mine = mine || child == p;
    out.push_back(child);
  }
  return out;
}

std::vector<Place> Base::all(std::initializer_list<NodeKind> kinds) const {
  std::vector<Place> out;
  for (std::uint32_t file = 0; file < loaded.files.size(); ++file) {
    const syntax::Tree& tree = loaded.files[file].tree;
    for (std::uint32_t n = 1; n < tree.nodes.size(); ++n)
      if (std::find(kinds.begin(), kinds.end(), tree.nodes[n].kind) != kinds.end()) out.push_back({file, syntax::NodeId(n)});
  }
  return out;
}

std::vector<model::LineId> Base::lines_at(Origin at) const {
  std::vector<model::LineId> out;
  for (std::uint32_t l = 0; l < protocol->lines.size(); ++l)
    if (origin(protocol->lines[l].span) == at) out.push_back(model::LineId(l));
  return out;
}

std::string Base::words(Origin at) const {
  if (at.line == 0) return "(a line that was put in)";
  const std::string text(files.line_text(source::FileId(at.file), at.line));
  const std::size_t begin = text.find_first_not_of(" \t");
  return begin == std::string::npos ? "" : text.substr(begin);
}

std::string Base::place_words(Origin at) const {
  if (at.line == 0) return "a line that was put in";
  return files.path(source::FileId(at.file)) + ":" + std::to_string(at.line);
}

std::vector<Course> Base::courses(const model::Variant& variant) const {
  std::vector<Course> out(1);
  for (const model::Phase& phase : protocol->phases) {
    const Course part = Flattening(*this, variant).run(phase.block);
    out[0].insert(out[0].end(), part.begin(), part.end());
  }
  for (const model::Interruption& i : protocol->interruptions) out.push_back(Flattening(*this, variant).run(i.block));
  return out;
}

std::optional<std::size_t> Base::variant_of(Origin at) const {
  for (std::size_t v = 0; v < variants.size(); ++v)
    for (const Course& course : courses(variants[v]))
      if (std::any_of(course.begin(), course.end(), [&](const Step& s) { return s.at == at; })) return v;
  return std::nullopt;
}

Base base_of(const FilesInMemory& files, const std::string& main) {
  Base base;
  base.main = main;
  base.loaded = resolve::load(main, files, base.files, base.findings);
  base.protocol = model::build(base.loaded, base.files, base.findings);
  if (!base.protocol || diagnostics::count(base.findings).errors > 0) {
    std::fputs(diagnostics::as_text(base.findings, base.files).c_str(), stderr);
    std::exit(2);
  }
  base.variants = model::all_variants(*base.protocol);
  for (std::uint32_t file = 0; file < base.files.size(); ++file) {
    base.copies.add(base.files.path(source::FileId(file)), std::string(base.files.text(source::FileId(file))));
    const syntax::Tree& tree = base.loaded.files[file].tree;
    base.parents.emplace_back(tree.nodes.size());
    for (std::uint32_t n = 0; n < tree.nodes.size(); ++n)
      for (const syntax::NodeId child : tree.nodes[n].children) base.parents[file][child.value] = syntax::NodeId(n);
  }
  return base;
}

FilesInMemory examples_and_library(const std::string& source_dir) {
  FilesInMemory out;
  for (const char* folder : {"examples", "stdlib-procedures"})
    for (const auto& entry : disk::recursive_directory_iterator(disk::path(source_dir) / folder))
      if (entry.path().extension() == ".ward") out.put(entry.path().filename().string(), with_copied_library(text_of(entry.path())));
  return out;
}

Base read_base(const std::string& source_dir, const std::string& main) { return base_of(examples_and_library(source_dir), main); }

}  // namespace stepward::mutations
