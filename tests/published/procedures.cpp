#include "procedures.hpp"

#include <algorithm>
#include <filesystem>
#include <sstream>

namespace stepward::published {

std::vector<std::string> all_procedures() {
  std::vector<std::string> out;
  for (const auto& entry : std::filesystem::directory_iterator(std::string(STEPWARD_SOURCE_DIR) + "/tests/published/procedures"))
    out.push_back("procedures/" + entry.path().filename().string());
  std::sort(out.begin(), out.end());
  return out;
}

std::vector<std::string> remarks(const std::string& text, const std::string& name) {
  std::vector<std::string> out;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind("# " + name + ":", 0) != 0) continue;
    const auto begin = line.find_first_not_of(' ', name.size() + 3);
    if (begin != std::string::npos) out.push_back(line.substr(begin));
  }
  return out;
}

std::vector<std::string> listed(const std::string& text, const std::string& name, char between) {
  std::vector<std::string> out;
  for (const std::string& line : remarks(text, name)) {
    std::istringstream words(line);
    for (std::string word; std::getline(words, word, between);)
      if (const auto begin = word.find_first_not_of(' '); begin != std::string::npos) out.push_back(word.substr(begin));
  }
  return out;
}

std::string with_packs(std::string text, const std::vector<std::string>& packs) {
  std::string uses;
  for (const std::string& pack : packs) uses += "use rules standard \"" + pack + "\"\n";
  const std::string end = "end document\n";
  return text.insert(text.find(end) + end.size(), uses);
}

}  // namespace stepward::published
