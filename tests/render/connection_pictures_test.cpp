// SPDX-License-Identifier: Apache-2.0
// Connections as they show: what their numbers say is measured back from depth, looking square into the
// mouth with parallel rays. The geometry here is this file's own.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "render/renderer.hpp"
#include "render/test_scenes.hpp"
#include "render/test_views.hpp"
#include "scene/water.hpp"

namespace haunch::render {
namespace {

using render_test::straight_run;
using render_test::with;
using scene::Connection;
using scene::Fitting;
using scene::Material;

constexpr double radius_m = 0.075, mouth_m = 0.040, at_m = 4.5, high_m = 0.16;
constexpr int size_px = 480;

Connection joined(Fitting fitting) { return {at_m, 3, 2000 * mouth_m, fitting, 0, false}; }

/// Without a fall the pipe's wall is as deep everywhere along it.
scene::Scenario level_run(Material material) {
  scene::Scenario run = straight_run(material);
  run.gradient_percent = 0;
  return run;
}

/// What rays square into the mouth at clock 3 meet: distance from the pipe's axis, by place in the mouth's
/// plane.
class MouthSeen {
 public:
  explicit MouthSeen(const Connection& connection, Material material = Material::clay)
      : scene_(with(level_run(material), connection)) {
    Renderer renderer(scene_, 2);
    View view;
    view.pose = scene::pose_at(scene_, at_m);
    const scene::Vec2 axis = scene::centre_at(scene_, at_m);
    view.pose.lens = {axis.x, axis.y, at_m};
    view.pose.forward = {1, 0, 0};
    view.pose.roll_deg = view.pose.yaw_deg = view.pose.pitch_deg = 0;
    view.lens = Lens::parallel;
    view.parallel_height_m = high_m;
    view.width = view.height = size_px;
    view.lens_effects = view.noise = false;
    view.every_pixel = true;
    frame_ = renderer.draw(view);
  }
  struct Seen {
    double along = 0, up = 0;  // m from the mouth's middle; `along` upstream or downstream
    double away = 0;           // from the mouth's axis
    double depth = 0;          // from the pipe's axis
    double wall = 0;           // depth of the pipe's round wall there
    bool fault = false;
  };
  template <class Take>
  void each(Take take) const {
    for (int row = 0; row < size_px; ++row)
      for (int column = 0; column < size_px; ++column) {
        const auto i = static_cast<std::size_t>(row * size_px + column);
        Seen seen;
        seen.along = (column + 0.5 - size_px / 2.0) * high_m / size_px;
        seen.up = (size_px / 2.0 - row - 0.5) * high_m / size_px;
        seen.away = std::hypot(seen.along, seen.up);
        seen.depth = static_cast<double>(frame_.depth_m[i]);
        seen.wall = std::sqrt(std::max(0.0, radius_m * radius_m - seen.up * seen.up));
        seen.fault = frame_.fault[i] == 1;
        take(seen);
      }
  }
  const Frame& frame() const { return frame_; }

