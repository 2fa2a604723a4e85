#pragma once
// Where a line could stand: every statement of the steps with the lines it takes up.
//
// The model knows what a line does and the tree how it was written; a mend needs both. An outline joins them for the files
// that may be changed, which are the protocol and what lies in its folder, and never the standard library: that is one
// for everybody. Statements are kept flat, in the order of the files; a block's statements name it as their `parent`, and
// `arm` counts the lines that divide it ("otherwise", "until") above the statement.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "model/protocol.hpp"
#include "resolve/imports.hpp"
#include "source/files.hpp"
#include "syntax/tree.hpp"

namespace stepward::mend {

inline constexpr std::uint32_t nowhere = UINT32_MAX;

struct Statement {
  std::uint32_t file = 0;             ///< position in Loaded::files
  syntax::NodeKind kind{};
  source::Span span;
  std::uint32_t first = 0, last = 0;  ///< lines from 1, with its details, its block and its end
  std::uint32_t parent = nowhere;
  std::uint32_t arm = 0;
  bool closes = false;                ///< a block with an end of its own
  std::string words;                  ///< its first line, without margin and remark
  model::LineId line;                 ///< of an action line that some variant has: the first that it became
  model::BlockId called;              ///< of `do`: the lines it stands for, at its first call
};

struct Outline {
  std::vector<Statement> all;
  std::vector<std::string> paths;     ///< by position in Loaded::files

  /// The innermost statement of these lines; nowhere: none.
  std::uint32_t at(std::uint32_t file, std::uint32_t line) const;
  /// All statements of its block and arm, itself included, in order; of a phase: all phases.
  std::vector<std::uint32_t> siblings(std::uint32_t statement) const;
};

Outline outline_of(const resolve::Loaded& loaded, const source::Files& files, const model::Protocol& protocol);

/// Whether it is something that is done, so that it may be moved: a line, a call, a question, a repeat.
bool is_step(syntax::NodeKind kind);

}  // namespace stepward::mend
