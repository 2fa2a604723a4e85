#include "model/steps.hpp"

namespace stepward::model {

bool uses_hands(const Line& line) {
  switch (line.verb) {
    case VerbKind::don: case VerbKind::doff: case VerbKind::disinfect: case VerbKind::clean: case VerbKind::test:
    case VerbKind::take: case VerbKind::pass: return true;
    case VerbKind::act: return !line.things.empty();
    case VerbKind::inspect: case VerbKind::decide: case VerbKind::declare: case VerbKind::record:
    case VerbKind::report: case VerbKind::call: case VerbKind::move: case VerbKind::wait:
    case VerbKind::start_timer: case VerbKind::stop_timer: return false;
  }
  return false;
}

}  // namespace stepward::model
