// Files in memory answer like a disk would.
#include <doctest/doctest.h>

#include "base/file_access.hpp"
#include "resolve/standard_library.hpp"

TEST_CASE("files in memory: what was put is read back") {
  stepward::FilesInMemory files;
  files.put("a.ward", "first");
  files.put("a.ward", "second");
  std::string why;
  CHECK(files.read("a.ward", why) == "second");
  CHECK(why.empty());
}

TEST_CASE("files in memory: a missing file gives a plain reason") {
  const stepward::FilesInMemory files;
  std::string why;
  CHECK_FALSE(files.read("b.ward", why).has_value());
  CHECK(why == "there is no such file");
}

TEST_CASE("standard library: paths are ordered and texts open as a stepward file") {
  std::string_view before;
  for (const stepward::resolve::StandardFile& file : stepward::resolve::standard_files()) {
    CHECK(before < file.path);
    CHECK(file.text.find("stepward 1 ") != std::string_view::npos);
    before = file.path;
  }
}
