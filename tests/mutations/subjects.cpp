#include "subjects.hpp"

#include <algorithm>
#include <filesystem>

#include "procedures.hpp"
#include "removal_orders.hpp"

namespace stepward::mutations {
namespace {

Base base_of_procedure(const std::string& file) {
  const std::string text = published::file_text(file);
  return base_of(published::files_of(published::with_packs(text, published::listed(text, "keeps", ','))), "order.ward");
}

std::vector<std::string> names_of_protocols(const std::string& source_dir) {
  std::vector<std::string> out;
  for (const auto& entry : std::filesystem::directory_iterator(source_dir + "/stdlib-procedures/protocols")) out.push_back(entry.path().filename().string());
  std::sort(out.begin(), out.end());
  return out;
}

}  // namespace

Base base_of_order(const published::Order& order, const published::Written& how) {
  return base_of(published::files_of(published::protocol_text(order, how)), "order.ward");
}

std::vector<Subject> all_subjects(const std::string& source_dir) {
  std::vector<Subject> out;
  const auto add_orders = [&](bool regression_only) {
    for (const published::Order& order : published::all_removal_orders())
      if (published::is_regression_only(order.mark) == regression_only)
        out.push_back({std::string(order.id), [order] {
                         return base_of_order(order, {.reading = published::reading_of(order), .packs = published::own_packs(order)});
                       }});
  };
  add_orders(false);
  for (const std::string& file : published::all_procedures()) out.push_back({file, [file] { return base_of_procedure(file); }});
  std::vector<std::string> whole = names_of_protocols(source_dir);
  for (const char* example : {"aldermoss-entry.ward", "aldermoss-exit.ward"}) whole.emplace_back(example);
  for (const std::string& name : whole) out.push_back({name, [source_dir, name] { return read_base(source_dir, name); }});
  add_orders(true);
  return out;
}

}  // namespace stepward::mutations
