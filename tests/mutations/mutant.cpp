#include "mutant.hpp"

#include <algorithm>

#include "model/variants.hpp"

namespace stepward::mutations {

Mutant start(const Base& base, const std::string& operation, Origin place) {
  Mutant m;
  m.operation = operation;
  m.place = place;
  m.copies = base.copies;
  m.variant = base.variant_of(place).value_or(0);
  return m;
}

namespace {

bool resumes(const Course& course) {
  return std::any_of(course.begin(), course.end(), [](const Step& s) { return s.what == Step::What::resume; });
}

void add_all(const Course& course, Lines& out) {
  for (const Step& s : course) out.insert(s.at);
}

}  // namespace

Lines behind(const Base& base, std::size_t variant, Origin from, const std::function<bool(const Step&)>& last) {
  Lines out;
  const std::vector<Course> courses = base.courses(base.variants[variant]);
  for (const Course& course : courses)
    for (std::size_t i = 0; i < course.size(); ++i) {
      if (course[i].at != from) continue;
      bool ended = false;
      for (std::size_t j = i + 1; j < course.size() && !ended; ++j) {
        out.insert(course[j].at);
        ended = last(course[j]);
      }
      if (!ended && &course != &courses.front() && resumes(course)) add_all(courses.front(), out);
    }
  return out;
}

Lines all_behind(const Base& base, std::size_t variant, Origin from) {
  return behind(base, variant, from, [](const Step&) { return false; });
}

model::ItemId item_of_line(const Base& base, model::LineId line, std::size_t variant) {
  const model::Protocol& p = *base.protocol;
  if (!line || p[line].things.size() != 1) return {};
  return model::item_of(p, p[line].things.front(), base.variants[variant]);
}

bool goes_tightly_over(const model::Protocol& protocol, model::ItemId upper, model::ItemId lower) {
  bool any = false;
  for (const model::Cover& c : protocol[upper].goes_over)
    if (c.item == lower && !c.loosely) any = true;
  return any;
}

}  // namespace stepward::mutations
