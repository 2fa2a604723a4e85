#include "model/from_syntax/frames.hpp"

namespace stepward::model::reading {
namespace {

/// What a rule may name although this protocol need not have it: the pack serves several protocols.
constexpr std::string_view named_in_rules[] = {"mark", "record", "recipient", "decision", "ending", "interruption", "timer"};

resolve::Shapes shapes(Frames::Names names) {
  resolve::Shapes shapes;
  for (const std::string_view what : named_in_rules) {
    const std::string known = "<" + std::string(what) + ">";
    const bool free = names == Frames::Names::may_be_missing;
    // "strikes" ends the name of an interruption, whatever words it holds.
    const std::string words = what == "interruption" ? ":ANY>" : ":WORDS>";
    shapes[std::string(what)] = free ? known + " | <free." + std::string(what) + words : known;
  }
  shapes["answered"] = names == Frames::Names::may_be_missing ? "<answer> | <free.answer:WORDS>" : "<answer>";
#define STEPWARD_SHAPE(name, shape) shapes[name] = shape;
#define STEPWARD_FRAME(name, shape)
#include "model/from_syntax/frames.def"
  return shapes;
}

}  // namespace

Frames::Frames(resolve::NameTable& table, Names names) {
  const resolve::Shapes all = shapes(names);
#define STEPWARD_SHAPE(name, shape)
#define STEPWARD_FRAME(name, shape) name = resolve::Frame(table, all, shape);
#include "model/from_syntax/frames.def"
}

namespace {

struct Compiled {
  resolve::NameTable words;
  Frames frames{words, Frames::Names::must_be_known};
};

const Compiled& strict() {
  static const Compiled compiled;
  return compiled;
}

/// Frames in which names may be missing have the same words, so they get no others in a copy of the table.
const Frames& loose() {
  static const Frames frames = [] {
    resolve::NameTable words = strict().words;
    return Frames(words, Frames::Names::may_be_missing);
  }();
  return frames;
}

}  // namespace

const Frames& frames_of(Frames::Names names) { return names == Frames::Names::must_be_known ? strict().frames : loose(); }

const resolve::NameTable& words_of_frames() { return strict().words; }

}  // namespace stepward::model::reading
