// SPDX-License-Identifier: Apache-2.0
// Faults of the bore's shape: how a file says them, and what makes no sense.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "scenario/faults.hpp"
#include "scenario/sense.hpp"
#include "scenario/values.hpp"
#include "scene/camera.hpp"
#include "scene/materials.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values

namespace {

constexpr double tightest_bend_bores = 1.5;   // ours: about as tight as made bends are
constexpr double most_of_rigid_percent = 25;  // ours: about where the quarters lose their hold and fall in

constexpr double most_box_ratio = 2.5;  // ours: of one side to the other

/// Why a fault cannot be drawn in a bore out of round, or nothing where it is drawn there as anywhere.
const char* not_out_of_round(const FaultKind& kind) {
  if (std::holds_alternative<Connection>(kind)) return "its mouth is cut out of a round wall";
  if (std::holds_alternative<BrokenWall>(kind)) return "its pieces are cut out of a round wall";
  if (std::holds_alternative<BrickDamage>(kind)) return "its bricks are laid round a circle";
  if (std::holds_alternative<MissingMortar>(kind) || std::holds_alternative<SealingRing>(kind))
    return "it follows a round socket";
  if (std::holds_alternative<FailedWeld>(kind)) return "pipe is welded round";
  if (std::holds_alternative<SoilIngress>(kind)) return "its heap is shaped to a round invert";
  if (std::holds_alternative<Exfiltration>(kind)) return "its flow is that of a round invert";
  if (std::holds_alternative<LiningDefect>(kind) || std::holds_alternative<Repair>(kind))
    return "its size is measured on a round wall";
  if (std::holds_alternative<Squashed>(kind)) return "how that shape gives way is not known here";
  return nullptr;
}

double section_bore_mm(const Scenario& scenario, double (*of)(double, double)) {
  double bore = scenario.sections.front().bore_mm;
  for (const Section& section : scenario.sections) bore = of(bore, section.bore_mm);
  return bore;
}

}  // namespace

std::optional<FaultKind> bore_fault(const std::string& kind, const Json& in) {
  if (kind == "squashed")
    return Squashed{number(in, "from_m"), number(in, "to_m"), text(in, "direction") != "horizontal",
                    number(in, "percent")};
  if (kind == "bend")
    return Bend{number(in, "from_m"), number(in, "to_m"), number(in, "angle_deg"),
                number(in, "toward_clock")};
  return std::nullopt;
}

void Sense::shape_of(const Section& section, const std::string& pointer) {
  if (is_wrong(pointer + "/shape") || is_wrong(pointer + "/height_mm") || is_wrong(pointer + "/bore_mm") ||
      is_wrong("/pipe/bore_mm"))
    return;
  if (section.shape != PipeShape::rectangular) {
    if (document_.root().contains(nlohmann::json::json_pointer(pointer + "/height_mm")))
      say(pointer + "/height_mm",
          section.shape == PipeShape::egg ? "an egg is half as high again as wide"
                                          : "a circular pipe has one bore",
          "no height_mm, or \"shape\": \"rectangular\"");
    return;
  }
  const double ratio = section.height_mm / section.bore_mm;
  if (ratio < 1 / most_box_ratio - 1e-9 || ratio > most_box_ratio + 1e-9)
    say(pointer + "/height_mm",
        "a pipe " + show(section.bore_mm) + " mm wide and " + show(section.height_mm) +
            " mm high cannot be drawn",
        "from " + show(section.bore_mm / most_box_ratio) + " to " + show(section.bore_mm * most_box_ratio) +
            " mm");
}

void Sense::fits_the_shape() {
  const Stretch reach = stretch_of(fault());
  if (!sections_known_ || !on_run(reach.from_m) || !on_run(reach.to_m) || reach.to_m < reach.from_m) return;
  const char* const why = not_out_of_round(fault().kind);
  if (why == nullptr) return;
  for (const Section& section : scenario_.sections) {
    if (section.shape == PipeShape::circular || reach.from_m > section.to_m || reach.to_m < section.from_m)
      continue;
    say(at_,
        "the " + kind_word(fault()) + " at " + metres(std::max(reach.from_m, section.from_m)) +
            " cannot be drawn yet in a pipe that is " + scene::show(section.shape) + ": " + why,
        "it in a circular pipe");
    return;
  }
}

