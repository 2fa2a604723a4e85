#include "annotated.hpp"

#include <fstream>
#include <sstream>

namespace stepward::suite {
namespace {

std::string file_text(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

std::string between_quotes(const std::string& line) {
  const std::size_t open = line.find('"'), close = line.rfind('"');
  return open == std::string::npos || close == open ? std::string() : line.substr(open + 1, close - open - 1);
}

std::string trimmed(const std::string& text) {
  const std::size_t begin = text.find_first_not_of(" \t\r");
  if (begin == std::string::npos) return {};
  return text.substr(begin, text.find_last_not_of(" \t\r") - begin + 1);
}

class Reader {
 public:
  Reader(const std::string& text, const std::string& shared) : text_(text), shared_(shared) {}

  Annotated run() {
    std::istringstream lines(text_);
    for (std::string line; std::getline(lines, line);) {
      if (line.rfind("#= ", 0) == 0)
        direct(line);
      else
        add(line);
    }
    if (source_.main.empty()) source_.mistakes.push_back("there is no file in it");
    return std::move(source_);
  }

 private:
  void direct(const std::string& line) {
    const std::string what = line.substr(3, line.find(' ', 3) - 3), name = between_quotes(line);
    if (what == "file")
      begin(name);
    else if (what == "with")
      source_.files[name] = file_text(shared_ + "/" + name);
    else if (what == "folder")
      source_.folders.insert(name);
    else if (what == "witness")
      source_.witness = trimmed(line.substr(10));
    else if (what == "today")
      source_.today = trimmed(line.substr(8));
    else
      source_.mistakes.push_back(line);
  }

  void begin(const std::string& name) {
    current_ = name;
    number_ = 0;
    annotated_line_ = 1;
    if (source_.main.empty()) source_.main = name;
    source_.files[name];
  }

  void add(const std::string& line) {
    if (current_.empty()) {
      if (trimmed(line).empty()) return;
      begin("main.ward");
    }
    ++number_;
    const std::size_t mark = line.find("#~");
    const bool stands_alone = mark != std::string::npos && trimmed(line.substr(0, mark)).empty();
    if (!stands_alone) annotated_line_ = number_;
    source_.files[current_] += line + "\n";
    if (mark == std::string::npos) return;
    const bool above = line.compare(mark, 3, "#~^") == 0;
    expect(line.substr(mark + (above ? 3 : 2)), above ? annotated_line_ : number_);
  }

  void expect(const std::string& words, std::uint32_t line) {
    std::istringstream in(words);
    std::string severity;
    Expected expected;
    in >> severity >> expected.code;
    std::getline(in, expected.text);
    expected.text = trimmed(expected.text);
    expected.file = current_;
    expected.line = line;
    diagnostics::Code code{};
    const bool known = severity == "error" || severity == "warning" || severity == "note";
    if (!known || !diagnostics::parse_code(expected.code, code) || expected.text.empty()) {
      source_.mistakes.push_back(words);
      return;
    }
    expected.severity = severity == "error"     ? diagnostics::Severity::error
                        : severity == "warning" ? diagnostics::Severity::warning
                                                : diagnostics::Severity::note;
    source_.expected.push_back(std::move(expected));
  }

  const std::string& text_;
  const std::string& shared_;
  Annotated source_;
  std::string current_;
  std::uint32_t number_ = 0, annotated_line_ = 1;
};

}  // namespace

Annotated read_annotated(const std::string& text, const std::string& shared) { return Reader(text, shared).run(); }

Annotated read_annotated_file(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return read_annotated(text.str(), (suite_folder / "shared").string());
}

std::optional<std::string> AnnotatedFiles::read(std::string_view path, std::string& why) const {
  if (source_.folders.count(std::string(path)) > 0) {
    why = "it is a folder";
    return std::nullopt;
  }
  const auto found = source_.files.find(std::string(path));
  if (found != source_.files.end()) return found->second;
  why = "there is no such file";
  return std::nullopt;
}

}  // namespace stepward::suite
