#pragma once
// Protocols for the unit tests of the model: the small ward of the suite, and what a test adds to it.

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>
#include <string>

#include "base/file_access.hpp"
#include "model/from_syntax.hpp"
#include "model/variants.hpp"
#include "resolve/imports.hpp"
#include "source/files.hpp"

namespace stepward::sample {

/// A model with everything that must outlive it.
struct Built {
  source::Files files;
  diagnostics::Sink sink;
  std::optional<model::Protocol> protocol;

  const model::Protocol& operator*() const { return *protocol; }
  const model::Protocol* operator->() const { return &*protocol; }
  std::string codes() const {
    std::string list;
    for (const auto& finding : sink) list += (list.empty() ? "" : " ") + std::string(diagnostics::code_name(finding.code));
    return list;
  }
};

inline std::string basis() {
  std::ifstream in(std::string(STEPWARD_SOURCE_DIR) + "/tests/suite/shared/basis.ward", std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

inline constexpr const char* document =
    "document\n  title \"Sample\"\n  number S-1\n  version 1.0\n  status draft\nend document\n";

inline Built build(const std::string& text) {
  Built built;
  FilesInMemory access;
  access.put("basis.ward", basis());
  access.put("main.ward", text);
  const resolve::Loaded loaded = resolve::load("main.ward", access, built.files, built.sink);
  built.protocol = model::build(loaded, built.files, built.sink);
  return built;
}

inline Built library(const std::string& declarations) {
  return build(std::string("stepward 1 library\n") + document + "use library \"basis.ward\"\n" + declarations);
}

/// A protocol with one phase of these lines. `declarations` stand before it.
inline Built protocol(const std::string& lines, const std::string& declarations = "", const std::string& variants = "") {
  return build(std::string("stepward 1 protocol\n") + document + "use library \"basis.ward\"\n" + variants +
               "people\n"
               "  wearer begins in ward room wearing scrubs, inner gloves\n"
               "  observer begins in ward room wearing scrubs\n"
               "  helper begins in store room wearing scrubs\n"
               "  wearer acts unless a line names someone else\n"
               "end people\n"
               "endings\n  out is normal\n  stopped early is emergency, continue with S-2\nend endings\n" +
               declarations + "phase \"One\"\n" + lines + "end phase\n");
}

/// The position of the entry called `name`; the test fails if there is none.
template <class Slot>
std::uint32_t at(const std::vector<Slot>& slots, const std::string& name) {
  const auto found = std::find_if(slots.begin(), slots.end(), [&](const Slot& slot) { return slot.name == name; });
  REQUIRE_MESSAGE(found != slots.end(), name);
  return static_cast<std::uint32_t>(found - slots.begin());
}

}  // namespace stepward::sample
