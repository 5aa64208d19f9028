// SPDX-License-Identifier: Apache-2.0
// What is in the bore: how a file says it, and what makes no sense.
#include <cmath>
#include <nlohmann/json.hpp>
#include <tuple>

#include "scenario/faults.hpp"
#include "scenario/sense.hpp"
#include "scenario/values.hpp"
#include "scene/layout.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values

namespace {

constexpr double root_reach_m = 0.1;  // ours: roots grow along a socket before they show

Roots roots(const Json& in) {
  Roots out;
  std::tie(out.from_m, out.to_m) = extent(in);
  out.arc = arc(in);
  out.form = pick(text(in, "form"),
                  {{"tap", RootForm::tap}, {"fine", RootForm::fine}, {"mass", RootForm::mass}}, out.form);
  out.blocks_percent = number(in, "blocks_percent");
  return out;
}

Attached attached(const Json& in, AttachedKind kind) {
  return {number(in, "from_m"), number(in, "to_m"), arc(in), kind, number(in, "covers_percent")};
}

Settled settled(const Json& in) {
  return {number(in, "from_m"), number(in, "to_m"),
          pick(text(in, "form"), {{"coarse", SettledKind::coarse}, {"hard", SettledKind::hard}},
               SettledKind::fine),
          number(in, "depth_percent")};
}

}  // namespace

std::optional<FaultKind> matter_fault(const std::string& kind, const Json& in) {
  if (kind == "roots") return roots(in);
  if (kind == "deposit") return settled(in);
  if (kind == "grease") return attached(in, AttachedKind::grease);
  if (kind == "scale") return attached(in, AttachedKind::scale);
  if (kind == "fouling") return attached(in, AttachedKind::fouling);
  return std::nullopt;
}

void Sense::check(const Roots& roots) {
  point_or_stretch("roots", roots.from_m, roots.to_m, true);
  if (!sections_known_ || !on_run(roots.from_m)) return;
  // Roots come in where the wall is not whole: Ostberg et al. 2010, Svenskt Vatten Utveckling 2010-04
  // (joints, connections); S. E. Dibble, Elements of Plumbing (cracks, cement joints).
  const auto near = nearest_joint(joints_, roots.from_m);
  if (near && std::abs(near->at_m - roots.from_m) <= root_reach_m) return;
  for (const Fault& other : scenario_.faults) {
    const auto* damage = std::get_if<SurfaceDamage>(&other.kind);
    const bool opens =
        (damage && damage->form == DamageForm::wall_gone) || std::holds_alternative<PorousWall>(other.kind) ||
        std::holds_alternative<Crack>(other.kind) || std::holds_alternative<Hole>(other.kind) ||
        std::holds_alternative<Connection>(other.kind);
    const Stretch reach = stretch_of(other);
    if (opens && roots.from_m >= reach.from_m - root_reach_m && roots.from_m <= reach.to_m + root_reach_m)
      return;
  }
  warn(at_, "there is nothing here for the roots to come in by",
       near ? "a joint, a crack, a hole or a connection; the nearest joint is at " + metres(near->at_m)
            : "a crack, a hole or a connection");
}
void Sense::check(const Settled& settled) { stretch(at_, "deposit", settled.from_m, settled.to_m); }
void Sense::check(const Attached& attached) {
  stretch(at_, kind_word(fault()), attached.from_m, attached.to_m);
  if (!attached.arc.whole && base::arc_width_h(attached.arc) == 0)
    say(at_ + "/clock", "what sticks to the wall covers an arc",
        "[from, to], or nothing for the whole way round");
}

}  // namespace haunch::scenario
