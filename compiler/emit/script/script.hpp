#pragma once
// The observer's script: for every step what to say, what to hear, what to look for, and what to say if it is not so.
//
// The reader is the person who reads aloud (rhythm), or, where no rhythm is given, whoever watches. It carries the same
// numbers as the wearer's card, and everything the author wrote that the card has no room for: reasons, notes.

#include "emit/document/document.hpp"
#include "emit/walk_facts.hpp"
#include "graph/numbering.hpp"
#include "model/protocol.hpp"

namespace stepward::emit {

/// A finished script with its check words. `written` is the protocol in its author's words, from which `course` must have been
/// made for the same variant; `protocol` is the same, or a translation of it.
Sheet observers_script(const model::Protocol& protocol, const model::Variant& variant, const graph::Course& course,
                       const WalkFacts& facts, const model::Protocol& written);

}  // namespace stepward::emit
