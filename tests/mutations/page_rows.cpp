#include "page_rows.hpp"

#include <algorithm>
#include <regex>
#include <sstream>

namespace stepward::mutations {
namespace {

const std::string no_pack = "no pack: ";

std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> out;
  std::istringstream parts(line);
  for (std::string cell; std::getline(parts, cell, '|');) {
    const std::size_t begin = cell.find_first_not_of(' '), end = cell.find_last_not_of(' ');
    out.push_back(begin == std::string::npos ? "" : cell.substr(begin, end - begin + 1));
  }
  return out;
}

std::vector<std::string> all_matches(const std::string& text, const char* pattern) {
  const std::regex name(pattern);
  std::vector<std::string> out;
  for (auto at = std::sregex_iterator(text.begin(), text.end(), name); at != std::sregex_iterator(); ++at) out.push_back(at->str());
  return out;
}

PageRow row_of(const std::string& number, const std::string& stated_in) {
  PageRow row{number, stated_in, {}, {}, {}};
  if (stated_in.rfind(no_pack, 0) == 0) {
    row.reason = stated_in.substr(no_pack.size());
    return row;
  }
  row.held_by = all_matches(stated_in, "\\b[A-Z]{2}[0-9]{2}\\b");
  for (const std::string& finding : all_matches(stated_in, "\\b[A-Z][0-9]{3}\\b")) row.held_by.push_back(finding);
  for (const std::string& name : all_matches(stated_in, "\"[^\"]+\"")) row.quoted.push_back(name.substr(1, name.size() - 2));
  return row;
}

}  // namespace

bool is_finding(const std::string& name) { return name.size() == 4 && name[1] >= '0' && name[1] <= '9'; }

std::vector<PageRow> rows_of_page(const std::string& page) {
  std::vector<PageRow> out;
  std::istringstream lines(page);
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind("| R", 0) != 0) continue;
    const auto cells = cells_of(line);  // the first is what stands before the first bar: nothing
    if (cells.size() < 5) continue;
    for (const std::string& number : all_matches(cells[1], "R[0-9]{2}")) out.push_back(row_of(number, cells[3]));
  }
  std::stable_sort(out.begin(), out.end(), [](const PageRow& a, const PageRow& b) { return a.number < b.number; });
  return out;
}

}  // namespace stepward::mutations
