#include "laid_papers.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "driver/disk.hpp"
#include "driver/pipeline.hpp"
#include "driver/standard_files.hpp"
#include "emit/badge/badge_card.hpp"
#include "emit/card/card.hpp"
#include "emit/competency/competency_sheet.hpp"
#include "emit/dilution/dilution_card.hpp"
#include "emit/kit/kit_list.hpp"
#include "emit/poster/poster.hpp"
#include "emit/script/script.hpp"
#include "emit/sign_off/sign_off_page.hpp"
#include "example_papers.hpp"
#include "model/variants.hpp"

namespace stepward::test {

namespace {

using emit::pdf::Paper;

const std::deque<std::unique_ptr<Origin>>& origins() {
  static std::deque<std::unique_ptr<Origin>> all;
  if (!all.empty()) return all;
  const auto add = [](const std::string& name, const model::Protocol& protocol, const model::Variant& variant) {
    auto origin = std::make_unique<Origin>();
    origin->name = name;
    origin->protocol = protocol;
    origin->variant = variant;
    origin->course = graph::number_steps(origin->protocol, variant);
    all.push_back(std::move(origin));
  };
  for (const char* name : {"aldermoss-exit.ward", "aldermoss-entry.ward"}) {
    const auto variants = model::all_variants(example(name));
    add(name, example(name), variants.front());
    add(name, example(name), variants.back());
  }
  // Overdue, with an exception: every face of every paper bears both marks.
  model::Protocol marked = example("aldermoss-exit.ward");
  marked.set_aside.push_back({model::RuleId(0u), "LE01", {"Feet"}, {}, {"the bench is being mended", {"Ina Dale", "theatre lead", ""}, "2031-02-01"}, false, {}});
  add("aldermoss-exit.ward, marked", marked, model::all_variants(marked).back());
  all.back()->facts.is_overdue = true;
  for (const char* name : {"respirator-exit", "powered-hood-exit", "central-line-insertion", "body-fluid-spill-cloth-first", "contact-taking-off", "waste-bagging"}) {
    const model::Protocol protocol = library_protocol(name);
    add(name, protocol, model::all_variants(protocol).back());
  }
  return all;
}

/// Its own size, and another one of those that it is printed on.
std::vector<Paper> two_sizes(emit::SheetKind kind) {
  const Paper own = emit::pdf::default_paper(kind);
  std::vector<Paper> sizes{own};
  for (const Paper other : {Paper::a5, Paper::tabloid}) {
    if (sizes.size() < 2 && other != own && emit::pdf::is_printed_on(kind, other)) sizes.push_back(other);
  }
  return sizes;
}

}  // namespace

model::Protocol library_protocol(const std::string& name) {
  for (const driver::StandardSource& file : driver::standard_sources()) {
    if (file.name != name || file.tree.file_kind != "protocol") continue;
    FilesInMemory access;
    access.put(name + ".ward", file.text);
    for (const driver::StandardSource& other : driver::standard_sources()) {
      if (other.tree.file_kind == "protocol") access.put(other.name + ".ward", other.text);
    }
    driver::Compilation made = driver::read(name + ".ward", access, "2030-11-01");
    REQUIRE_MESSAGE(made.protocol.has_value(), name);
    return *made.protocol;
  }
  FAIL("no protocol of the library is called " << name);
  return {};
}

std::vector<std::pair<std::string, emit::Sheet>> nine_papers(const Origin& origin) {
  const emit::PaperSource source = origin.source();
  const model::Variant none;
  const emit::PaperSource of_all{origin.protocol, origin.protocol, none, origin.course, origin.facts};
  std::vector<std::pair<std::string, emit::Sheet>> papers;
  const auto add = [&](const char* what, std::optional<emit::Sheet> sheet) {
    if (sheet) papers.emplace_back(what, std::move(*sheet));
  };
  add("card", emit::wearers_card(origin.protocol, origin.variant, origin.course, origin.facts, origin.protocol));
  add("script", emit::observers_script(origin.protocol, origin.variant, origin.course, origin.facts, origin.protocol));
  add("poster", emit::poster(source));
  add("breach", emit::breach_card(source));
  add("badge", emit::badge_card(source));
  add("kit", emit::kit_list(source));
  add("competency", emit::competency_sheet(source));
  add("dilution", emit::dilution_card(of_all));
  std::vector<emit::SignedPaper> listed;
  for (const auto& [what, sheet] : papers) listed.push_back({sheet.control.kind, sheet.control.variant, sheet.control.check_words});
  // The widest that there are.
  listed.push_back({"Observer’s script", "", "cinnamon – hammock – cinnamon – woodland"});
  add("sign-off", emit::sign_off_page(of_all, {{model::variant_name(origin.protocol, origin.variant)}, {}, listed}));
  return papers;
}

const std::vector<LaidPaper>& laid_papers() {
  static std::vector<LaidPaper> all;
  if (!all.empty()) return all;
  for (const auto& origin : origins()) {
    for (const auto& [what, sheet] : nine_papers(*origin)) {
      for (const Paper paper : two_sizes(sheet.kind)) {
        all.push_back({origin.get(), what, sheet, paper, emit::pdf::lay_out(sheet, paper)});
        for (const auto& fault : all.back().out.faults) FAIL_CHECK(all.back().name() << ": " << emit::pdf::sentence(fault));
      }
    }
  }
  return all;
}

LaidPaper laid(const std::string& what, Paper paper) {
  for (const LaidPaper& each : laid_papers()) {
    if (each.what == what && each.paper == paper) return each;
  }
  FAIL("no such paper: " << what);
  return {};
}

}  // namespace stepward::test
