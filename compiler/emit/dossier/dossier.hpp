#pragma once
// The review dossier: the one document in which a reviewer sees what was checked, what was assumed, and what was not.
//
// It is made once for the protocol, over all variants, also of one with errors: a reviewer must see what was found. Sections, in
// order: the verdict with its assumptions and exactly what was checked; findings as stories; which rule is asked at which step, and
// which step no rule asks about; rules that are never asked; registers of exceptions; how far dirt comes, step by step;
// kit, waste and time; sources with their marks; the flow chart; slips; signatures.
//
// Steps have the card's numbers. Those of several variants share a row where they say the same; a row then names the variants by
// the numbers that the first section gives them. Every sentence that an eager reader could take for more than it is stands
// beside what it does not say.

#include "emit/dossier/facts.hpp"
#include "emit/paper_parts.hpp"

namespace stepward::emit {

/// A finished sheet with its check words. `source.variant` and `source.course` are not asked.
Sheet review_dossier(const PaperSource& source, const dossier::Facts& facts);

}  // namespace stepward::emit
