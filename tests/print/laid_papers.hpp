#pragma once
// Papers as they lie on their faces, for the layout rules: the example, and protocols of the standard library, on two sizes each.
//
// Everything that a paper was made from lives as long as the tests, since a rule looks into all of it.

#include <deque>
#include <memory>
#include <string>
#include <vector>

#include "emit/document/document.hpp"
#include "emit/paper_parts.hpp"
#include "emit/pdf/laid_out.hpp"

namespace stepward::test {

/// What the papers of one variant are made from.
struct Origin {
  std::string name;  ///< of the file
  model::Protocol protocol;
  model::Variant variant;
  graph::Course course;
  emit::WalkFacts facts;

  emit::PaperSource source() const { return {protocol, protocol, variant, course, facts}; }
};

struct LaidPaper {
  const Origin* origin = nullptr;
  std::string what;  ///< "card", "poster"…
  emit::Sheet sheet;
  emit::pdf::Paper paper = emit::pdf::Paper::a4;
  emit::pdf::LaidOut out;

  std::string name() const { return origin->name + ", " + what + " on " + emit::pdf::name_of(paper); }
};

/// The nine papers of an origin, by name; those that have nothing to say are left out.
std::vector<std::pair<std::string, emit::Sheet>> nine_papers(const Origin& origin);

/// All papers that the rules are held against, laid out once.
const std::vector<LaidPaper>& laid_papers();

/// One of them, to be spoilt: of the example's exit.
LaidPaper laid(const std::string& what, emit::pdf::Paper paper);

/// A protocol of the standard library, resolved; fails the test when it has no meaning.
model::Protocol library_protocol(const std::string& name);

}  // namespace stepward::test
