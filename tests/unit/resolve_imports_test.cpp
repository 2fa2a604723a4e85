#include <set>

#include <doctest/doctest.h>

#include "resolve/imports.hpp"
#include "resolve/standard_library.hpp"

namespace {

using namespace stepward;

std::string text(const std::string& uses) {
  return "stepward 1 library\ndocument\n  title \"T\"\n  number T-1\n  version 1.0\n  status draft\nend document\n" +
         uses;
}

}  // namespace

TEST_CASE("a named file is looked for in the folder of the file that names it, or below") {
  CHECK(resolve::path_inside("ward/exit.ward", "parts.ward") == "ward/parts.ward");
  CHECK(resolve::path_inside("exit.ward", "deep/./er//parts.ward") == "deep/er/parts.ward");
  for (const char* outside :
       {"../parts.ward", "deep/../../parts.ward", "/etc/parts.ward", "deep\\parts.ward", "c:parts.ward", "", "."}) {
    CHECK_FALSE(resolve::path_inside("ward/exit.ward", outside).has_value());
  }
}

TEST_CASE("files are read once, in the order of their naming, and ordered behind those that they use") {
  FilesInMemory access;
  access.put("w/a.ward", text("use library \"b.ward\"\nuse library \"c.ward\"\n"));
  access.put("w/b.ward", text("use library \"c.ward\"\n"));
  access.put("w/c.ward", text(""));
  source::Files files;
  diagnostics::Sink sink;
  const auto loaded = resolve::load("w/a.ward", access, files, sink);
  CHECK(sink.empty());
  REQUIRE(loaded.files.size() == 3);
  CHECK(loaded.files[0].path == "w/a.ward");
  CHECK(loaded.files[1].path == "w/b.ward");
  CHECK(loaded.files[2].path == "w/c.ward");
  CHECK(loaded.order == std::vector<std::uint32_t>{2, 1, 0});
}

TEST_CASE("the first file that cannot be read is said by its path") {
  FilesInMemory access;
  source::Files files;
  diagnostics::Sink sink;
  CHECK(resolve::load("nothing.ward", access, files, sink).files.empty());
  REQUIRE(sink.size() == 1);
  CHECK(sink[0].code == diagnostics::Code::N201);
  CHECK(files.path(sink[0].at.file) == "nothing.ward");
  CHECK(sink[0].args == std::vector<std::string>{"nothing.ward", "there is no such file"});
}

TEST_CASE("a file that is named three times and cannot be read is told once") {
  FilesInMemory access;
  access.put("a.ward", text("use library \"x.ward\"\nuse library \"./x.ward\"\n"));
  source::Files files;
  diagnostics::Sink sink;
  resolve::load("a.ward", access, files, sink);
  CHECK(sink.size() == 1);
}

TEST_CASE("every embedded file can be taken by its short name, and its own uses are found") {
  REQUIRE(resolve::standard_files().size() > 0);
  std::set<std::string> names;
  for (const auto& file : resolve::standard_files()) {
    std::string name(file.path.substr(file.path.rfind('/') + 1));
    name.resize(name.size() - 5);
    CHECK_MESSAGE(names.insert(name).second, name);  // one name means one file, whatever folder it is in
    const std::string kind(file.text.substr(11, file.text.find('\n') - 11));
    if (kind == "protocol") continue;  // is begun from, not used
    FilesInMemory access;
    access.put("a.ward", text("use " + kind + " standard \"" + name + "\"\n"));
    source::Files files;
    diagnostics::Sink sink;
    const auto loaded = resolve::load("a.ward", access, files, sink);
    CHECK_MESSAGE(sink.empty(), file.path);
    CHECK(loaded.files.size() >= 2);
    CHECK(loaded.files[1].standard);
  }
}
