// Going from place to place.

#include "effects/lines.hpp"

#include <algorithm>

namespace stepward::effects {
namespace {

using diagnostics::Code;
using model::ItemId;
using model::RoleId;
using What = model::Event::What;

}  // namespace

// ---------------------------------------------------------------- move

void LineWriter::move(const model::Line& line) {
  const RoleId p = line.who;
  const FieldId at = world_.zone(p);
  const model::Zone& z = protocol_[line.zone];
  Formula led;
  Formula from_higher;
  for (std::size_t from = 0; from < protocol_.zones.size(); ++from) {
    const Formula here = Formula::is(at, std::uint32_t(from));
    if (protocol_.zones[from].risk > z.risk) from_higher = from_higher | here;
    for (const model::Border& border : protocol_.zones[from].leads_to) if (border.to == line.zone) led = led | here;
  }
  Report r;
  r.zone = line.zone;
  r.person = p;
  r.code = Code::P204;
  program_.report(r, world_.negate(led));
  const auto& may = protocol_[p].may_enter;
  if (!may.empty() && std::find(may.begin(), may.end(), line.zone) == may.end()) {
    r.code = Code::P203;
    program_.report(r, Formula::always());
  }
  if (z.risk == model::Risk::low) {
    const auto carried = [&](const Bearer& b, const Formula& when) {
      Formula dirty;
      for (std::uint8_t part = 0; part < world_.parts_of(b); ++part)
        if (!world_.is_inside({b, part})) dirty = dirty | world_.unclean(world_.level({b, part}));
      Report c = about(Code::P201, b);
      c.zone = line.zone;
      c.person = p;
      program_.report(c, dirty & when & from_higher);
    };
    for (ItemId i : world_.wardrobe(p)) {
      Formula lets;
      for (std::size_t from = 0; from < protocol_.zones.size(); ++from)
        for (const model::Border& border : protocol_.zones[from].leads_to)
          if (border.to == line.zone && std::any_of(border.lets_through.begin(), border.lets_through.end(), [&](const auto& w) { return world_.is_of(i, w); }))
            lets = lets | Formula::is(at, std::uint32_t(from));
      carried(world_.worn_bearer(p, i), world_.is_worn(p, i) & world_.negate(lets));
    }
    for (std::size_t s = 0; s < protocol_.sites.size(); ++s) carried(world_.site_bearer(p, model::SiteId(s)), Formula::always());
  }
  for (ItemId i : world_.wardrobe(p))
    for (std::uint8_t part = 0; part < protocol_[i].surfaces.size(); ++part) refuse_wet({world_.worn_bearer(p, i), part}, world_.is_worn(p, i));
  Moment m = event(What::moves_to, line, {});
  m.zone = line.zone;
  program_.moment(m, Formula::always());
  Moment leaving = event(What::leaves, line, {});
  for (std::size_t from = 0; from < protocol_.zones.size(); ++from) {
    leaving.zone = model::ZoneId(from);
    leaving.asked = true;
    program_.moment(leaving, Formula::is(at, std::uint32_t(from)));
    leaving.asked = false;
    program_.moment(leaving, Formula::is(at, std::uint32_t(from)));
  }
  program_.set(at, line.zone.value, Formula::always(), {Cause::What::moved, {}, 0xFF, {}, 0xFF});
  program_.expose(p, Formula::always(), line.zone);
  for (const model::ItemOrKind& need : z.needs) {
    Formula met;
    for (ItemId i : world_.wardrobe(p)) if (world_.is_of(i, need)) met = met | world_.is_worn(p, i);
    Report missing;
    missing.code = Code::P202;
    missing.zone = line.zone;
    missing.person = p;
    missing.other = {Bearer::What::fresh, {}, need.item, {}, {}};
    missing.kind = need.kind;
    program_.report(missing, world_.negate(met));
  }
  m.asked = false;
  program_.moment(m, Formula::always());
}

}  // namespace stepward::effects
