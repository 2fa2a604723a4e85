#pragma once
// Every place of a protocol in which a name stands that papers print: one list, for those who collect names and for
// those who put others in their place.

#include <functional>

#include "model/protocol.hpp"

namespace stepward::translation {

/// What somebody does with the names of a protocol.
struct NameVisitor {
  std::function<void(model::Named&)> named;                          ///< a declared thing: its name, and how it is called
  std::function<void(std::string&)> plain;                           ///< a name that stands by itself
  std::function<void(std::string&)> part;                            ///< what a surface is called
  std::function<void(std::string& unit, std::string& several)> unit; ///< what something is counted by
};

void visit_names(model::Protocol& protocol, const NameVisitor& visit);

/// The same for texts: each once, wherever it stands.
void visit_texts(model::Protocol& protocol, const std::function<void(std::string&)>& visit);

}  // namespace stepward::translation