 private:
  scene::Scene scene_;
  Frame frame_;
};

double median(std::vector<double> all) {
  EXPECT_FALSE(all.empty());
  if (all.empty()) return 0;
  std::nth_element(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(all.size() / 2), all.end());
  return all[all.size() / 2];
}

/// The wall of a connecting pipe of this bore: ours, as the scene has it.
constexpr double pipe_wall_m = 0.09 * mouth_m;

TEST(ConnectionPicture, SetBackItsEndLiesAsFarBehindTheWall) {
  for (const double set_back_mm : {20.0, 60.0}) {
    Connection connection = joined(Fitting::drilled_in);
    connection.set_back_mm = set_back_mm;
    std::vector<double> end;
    MouthSeen(connection).each([&](const MouthSeen::Seen& seen) {
      if (std::abs(seen.away - mouth_m - pipe_wall_m / 2) < 0.0008) end.push_back(seen.depth);
    });
    EXPECT_NEAR(median(end) - radius_m, set_back_mm / 1000, 0.001);
  }
}

TEST(ConnectionPicture, TheGapIsAsWideAsStatedAndOnlyThere) {
  Connection connection = joined(Fitting::drilled_in);
  connection.gap_mm = 12;
  connection.gap_arc = {2, 4, false};  // its downstream side
  double widest = 0, elsewhere = 0;
  MouthSeen(connection).each([&](const MouthSeen::Seen& seen) {
    const double outside = seen.away - mouth_m - pipe_wall_m;
    if (outside < 0 || outside > 0.03 || seen.depth < seen.wall + 0.003) return;
    double& most = std::abs(seen.up) < 0.6 * seen.away && seen.along != 0 ? widest : elsewhere;
    most = std::max(most, outside);
  });
  EXPECT_NEAR(widest, 0.012, 0.001);
  EXPECT_LT(elsewhere, 0.004);
}

TEST(ConnectionPicture, ABrokenRimIsOpenAsDeepAsStated) {
  Connection connection = joined(Fitting::branch);
  connection.broken_mm = 18;
  connection.broken_arc = {1, 5, false};
  double most = 0;
  MouthSeen(connection).each([&](const MouthSeen::Seen& seen) {
    if (seen.away < 0.072 && seen.depth > seen.wall + 0.0003) most = std::max(most, seen.away - mouth_m);
  });
  EXPECT_NEAR(most, 0.018, 0.0015);
}

TEST(ConnectionPicture, ABlockedMouthIsFilledByItsShare) {
  for (const auto filling :
       {scene::Filling::silt, scene::Filling::rubble, scene::Filling::mortar, scene::Filling::roots})
    for (const double percent : {30.0, 75.0}) {
      Connection connection = joined(Fitting::branch);
      connection.blocked_percent = percent;
      connection.filling = filling;
      int mouth = 0, filled = 0;
      MouthSeen(connection).each([&](const MouthSeen::Seen& seen) {
        if (seen.away > 0.985 * mouth_m) return;
        ++mouth;
        if (seen.depth < radius_m + 0.08) ++filled;
      });
      EXPECT_NEAR(100.0 * filled / mouth, percent, 4) << static_cast<int>(filling);
    }
}

TEST(ConnectionPicture, AClosedMouthEndsNearTheWallAndAnOpenOneDoesNot) {
  const auto deepest = [](Connection connection) {
    double most = 0;
    MouthSeen(connection).each([&](const MouthSeen::Seen& seen) {
      if (seen.away < 0.9 * mouth_m) most = std::max(most, seen.depth - radius_m);
    });
    return most;
  };
  Connection connection = joined(Fitting::branch);
  EXPECT_GT(deepest(connection), 0.2);
  connection.closed = true;
  for (const auto stop : {scene::Stop::cap, scene::Stop::plug, scene::Stop::bricks}) {
    connection.stop = stop;
    EXPECT_LT(deepest(connection), 0.02) << static_cast<int>(stop);
  }
}

/// Where the mouth's outside edge lies, by how even it is: a drill leaves a circle, a chisel does not.
TEST(ConnectionPicture, AChiselledHoleIsRaggedAndADrilledOneRound) {
  const auto uneven = [](Fitting fitting) {
    std::vector<double> edge(60, 0.0);
    MouthSeen(joined(fitting)).each([&](const MouthSeen::Seen& seen) {
      if (!seen.fault || seen.away > 0.073) return;
      const double turn = std::atan2(seen.up, seen.along) / (2 * std::numbers::pi) + 0.5;
      double& far = edge[static_cast<std::size_t>(std::min(59.0, turn * 60))];
      far = std::max(far, seen.away);
    });
    const auto [least, most] = std::minmax_element(edge.begin(), edge.end());
    return *most - *least;
  };
  EXPECT_LT(uneven(Fitting::drilled_in), 0.002);
  EXPECT_GT(uneven(Fitting::cut_in), 0.005);
  EXPECT_GT(uneven(Fitting::saddle_chiselled), 0.005);
}

TEST(ConnectionPicture, WaterGoesOverTheLipAsDeepAsItStandsInItsPipe) {
  Connection connection = joined(Fitting::branch);
  connection.bore_mm = 80;
  connection.gradient_percent = 2;
  for (const double share : {0.2, 0.4}) {
    connection.flow_l_s = 1000 * scene::flow_m3_s(0.08, share, 0.02, 0.013);
    connection.look = scene::IncomingLook::cloudy;
    double top = -1;
    MouthSeen(connection).each([&](const MouthSeen::Seen& seen) {
      if (std::abs(seen.along) < 0.002 && seen.away < 0.98 * mouth_m && seen.depth < radius_m + 0.03)
        top = std::max(top, seen.up);
    });
    EXPECT_NEAR((top + mouth_m) / (2 * mouth_m), share, 0.03);
  }
}

TEST(ConnectionPicture, WaterRunsDownTheWallBelowAndMoves) {
  for (const double hour : {3.0, 10.0}) {
    Connection connection{at_m, hour, 80, Fitting::branch, 0, false};
    connection.flow_l_s = 0.3;
    connection.look = scene::IncomingLook::cloudy;
    const scene::Scene scene = with(straight_run(Material::clay), connection);
    Renderer one(scene, 1), two(scene, 2);
    View view;
    view.pose = scene::pose_at(scene, at_m - 0.3);
    view.width = 480;
    view.height = 270;
    view.lens_effects = view.noise = false;
    const Frame first = one.draw(view);
    EXPECT_EQ(first.rgb, two.draw(view).rgb);
    // On the wall below the mouth, above the invert.
    const render_test::Pinhole pinhole(view.pose, view.width, view.height);
    const double side = hour < 6 ? 1 : -1;
    int runs = 0;
    for (double turn = 1.5; turn < 2.2; turn += 0.05) {
      const double a = std::max(turn, hour < 6 ? 2.25 : 1.75);
      const scene::Vec2 axis = scene::centre_at(scene, at_m);
      const auto seen =
          pinhole.show({axis.x + side * 0.072 * std::sin(a), axis.y + 0.072 * std::cos(a), at_m});
      const auto i = static_cast<std::size_t>(seen.y) * 480 + static_cast<std::size_t>(seen.x);
      if (first.fault[i] == 1) ++runs;
    }
    EXPECT_GT(runs, 7) << hour;
    view.time_s = 0.4;
    EXPECT_NE(one.draw(view).rgb, first.rgb);
  }
}

struct Kind {
  const char* name;
  Connection connection;
};
void PrintTo(const Kind& kind, std::ostream* out) { *out << kind.name; }
std::vector<Kind> kinds() {
  std::vector<Kind> all;
  const auto add = [&all](const char* name, Fitting fitting) -> Connection& {
    all.push_back({name, {at_m, 2, 90, fitting, 0, false}});
    return all.back().connection;
  };
  add("saddle_chiselled", Fitting::saddle_chiselled);
  add("drilled_in", Fitting::drilled_in);
  add("bricked_in", Fitting::bricked_in).bore_mm = 70;
  add("hose", Fitting::hose).bore_mm = 50;
  add("set_back", Fitting::drilled_in).set_back_mm = 40;
  add("gap", Fitting::cut_in).gap_mm = 14;
  add("broken_branch", Fitting::branch).broken_mm = 20;
  add("broken_saddle", Fitting::saddle).broken_mm = 20;
  Connection& stub = add("broken_stub", Fitting::cut_in);
  stub.intrudes_percent = 25, stub.broken_mm = 25;
  Connection& plug = add("plug", Fitting::branch);
  plug.closed = true, plug.stop = scene::Stop::plug;
  Connection& bricks = add("bricks", Fitting::branch);
  bricks.closed = true, bricks.stop = scene::Stop::bricks;
  Connection& roots = add("blocked", Fitting::saddle);
  roots.blocked_percent = 80, roots.filling = scene::Filling::roots;
  return all;
}

class ConnectionShows : public testing::TestWithParam<Kind> {};
TEST_P(ConnectionShows, FromBeforeItAndTheSameOnAnyNumberOfThreads) {
  for (const Material material : {Material::clay, Material::pvc}) {
    const scene::Scene scene = with(straight_run(material), GetParam().connection);
    Renderer one(scene, 1), two(scene, 2);
    View view;
    view.pose = scene::pose_at(scene, at_m - 0.3);
    view.width = 480;
    view.height = 270;
    view.lens_effects = view.noise = false;
    const Frame frame = one.draw(view);
    EXPECT_EQ(frame.rgb, two.draw(view).rgb);
    view.exposure = one.wanted_exposure();
    view.faults = false;
    const Frame without = one.draw(view);
    const render_test::Shown shown = render_test::shown(frame, without);
    EXPECT_GE(shown.pixels, 400);
    EXPECT_GE(shown.plain, shown.pixels / 2);
  }
}
INSTANTIATE_TEST_SUITE_P(Kinds, ConnectionShows, testing::ValuesIn(kinds()),
                         [](const auto& kind) { return std::string(kind.param.name); });

}  // namespace
}  // namespace haunch::render
