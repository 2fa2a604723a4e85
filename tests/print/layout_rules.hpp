#pragma once
// The layout rules, each as a function from a laid-out paper to what is not kept on it: an empty list where it is kept.
//
// Measured from the laid-out document, never from pixels. Where a rule has a figure, its source stands beside it; what is common practice
// or the project's own judgement is marked so.

#include <string>
#include <vector>

#include "laid_papers.hpp"

namespace stepward::test {

using NotKept = std::vector<std::string>;
using LayoutRule = NotKept (*)(const LaidPaper& paper);

// of type
NotKept type_is_large_enough(const LaidPaper& paper);
NotKept lines_have_air(const LaidPaper& paper);
NotKept letters_have_no_serifs(const LaidPaper& paper);
NotKept poster_is_read_at_two_metres(const LaidPaper& paper);

// of place
NotKept sheet_has_its_exact_size(const LaidPaper& paper);
NotKept margins_are_kept(const LaidPaper& paper);
NotKept scripts_have_room_for_rings(const LaidPaper& paper);
NotKept nothing_is_split(const LaidPaper& paper);
NotKept nothing_overlaps(const LaidPaper& paper);
NotKept boxes_take_a_gloved_marker(const LaidPaper& paper);
NotKept every_face_says_what_it_is(const LaidPaper& paper);

NotKept marks_stand_on_every_face(const LaidPaper& paper);
NotKept next_faces_are_told(const LaidPaper& paper);
NotKept check_words_stand_on_one_line(const LaidPaper& paper);
NotKept answers_stand_under_their_question(const LaidPaper& paper);
NotKept answers_are_cut_between_steps(const LaidPaper& paper);
NotKept ends_stand_with_their_step(const LaidPaper& paper);
NotKept pages_stay_with_their_word(const LaidPaper& paper);
NotKept titles_stand_above_their_rows(const LaidPaper& paper);

// of meaning
NotKept questions_stand_under_their_step(const LaidPaper& paper);
NotKept loops_say_limit_and_fallback(const LaidPaper& paper);
NotKept references_lead_there(const LaidPaper& paper);
NotKept breaches_say_where_they_return(const LaidPaper& paper);
NotKept zones_are_bands(const LaidPaper& paper);
NotKept critical_by_word_and_shape(const LaidPaper& paper);
NotKept timers_stand_beside_their_step(const LaidPaper& paper);

// of reading
NotKept boxes_stand_last(const LaidPaper& paper);
NotKept endings_stop_the_reader(const LaidPaper& paper);
NotKept yes_stands_above_no(const LaidPaper& paper);
NotKept boxes_are_whole(const LaidPaper& paper);
NotKept rows_promise_what_holds(const LaidPaper& paper);
NotKept your_is_the_readers(const LaidPaper& paper);
NotKept scripts_say_agent_and_bin(const LaidPaper& paper);
NotKept scripts_read_warnings_aloud(const LaidPaper& paper);
NotKept questions_have_their_own_numbers(const LaidPaper& paper);
NotKept letters_left_out_are_told(const LaidPaper& paper);

/// The parts of a face that are blocks, with the block.
struct StandingBlock {
  std::size_t face = 0;  ///< from 1
  const emit::pdf::LaidPart* part = nullptr;
  const emit::Block* block = nullptr;
};
std::vector<StandingBlock> blocks_of(const LaidPaper& paper);

}  // namespace stepward::test
