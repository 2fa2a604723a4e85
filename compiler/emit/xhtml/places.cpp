#include "emit/xhtml/places.hpp"

namespace stepward::emit::xhtml {

pugi::xml_node Places::open_section(const std::string& classes) {
  close_lists(0);
  section_ = add(main_, "section", classes);
  new_line(main_);
  return section_;
}

pugi::xml_node Places::outside_of_lists() {
  close_lists(0);
  return section_;
}

void Places::close_lists(Level from) {
  while (!lists_.empty() && lists_.back().level >= from) lists_.pop_back();
}

pugi::xml_node Places::parent_of_new_list() const { return lists_.empty() ? section_ : lists_.back().last; }

pugi::xml_node Places::item(Level level) {
  close_lists(static_cast<Level>(level + 1));
  if (lists_.empty() || lists_.back().level < level) {
    const pugi::xml_node list = add(parent_of_new_list(), "ul", level == 0 ? "trunk" : "branch");
    lists_.push_back({level, list, {}});
  }
  List& here = lists_.back();
  new_line(here.list);
  here.last = add(here.list, "li");
  return here.last;
}

pugi::xml_node Places::before_branch(Level level) {
  close_lists(level);
  return parent_of_new_list();
}

}  // namespace stepward::emit::xhtml
