// SPDX-License-Identifier: Apache-2.0
// The bore and its joints, measured in pixels against projection of our own.
#include <gtest/gtest.h>

#include <cmath>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"

namespace haunch::render {
namespace {

using render_test::Pinhole;
using render_test::Pixel;
using render_test::straight_run;
using render_test::with;

View bare_view(const scene::Scene& run, double lens_z_m) {
  View view;
  view.pose = scene::pose_at(run, lens_z_m);
  view.lens_effects = false;
  view.noise = false;
  return view;
}

std::size_t at(const Frame& frame, int x, int y) {
  return static_cast<std::size_t>(y) * static_cast<std::size_t>(frame.width) + static_cast<std::size_t>(x);
}

/// First and last place on a line of the picture (steps of a tenth of a pixel from `from` through
/// `through`) that shows the fault; -1 where none does.
struct Span {
  double first = -1, last = -1;
};
Span fault_span(const Frame& frame, Pixel from, Pixel through, int fault) {
  const double dx = through.x - from.x, dy = through.y - from.y, size = std::hypot(dx, dy);
  Span span;
  for (double s = 0; s < 2 * size; s += 0.1) {
    const int x = static_cast<int>(std::floor(from.x + s * dx / size)),
              y = static_cast<int>(std::floor(from.y + s * dy / size));
    if (x < 0 || y < 0 || x >= frame.width || y >= frame.height) break;
    if (frame.fault[at(frame, x, y)] != fault) continue;
    if (span.first < 0) span.first = s;
    span.last = s;
  }
  return span;
}
double apart(Pixel a, Pixel b) { return std::hypot(a.x - b.x, a.y - b.y); }

scene::Vec3 on_circle(scene::Vec2 centre, double radius, double clock_h, double z) {
  const scene::Vec2 p = centre + radius * scene::toward_clock(clock_h);
  return {p.x, p.y, z};
}

struct ShiftCase {
  double offset_mm, toward_h, lens_z, roll;
  scene::End from;
};
class Crescent : public testing::TestWithParam<ShiftCase> {};

// The unit beyond a shifted joint shows its end on the side away from the shift: from the edge of
// the near unit's bore (outer) to the edge of its own bore (inner).
TEST_P(Crescent, SpansThePixelsGeometryGives) {
  const ShiftCase c = GetParam();
  scene::Scenario scenario = straight_run();
  scenario.inspection.from = c.from;
  const scene::Scene run = with(scenario, scene::JointShift{4.0, c.offset_mm, c.toward_h});
  View view = bare_view(run, c.lens_z);
  view.pose.roll_deg = c.roll;
  Renderer renderer(run, 2);
  const Frame frame = renderer.draw(view);

  const scene::Joint& joint = run.joints.at(3);
  ASSERT_NEAR(joint.at_m, 4.0, 1e-9);
  const bool down = view.pose.travel > 0;
  const scene::Piece &before = run.pieces[static_cast<std::size_t>(joint.before)],
                     &after = run.pieces[static_cast<std::size_t>(joint.after)];
  const double half = joint.gap_m / 2;
  const scene::Vec2 near_centre = down ? before.to_centre : after.from_centre,
                    far_centre = down ? after.from_centre : before.to_centre;
  const double near_z = down ? 4.0 - half : 4.0 + half, far_z = down ? 4.0 + half : 4.0 - half;
  // Seen downstream the far unit stands in opposite the shift; seen upstream on the shift's side.
  const double clock = down ? c.toward_h + 6 : c.toward_h;
  const double radius = before.radius_m;
  const Pinhole pinhole(view.pose, view.width, view.height);
  const Pixel outer = pinhole.show(on_circle(near_centre, radius, clock, near_z));
  const Pixel inner = pinhole.show(on_circle(far_centre, radius, clock, far_z));
  const Pixel middle = pinhole.show({far_centre.x, far_centre.y, far_z});
  const Span span = fault_span(frame, middle, outer, 1);
  ASSERT_GT(span.first, 0);
  // A pixel's edge lies half a pixel from its middle: within one pixel either way.
  EXPECT_NEAR(span.first, apart(middle, inner), 1.0);
  EXPECT_NEAR(span.last, apart(middle, outer), 1.0);
  // The far wall inside the crescent belongs to no fault.
  const double size = apart(middle, outer);
  const int x = static_cast<int>(middle.x + (inner.x - middle.x) * (1 - 6 / size)),
            y = static_cast<int>(middle.y + (inner.y - middle.y) * (1 - 6 / size));
  EXPECT_EQ(frame.fault[at(frame, x, y)], 0);
}
INSTANTIATE_TEST_SUITE_P(Shifts, Crescent,
                         testing::Values(ShiftCase{12, 5, 3.6, 0, scene::End::start},
                                         ShiftCase{8, 9, 3.5, 25, scene::End::start},
                                         ShiftCase{20, 12, 3.2, -40, scene::End::start},
                                         ShiftCase{12, 5, 4.4, 0, scene::End::end}));

TEST(Joint, AnOpenGapShowsAsARingWhereItLies) {
  const scene::Scene run = with(straight_run(), scene::JointGap{5.0, 30});
  const View view = bare_view(run, 4.7);
  Renderer renderer(run, 2);
  const Frame frame = renderer.draw(view);
  const Pinhole pinhole(view.pose, view.width, view.height);
  for (const double clock : {1.0, 3.0, 8.5, 12.0}) {
    const scene::Vec3 near_edge = on_circle(scene::centre_at(run, 5.0 - 0.015), 0.075, clock, 5.0 - 0.015);
    const scene::Vec3 far_edge = on_circle(scene::centre_at(run, 5.0 + 0.015), 0.075, clock, 5.0 + 0.015);
    const scene::Vec2 c = scene::centre_at(run, 5.015);
    const Pixel middle = pinhole.show({c.x, c.y, 5.015}), outer = pinhole.show(near_edge),
                inner = pinhole.show(far_edge);
    const Span span = fault_span(frame, middle, outer, 1);
    EXPECT_NEAR(span.first, apart(middle, inner), 1.0) << clock;
    EXPECT_NEAR(span.last, apart(middle, outer), 1.0) << clock;
  }
}

TEST(Depth, IsTheDistanceToTheWallAlongTheRay) {
  scene::Scenario scenario = straight_run();
  scenario.low_spots.push_back({3, 6, 20});
  scenario.faults.push_back({scene::JointBend{4.0, 3, 9}, ""});
  scene::Scene run = scene::build_scene(scenario);
  run.water.reaches.clear();
  View view = bare_view(run, 3.1);
  view.pose.roll_deg = 15;
  Renderer renderer(run, 2);
  const Frame frame = renderer.draw(view);
  const Pinhole pinhole(view.pose, view.width, view.height);
  int measured = 0;
  for (int y = 7; y < view.height; y += 31)
    for (int x = 5; x < view.width; x += 37) {
      const scene::Vec3 direction = pinhole.direction(x + 0.5, y + 0.5);
      const double distance = render_test::wall_distance(run, view.pose.lens, direction);
      const double z = view.pose.lens.z + distance * direction.z;
      // Joints have depth of their own.
      bool beside_joint = false;
      for (const scene::Joint& joint : run.joints) beside_joint |= std::fabs(joint.at_m - z) < 0.03;
      if (beside_joint || distance > 3) continue;
      ++measured;
      EXPECT_NEAR(frame.depth_m[at(frame, x, y)], distance, 2e-4 + 1e-3 * distance) << x << ',' << y;
    }
  EXPECT_GT(measured, 500);
}

TEST(ParallelLens, ShowsTheBoreAtItsSize) {
  scene::Scenario scenario = straight_run();
  scenario.gradient_percent = 0;
  const scene::Scene run = scene::build_scene(scenario);
  View view = bare_view(run, 1.0);
  view.lens = Lens::parallel;
  view.parallel_height_m = 0.2;
  view.width = 400;
  view.height = 400;
  // From beside the axis a level bore's wall is never met; a lens that looks along it sees the open end.
  Renderer renderer(run, 1);
  view.pose.pitch_deg = 0.8;  // the rays rise and meet the crown: at r, after r / tan
  const Frame frame = renderer.draw(view);
  const double rise = std::tan(0.8 * std::numbers::pi / 180);
  const double crown_away = 0.075 / rise / std::cos(0.8 * std::numbers::pi / 180);
  EXPECT_NEAR(frame.depth_m[at(frame, 200, 200)], crown_away, 0.02 * crown_away);
}

class VisibleFault : public testing::TestWithParam<int> {};
// With the fault and without it, same seed: its pixels differ by more than a stated contrast (ours).
TEST_P(VisibleFault, ChangesTheColoursWhereItIs) {
  const scene::FaultKind kinds[] = {scene::JointShift{4, 12, 5}, scene::JointGap{4, 25},
                                    scene::JointBend{4, 5, 3}};
  for (const scene::Material material :
       {scene::Material::clay, scene::Material::pvc, scene::Material::cast_iron, scene::Material::concrete}) {
    const scene::Scene sound = scene::build_scene(straight_run(material));
    const scene::Scene faulty = with(straight_run(material), kinds[GetParam()]);
    View view = bare_view(sound, 3.65);
    Renderer one(sound, 2), other(faulty, 2);
    const Frame without = one.draw(view);
    view.exposure = one.wanted_exposure();
    const Frame frame = other.draw(view);
    double change = 0;
    int pixels = 0;
    for (std::size_t i = 0; i < frame.fault.size(); ++i) {
      if (frame.fault[i] != 1) continue;
      ++pixels;
      for (std::size_t ch = 0; ch < 3; ++ch)
        change += std::abs(frame.rgb[3 * i + ch] - without.rgb[3 * i + ch]);
    }
    EXPECT_GT(pixels, 300) << scene::show(material);
    EXPECT_GT(change / 3 / pixels, 12) << scene::show(material);
  }
}
INSTANTIATE_TEST_SUITE_P(Joints, VisibleFault, testing::Range(0, 3));

TEST(Faults, TurnedOffCloseGapsAndCarryNoNumbers) {
  const scene::Scene run = with(straight_run(), scene::JointGap{4.0, 30});
  View view = bare_view(run, 3.65);
  view.faults = false;
  Renderer renderer(run, 1);
  const Frame frame = renderer.draw(view);
  for (const std::uint16_t number : frame.fault) ASSERT_EQ(number, 0);
}

}  // namespace
}  // namespace haunch::render
