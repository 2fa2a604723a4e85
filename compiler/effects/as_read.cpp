#include "effects/as_read.hpp"

#include "effects/simplify.hpp"

namespace stepward::effects {

System as_read(Lowered lowered) {
  lowered.system.fields = lowered.world.take_fields();
  drop_impossible(lowered.system);
  return std::move(lowered.system);
}

}  // namespace stepward::effects
