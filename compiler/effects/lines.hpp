#pragma once
// The moments of each kind of action line, in the order of docs/language/meaning.md 4. One function a verb.

#include <functional>

#include "effects/program.hpp"

namespace stepward::effects {

/// Files the edges that leave a standing place into the system.
class LineWriter {
 public:
  LineWriter(Program& program) : program_(program), world_(program.world()), protocol_(world_.protocol()) {}

  /// All edges of `node`, which is a line or the end of a contact time.
  std::vector<Edge> edges_of(graph::NodeId node);

 private:
  std::vector<Edge> single(graph::NodeId node, const model::Line& line);
  std::vector<Edge> inspect(graph::NodeId node, const model::Line& line);
  std::vector<Edge> decide(graph::NodeId node, const model::Line& line);

  void take_off(const model::Line& line);
  void put_on(const model::Line& line);
  void wet(const model::Line& line);
  void contact_end(const model::Line& line);
  void clean(const model::Line& line);
  void test(const model::Line& line);
  void act(const model::Line& line);
  void take(const model::Line& line, bool pass);
  void move(const model::Line& line);
  void wait(const model::Line& line);
  void end_wetness(const model::Line& line);
  void end_wetness_of(const model::Line& line, const Bearer& b, const Wetting& wetting);
  void refuse_gloved(const model::Line& line, const Candidate& c);
  bool is_left_overdue(const model::Line& line, const Candidate& c) const;
  void leave_overdue(const model::Line& line);
  void end_overdue(const model::Line& line);
  void end_overdue_by_wait(const model::Line& line);
  void end_overdue_where(const model::Line& line, const std::function<Formula(FieldId, const Wetting&)>& long_enough);
  void end_overdue_of(FieldId wet, const Wetting& wetting, const Formula& long_enough);
  std::uint32_t seconds_asked(FieldId wet, const Wetting& wetting) const;
  void end_wetness_of_part(const SurfaceAt& s, FieldId now, model::AgentId agent);
  void rise_to_clean(FieldId level, model::AgentId agent, const Formula& when, const Cause& why);
  void say_only(const model::Line& line);
  void run_timer(const model::Line& line);

  // Pieces of lines
  struct Piece { model::ItemId item; Formula there; };  ///< an item of a set, and when it is worn
  std::vector<Piece> pieces(const model::Line& line, bool worn);
  std::vector<std::vector<Piece>> sets_of(const model::Line& line, const std::vector<Piece>& all) const;
  void remove(const model::Line& line, const std::vector<Piece>& set);
  void refuse_removal(const model::Line& line, const std::vector<Piece>& set);
  void handle(const model::Line& line, const std::vector<Piece>& set, const std::vector<model::ItemId>& gone);
  const std::vector<model::Handled>& handling(const model::Line& line, const Piece& piece) const;
  void brush(const model::Line& line, const std::vector<Piece>& set);
  bool says_what_it_may_brush(model::TechniqueId t) const;
  void grasp_outside(const model::Line& line, const std::vector<Piece>& set);
  void tear_glove(const model::Line& line);
  void let_through(const std::vector<Piece>& set, model::RoleId of);
  void pull_off(const model::Line& line, const std::vector<Piece>& set);
  void rest_inside(const model::Line& line, const Piece& piece);
  void leave(const model::Line& line, const std::vector<Piece>& set);
  void refuse_putting_on(const model::Line& line, const Piece& piece);
  void go_on(const model::Line& line, const Piece& piece);
  void put_on_next(const model::Line& line, const Piece& piece);
  void fresh_copy(model::ItemId item, bool unless_in_hand);
  struct Look { model::Thing thing; model::FindingId finding; };
  Formula possible(const model::Line& line, const Look& look, bool found);
  void outcome(const model::Line& line, const Look& look, bool found, bool overlooked);
  void overlook(const Candidate& c, const Bearer& memory, model::FindingMeans means);
  void find_tear(const Bearer& b, const Formula& when);
  std::vector<Reachable> surfaces_of(const Candidate& c);
  Formula can_be_seen(const Candidate& c);
  std::vector<Reachable> named_surfaces(const model::TechniqueThing& t, const model::Line& line, const std::vector<Piece>& set,
                                        const model::ItemId* only);
  void end_duties(model::AnswerKind kind, model::MarkId mark, const Bearer* thing, const Formula& when);
  void keep_hands_off(const model::Line& line, model::RoleId of);
  void need_one_place(const model::Line& line, model::RoleId other, bool look);
  void refuse_wet(const SurfaceAt& s, const Formula& when);
  Moment event(model::Event::What what, const model::Line& line, std::vector<Bearer> things) const;
  /// When nothing that the line names is worn or in hand.
  Formula nothing_there(const model::Line& line);
  /// The moment of a line by itself: what it does, it does to no thing, or at another time.
  void line_alone(model::Event::What what, const model::Line& line, const Formula& when, bool asked);
  /// One event about those things of a line that are worn when it begins, whatever becomes of them in it.
  struct WornMoment { Moment moment; FieldId any; };
  WornMoment ask_of_worn(model::Event::What what, const model::Line& line, const std::vector<std::pair<Bearer, Formula>>& things);
  void happens_to_worn(const WornMoment& worn, const model::Line& line);

  Program& program_;
  World& world_;
  const model::Protocol& protocol_;
  graph::Manner manner_ = graph::Manner::as_written;  ///< of the line that is being written
};

/// Whether taking the thing off answers the duty that this finding opens.
bool removal_answers(const model::Finding& finding);

/// Duties that fall due at `moment`, owed on things of `person` (none: on anything), but those of `leaving` whose removal is the answer.
void duties_due(Program& program, model::Deadline moment, bool at_normal_ending, model::RoleId person,
                const std::vector<std::pair<Bearer, Formula>>& leaving);

}  // namespace stepward::effects
