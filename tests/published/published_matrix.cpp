#include <algorithm>
#include <iterator>

#include "matrix.hpp"

namespace stepward::published {
namespace {

const std::vector<std::string_view> columns = {"CDC-basic-ex1", "CDC-basic-ex2", "CDC-covid-2020", "UK-droplet-2020", "CDC-EVD14-PAPR", "CDC-EVD14-N95",
                                        "CDC-EVD15-PAPR", "CDC-EVD15-N95", "CDC-TRAIN-cover-N95", "WHO-gown", "WHO-coverall", "CDC-Africa-2014"};
struct Row { std::string_view name, cells; };
const Row matrix[] = {
    {"B1", "NO NO NO NO ok ok ok ok ok ok ok ok"}, {"B2", "ok ok ok ok ok ok ok ok ok ok ok ok"}, {"B3", "NO NO NO NO ok ok ok ok ok ok ok ok"},
    {"B4", "– – – – ok ok ok ok ok ok ok NO"},     {"B5", "NO NO NO NO ok ok ok ok ok ok ok ok"}, {"B6", "ok NO NO – – ok – ok ok NO NO NO"},
    {"B7", "– – – – – ok – ok ok NO NO NO"},       {"B8", "– – – – ok ok ok ok ok ok ok NO"},     {"B9", "ok ok ok – – ok – ok ok ok ok ok"},
    {"B10", "ok ok ok ok – ok – ok ok ok ok ok"},  {"B11", "– – – – ok ok ok ok ok ok = ok"},     {"B12", "– – – – ok ok ok ok ok ok ok NO"},
    {"B13", "– – – – NO NO ok ok ok ok ok ok"},    {"B14", "– – – – ok ok ok ok ok NO NO NO"},    {"B15", "ok ok ok ok – – – – – – – –"},
};

}  // namespace

const std::vector<std::string_view>& matrix_columns() { return columns; }

std::string_view published_cell(std::string_view row, std::string_view column) {
  const auto line = std::find_if(std::begin(matrix), std::end(matrix), [&](const Row& r) { return r.name == row; });
  const auto wanted = std::find(columns.begin(), columns.end(), column);
  if (line == std::end(matrix) || wanted == columns.end()) return "";
  std::string_view rest = line->cells;
  for (auto at = columns.begin(); at != wanted; ++at) rest.remove_prefix(rest.find(' ') + 1);
  return rest.substr(0, rest.find(' '));
}

}  // namespace stepward::published