void Sense::check(const Bend& bend) {
  stretch(at_, "bend", bend.from_m, bend.to_m);
  if (!sections_known_ || !on_run(bend.from_m) || !on_run(bend.to_m) || bend.to_m <= bend.from_m ||
      is_wrong(at_ + "/angle_deg"))
    return;
  const std::size_t index = static_cast<std::size_t>(section_at(scenario_, bend.from_m));
  if (bore_is_wrong(index)) return;
  const double bore_m = scenario_.sections[index].bore_mm / 1000.0;
  const double least = tightest_bend_bores * bore_m * bend.angle_deg * std::numbers::pi / 180;
  if (bend.to_m - bend.from_m < least - 1e-9)
    say(at_ + "/to_m",
        "a bend of " + show(bend.angle_deg) + " degrees is too sharp over " + show(bend.to_m - bend.from_m) +
            " m",
        "at least " + show(std::ceil(1000 * least) / 1000) + " m: it swings round a middle no nearer than " +
            show(tightest_bend_bores) + " bores");
}

void Sense::check(const Squashed& squashed) {
  stretch(at_, "squashed stretch", squashed.from_m, squashed.to_m);
  if (!sections_known_ || !on_run(squashed.from_m) || !on_run(squashed.to_m) ||
      squashed.to_m <= squashed.from_m)
    return;
  const int index = section_at(scenario_, squashed.from_m);
  if (scenario_.sections[static_cast<std::size_t>(index)].shape != PipeShape::circular)
    return;  // said elsewhere
  const Section& section = scenario_.sections[static_cast<std::size_t>(index)];
  if (squashed.to_m > section.to_m + 1e-9) {
    say(at_ + "/to_m", "the pipe changes at " + metres(section.to_m) + ", within the squashed stretch",
        "a squashed stretch on either side of the change");
    return;
  }
  if (bore_is_wrong(static_cast<std::size_t>(index)) || is_wrong(at_ + "/percent")) return;
  const double bore_mm = section.bore_mm;
  if (squashed.to_m - squashed.from_m < bore_mm / 1000.0 - 1e-9)
    say(at_ + "/to_m",
        "a pipe is not squashed over as little as " + show(1000.0 * (squashed.to_m - squashed.from_m)) +
            " mm",
        "at least one bore, " + show(bore_mm) + " mm");
  if (!is_flexible(section.material) && squashed.percent > most_of_rigid_percent)
    say(at_ + "/percent",
        scene::show(section.material) + " squashed by " + show(squashed.percent) + " % has fallen in",
        "at most " + show(most_of_rigid_percent) + " % of a rigid pipe");
  camera_passes(squashed, bore_mm);
  for (int other = 1; other <= static_cast<int>(scenario_.faults.size()); ++other) {
    const Fault& there = scenario_.faults[static_cast<std::size_t>(other - 1)];
    const Stretch reach = stretch_of(there);
    if (other == number_ || !(reach.from_m <= squashed.to_m && reach.to_m >= squashed.from_m)) continue;
    if (std::holds_alternative<Squashed>(there.kind)) {
      if (other > number_)
        say(there.pointer,
            "the pipe is squashed here already, from " + metres(squashed.from_m) + " to " +
                metres(squashed.to_m),
            "stretches that do not overlap");
    } else if (const char* const why = not_out_of_round(there.kind)) {
      say(there.pointer,
          "the " + kind_word(there) + " within the squashed stretch from " + metres(squashed.from_m) +
              " to " + metres(squashed.to_m) + " cannot be drawn yet: " + why,
          "it, or the squashed stretch, elsewhere");
    }
  }
}

/// It was rigged before anybody knew of the squashed stretch.
void Sense::camera_passes(const Squashed& squashed, double bore_mm) {
  const CameraRig& rig = scenario_.camera;
  if (is_wrong("/camera/head_mm") || is_wrong("/camera/height_mm")) return;
  for (std::size_t i = 0; i < scenario_.sections.size(); ++i)
    if (bore_is_wrong(i)) return;
  const double narrowest = section_bore_mm(scenario_, [](double a, double b) { return std::min(a, b); });
  const double lens = lens_height_mm(rig, narrowest), left = bore_mm * (1 - squashed.percent / 100);
  const double top = lens + rig.head_mm / 2;
  const auto most = [&](double needs) {
    return "at most " + show(std::floor(100 * (1 - needs / bore_mm))) + " % here, or a smaller camera";
  };
  if (squashed.vertical && top >= left)
    say(at_ + "/percent",
        "the camera does not pass: its head stands " + show(top) + " mm high, the crown " + show(left) +
            " mm over the invert",
        most(top));
  if (!squashed.vertical && rig.head_mm >= left)
    say(at_ + "/percent",
        "the camera does not pass: its head is " + show(rig.head_mm) + " mm wide, the bore " + show(left) +
            " mm",
        most(rig.head_mm));
}

}  // namespace haunch::scenario
