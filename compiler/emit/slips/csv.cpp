#include "emit/slips/csv.hpp"

namespace stepward::emit {
namespace {

// A spreadsheet takes what begins like a formula for one.
std::string cell(const std::string& text) {
  const bool is_formula = !text.empty() && std::string("=+-@").find(text[0]) != std::string::npos;
  const std::string plain = is_formula ? "'" + text : text;
  if (plain.find_first_of(",\"\r\n") == std::string::npos) return plain;
  std::string out = "\"";
  for (char c : plain) out += c == '"' ? std::string("\"\"") : std::string(1, c);
  return out + "\"";
}

}  // namespace

std::string csv_row(const std::vector<std::string>& cells) {
  std::string out;
  for (const std::string& each : cells) out += (out.empty() && &each == &cells.front() ? "" : ",") + cell(each);
  return out + "\r\n";
}

}  // namespace stepward::emit
