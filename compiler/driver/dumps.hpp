#pragma once
// Each representation of the compiler as text, for whoever works on it. The form may change with every version.

#include <string>

#include "driver/pipeline.hpp"

namespace stepward::driver {

/// The tree of every file: a node a line, with its phrase.
std::string dump_tree(const Compilation& compilation);
/// What was declared, and the lines with what they resolved to.
std::string dump_model(const Compilation& compilation);
/// The step graph of one variant: a node a line, with where it goes.
std::string dump_graph(const model::Protocol& protocol, const model::Variant& variant);
/// The fields of one variant, and the guarded operations of every node, rules woven in.
std::string dump_effects(const model::Protocol& protocol, const model::Variant& variant);

/// What a walk that is complete needs of the kit, by variant, with the lines of the run that uses most.
std::string dump_stock(const model::Protocol& protocol, const check::VariantWalk& walk);

/// "take off plastic apron", made from the model: how these texts name a line.
std::string line_name(const model::Protocol& protocol, const model::Variant& variant, model::LineId line);

}  // namespace stepward::driver
