#pragma once
// Flows between the elements of a process, and the diagram that shows both.
//
// The ways of a chart stop at the end of a phase; a flow goes through: from the last step of a phase to the first of the
// next that has one.

#include <map>
#include <string>
#include <vector>

#include <pugixml.hpp>

#include "emit/bpmn/ids.hpp"
#include "emit/bpmn/places.hpp"

namespace stepward::emit::bpmn {

struct Flow {
  std::string id;
  std::size_t band = 0;           ///< where it begins
  std::size_t position = 0;       ///< of its way in that band
  const Way* way = nullptr;
  std::string from, to;           ///< ids of shapes
  std::string condition;          ///< in words; empty: none, or the default flow
  std::vector<std::pair<std::size_t, std::size_t>> through;  ///< band and way of each piece that follows
};

class Flows {
 public:
  /// Keeps a reference to the chart, which must outlive it.
  explicit Flows(const Chart& chart);

  const std::vector<Flow>& all() const { return all_; }
  /// Shapes that are mere points of ways are no elements of a process.
  bool is_drawn(std::size_t band, std::size_t shape) const;
  std::vector<const Flow*> into(std::size_t band, std::size_t shape) const;
  std::vector<const Flow*> out_of(std::size_t band, std::size_t shape) const;
  /// The flow of a question that is taken when no condition holds; none: each has one.
  const Flow* otherwise(std::size_t band, std::size_t shape) const;

 private:
  void follow(Flow& flow, std::size_t band, std::size_t way) const;
  void say_conditions();

  const Chart& chart_;
  std::vector<Flow> all_;
  std::map<std::string, std::vector<std::size_t>> into_, out_of_;  ///< by id of a shape
};

/// What an element is called: its number and text.
std::string name_in_diagram(const Band& band, const Shape& shape);

/// The diagram of one chart.
void put_diagram(pugi::xml_node root, const PlacedChart& placed, const Flows& flows, Ids& ids);

}  // namespace stepward::emit::bpmn
