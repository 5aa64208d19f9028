// SPDX-License-Identifier: Apache-2.0
// Every kind of fault, looked at from either end and counted from any zero: the same findings, as they look
// from there.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "base/clock.hpp"
#include "base/random.hpp"
#include "campaign.hpp"
#include "scene/camera.hpp"
#include "scene/runs.hpp"
#include "truth/truth.hpp"

namespace haunch::truth {
namespace {

using coding::Observation;

/// What chance decides of one fault that stands at `joint_m`, a joint, or shortly after it.
struct Chance {
  base::Random& random;
  double joint_m;

  double wall_m() const { return joint_m + 0.45; }
  double hour() { return (1 + random.below(48)) / 4.0; }  // quarters: rounding must turn as well
  base::ClockArc one() {
    const double at = hour();
    return {at, at, false};
  }
  base::ClockArc arc() {
    const double from = hour();
    return {from, base::wrap_hours(from + random.uniform(1, 8)), false};
  }
  double length() { return random.below(2) == 0 ? random.uniform(0.1, 0.25) : random.uniform(0.35, 0.5); }
  template <class Enum>
  Enum any(Enum last) {
    return static_cast<Enum>(random.below(static_cast<std::uint32_t>(last) + 1));
  }
};

// One for each kind: a kind that is missing here does not compile.
scene::JointGap of_kind(const scene::JointGap*, Chance& c) { return {c.joint_m, c.random.uniform(12, 40)}; }
scene::JointShift of_kind(const scene::JointShift*, Chance& c) {
  return {c.joint_m, c.random.uniform(4, 15), c.hour()};
}
scene::JointBend of_kind(const scene::JointBend*, Chance& c) {
  return {c.joint_m, c.random.uniform(2, 6), c.hour()};
}
scene::Crack of_kind(const scene::Crack*, Chance& c) {
  const auto form = c.any(scene::CrackForm::star);
  const bool point = form == scene::CrackForm::around || form == scene::CrackForm::star;
  return {c.wall_m(), point ? c.wall_m() : c.wall_m() + c.length(),
          form == scene::CrackForm::along ? c.one() : c.arc(), form, c.random.uniform(0, 4)};
}
scene::Hole of_kind(const scene::Hole*, Chance& c) {
  return {c.wall_m(), c.hour(), c.random.uniform(30, 80), c.random.uniform(20, 60),
          c.any(scene::Behind::nothing)};
}
scene::SurfaceDamage of_kind(const scene::SurfaceDamage*, Chance& c) {
  return {c.wall_m(),
          c.wall_m() + c.length(),
          c.arc(),
          c.any(scene::DamageForm::dent),
          c.any(scene::DamageCause::unclear),
          0};
}
scene::MissingMortar of_kind(const scene::MissingMortar*, Chance& c) {
  return {c.joint_m, c.arc(), c.random.uniform(6, 20)};
}
scene::PorousWall of_kind(const scene::PorousWall*, Chance& c) {
  return {c.wall_m(), c.wall_m() + c.length(), c.arc()};
}
scene::SweatingWall of_kind(const scene::SweatingWall*, Chance& c) {
  return {c.wall_m(), c.wall_m() + c.length(), c.arc()};
}
scene::Roots of_kind(const scene::Roots*, Chance& c) {
  const double tip = c.joint_m + (c.random.below(2) == 0 ? 1 : -1) * c.length();
  return {c.joint_m, tip, c.arc(), c.any(scene::RootForm::mass), c.random.uniform(2, 20)};
}
scene::Settled of_kind(const scene::Settled*, Chance& c) {
  return {c.wall_m(), c.wall_m() + c.length(), c.any(scene::SettledKind::hard), c.random.uniform(6, 15)};
}
scene::Attached of_kind(const scene::Attached*, Chance& c) {
  return {c.wall_m(), c.wall_m() + c.length(), c.arc(), c.any(scene::AttachedKind::fouling),
          c.random.uniform(3, 12)};
}
scene::Connection of_kind(const scene::Connection*, Chance& c) {
  scene::Connection one{c.wall_m(),
                        c.hour(),
                        75,
                        c.any(scene::Fitting::hose),
                        c.random.below(2) * 20.0,
                        c.random.below(2) == 0};
  if (scene::is_loose_pipe(one.fitting) && one.intrudes_percent == 0)
    one.set_back_mm = c.random.below(2) * 40.0;
  if (scene::is_loose_pipe(one.fitting)) one.gap_mm = c.random.uniform(0, 20), one.gap_arc = c.arc();
  one.broken_mm = c.random.uniform(0, 20), one.broken_arc = c.arc();
  if (one.closed) return one;
  one.blocked_percent = c.random.below(2) * 40.0, one.filling = c.any(scene::Filling::roots);
  // So little that the run is not deeper at one end than at the other by what is recorded.
  one.flow_l_s = c.random.uniform(0.005, 0.02), one.look = c.any(scene::IncomingLook::cloudy_and_coloured);
  return one;
}
scene::Obstacle of_kind(const scene::Obstacle*, Chance& c) {
  return {c.joint_m, c.any(scene::ObstacleForm::jammed), c.one(), c.random.uniform(6, 12)};
}
scene::SoilIngress of_kind(const scene::SoilIngress*, Chance& c) {
  return {c.joint_m, c.one(), c.any(scene::SoilKind::gravel), c.random.uniform(5, 15)};
}
scene::Infiltration of_kind(const scene::Infiltration*, Chance& c) {
  return {c.joint_m, c.one(), c.any(scene::WaterRate::gushes)};
}
scene::Vermin of_kind(const scene::Vermin*, Chance& c) {
  return {c.wall_m(), c.any(scene::VerminKind::cockroach), 1.0 + c.random.below(3),
          c.any(scene::VerminPlace::connection)};
}
scene::BrokenWall of_kind(const scene::BrokenWall*, Chance& c) {
  const bool fallen = c.random.below(2) == 0;
  return {c.wall_m(), c.hour(), 150, 90, fallen ? 0 : c.random.uniform(2, 20), fallen, fallen ? 15.0 : 0.0};
}
scene::SealingRing of_kind(const scene::SealingRing*, Chance& c) {
  const double hangs = c.random.below(3) * 20.0;
  return {c.joint_m, c.arc(), hangs, hangs > 0 && c.random.below(2) == 0};
}
scene::Squashed of_kind(const scene::Squashed*, Chance& c) {
  return {c.joint_m + 0.1, c.joint_m + 0.9, c.random.below(2) == 0, c.random.uniform(4, 12)};
}
scene::Bend of_kind(const scene::Bend*, Chance& c) {
  return {c.joint_m + 0.1, c.joint_m + 0.9, c.random.uniform(5, 20), c.hour()};
}
scene::ShortLining of_kind(const scene::ShortLining*, Chance& c) {
  return {c.joint_m + 0.1, c.joint_m + 0.9, c.random.uniform(3, 6), c.any(scene::LiningFinish::glass)};
}
scene::LiningDefect of_kind(const scene::LiningDefect*, Chance& c) {
  return {c.wall_m(),
          c.wall_m() + c.length(),
          c.arc(),
          c.any(scene::LiningForm::end_open),
          c.any(scene::FoldWay::spiral),
          c.random.uniform(2, 20),
          c.random.uniform(2, 8)};
}
scene::Repair of_kind(const scene::Repair*, Chance& c) {
  const auto form = c.any(scene::RepairForm::connection_mortar);
  if (form == scene::RepairForm::pipe_replaced)
    return {c.joint_m + 0.1, c.joint_m + 0.9, form, c.arc(), 0, 0, scene::RepairFlaw::none, 0, 0, {}};
  const bool patch = form == scene::RepairForm::patch;
  const double at = patch ? c.wall_m() : c.joint_m;
  return {at,
          at,
          form,
          patch ? c.one() : c.arc(),
          patch ? 60.0 : 0.0,
          patch ? 40.0 : 0.0,
          c.any(scene::RepairFlaw::cracked),
          5,
          2,
          c.any(scene::FoldWay::spiral)};
}
scene::Exfiltration of_kind(const scene::Exfiltration*, Chance& c) {
  return {c.joint_m, c.one(), c.random.uniform(20, 100)};
}

scene::BrickDamage of_kind(const scene::BrickDamage*, Chance& c) {
  const auto form = c.any(scene::BrickForm::collapsed);
  const bool down = form == scene::BrickForm::collapsed;
  return {form,
          c.wall_m(),
          c.wall_m() + c.length(),
          c.arc(),
          down ? 0 : c.random.uniform(8, 30),
          c.any(scene::BehindBricks::nothing),
          down ? 15.0 : 0.0};
}
scene::Haze of_kind(const scene::Haze*, Chance& c) {
  return {c.joint_m + 0.1, c.joint_m + 1.3, scene::HazeKind::steam, c.random.uniform(0.04, 0.15)};
}
scene::OnLens of_kind(const scene::OnLens*, Chance& c) {
  return {c.joint_m + 0.1, c.joint_m + 1.3, c.any(scene::LensFilm::mud), c.random.uniform(55, 95)};
}

scene::FailedWeld of_kind(const scene::FailedWeld*, Chance& c) {
  const auto way = c.any(scene::WeldWay::spiral);
  const double from = way == scene::WeldWay::around ? c.joint_m : c.wall_m();
  return {from, way == scene::WeldWay::around ? from : from + c.length(),
          way == scene::WeldWay::along ? c.one() : c.arc(), way, c.random.uniform(1, 8)};
}

constexpr std::size_t kinds = std::variant_size_v<scene::FaultKind>;

template <std::size_t... i>
void add_each(scene::Scenario& scenario, base::Random& random, std::index_sequence<i...> /*kinds*/) {
  const auto take = [&]<class Kind>(const Kind* kind, std::size_t slot) {
    Chance chance{random, 2.0 + 2.0 * static_cast<double>(slot)};
    scene::add(scenario, of_kind(kind, chance));
  };
  (take(static_cast<const std::variant_alternative_t<i, scene::FaultKind>*>(nullptr), i), ...);
}

/// A run with one fault of every kind, 2 m apart.
scene::Scenario every_kind(std::uint64_t seed) {
  base::Random random(seed);
  constexpr scene::Material materials[] = {scene::Material::clay, scene::Material::pvc,
                                           scene::Material::concrete};
  scene::Scenario scenario =
      scene::plain_run(2.0 * kinds + 4, 100 + 50 * random.below(3), materials[random.below(3)]);
  scenario.seed = seed;
  scenario.gradient_percent = random.uniform(0.5, 2);
  if (random.below(2) == 0) scenario.low_spots = {{8, 14, random.uniform(20, 60)}};
  add_each(scenario, random, std::make_index_sequence<kinds>{});
  return scenario;
}

Truth derived(scene::Scenario scenario, scene::End from, scene::End zero, double before_m) {
  scenario.inspection = {from, zero, before_m};
  return derive(scene::build_scene(std::move(scenario)));
}

/// The nodes change places, and they alone name a side here.
bool is_node(const Observation& row) { return row.code == "BCD" || row.code == "BCE"; }

int as_seen_from_the_other_end(int hour) { return hour == 12 ? 12 : 12 - hour; }
int half_a_turn_on(int hour) { return hour > 6 ? hour - 6 : hour + 6; }

/// What someone who looks from the other end writes for what this row says.
Observation turned(Observation row) {
  if (row.clock_from && row.clock_to) {
    const int from = *row.clock_from;
    row.clock_from = as_seen_from_the_other_end(*row.clock_to);
    row.clock_to = as_seen_from_the_other_end(from);
  } else if (row.clock_from) {
    row.clock_from = as_seen_from_the_other_end(*row.clock_from);
  }
  // The unit ahead is the other one, and it stands to the other side.
  if (row.code == "BAJ" && row.ch1 == "B") row.clock_from = half_a_turn_on(*row.clock_from);
  // A bend to the left is one to the right; what rises into it rises out of it.
  if (row.code == "BCC" && row.ch1 != "Y") row.ch1 = row.ch1 == "A" ? "B" : "A";
  return row;
}

std::string key(const Observation& row, int fault, double z_m) {
  return "fault " + std::to_string(fault) + " " + coding::show_code(row) + " " + row.q1.show() + " clock " +
         std::to_string(row.clock_from.value_or(0)) + "-" + std::to_string(row.clock_to.value_or(0)) +
         (row.at_joint ? " joint" : "") + (row.stretch.empty() ? "" : " run") + " " +
         std::to_string(std::lround(z_m * 100));
}

std::multiset<std::string> keys(const Truth& truth, double length_m, bool turn) {
  std::multiset<std::string> all;
  for (std::size_t i = 0; i < truth.record.observations.size(); ++i) {
    const Observation& row = truth.record.observations[i];
    if (is_node(row)) continue;
    const double distance = *row.distance_m.value;
    all.insert(key(turn ? turned(row) : row, truth.origins[i].fault, turn ? length_m - distance : distance));
  }
  return all;
}

/// Steam above a lens that goes through it under water: nothing is recorded of it.
std::set<int> under_water(const scene::Scenario& scenario) {
  const scene::Scene laid_out = scene::build_scene(scenario);
  std::set<int> numbers;
  for (std::size_t i = 0; i < scenario.faults.size(); ++i) {
    const auto* haze = std::get_if<scene::Haze>(&scenario.faults[i].kind);
    if (!haze) continue;
    const scene::Vec3 lens = scene::pose_at(laid_out, (haze->from_m + haze->to_m) / 2).lens;
    if (scene::level_at(laid_out.water, lens.z) > lens.y) numbers.insert(static_cast<int>(i) + 1);
  }
  return numbers;
}

TEST(EitherWay, TurningRoundMirrorsClocksAndKeepsCodesSizesAndPlaces) {
  std::map<std::string, int> of_code;
  int compared = 0;
  const int rounds = campaign::rounds(6);
  // Many of them end in water.
  for (int round = 0; compared < rounds && round < 8 * rounds; ++round) {
    const scene::Scenario scenario = every_kind(100 + static_cast<std::uint64_t>(round));
    const Truth down = derived(scenario, scene::End::start, scene::End::start, 0);
    const Truth up = derived(scenario, scene::End::end, scene::End::end, 0);
    // A line that rises holds the water back: an inspection that ends in it sees another part from each end.
    if (down.stop || up.stop) continue;
    ++compared;
    ASSERT_EQ(keys(down, scenario.length_m, false), keys(up, scenario.length_m, true)) << "round " << round;
    std::set<int> faults;
    for (const Origin& origin : down.origins) faults.insert(origin.fault);
    faults.erase(0);
    for (const int steam : under_water(scenario)) faults.insert(steam);
    EXPECT_EQ(faults.size(), kinds) << "a fault left no row, round " << round;
    for (const Observation& row : down.record.observations) ++of_code[coding::show_code(row)];
  }
  EXPECT_EQ(compared, rounds);
  // The two that do not simply mirror must have come up on every side.
  for (const char* code : {"BAJ B", "BCC A", "BCC B"})
    EXPECT_GT(std::count_if(of_code.begin(), of_code.end(),
                            [&](const auto& one) { return one.first.rfind(code, 0) == 0; }),
              0)
        << code;
}

TEST(EitherWay, StretchesBeginWhereTheyAreMet) {
  for (int round = 0; round < campaign::rounds(3); ++round) {
    const scene::Scenario scenario = every_kind(500 + static_cast<std::uint64_t>(round));
    for (const scene::End from : {scene::End::start, scene::End::end}) {
      const Truth truth = derived(scenario, from, from, 0);
      std::map<std::string, double> begun;
      int ended = 0;
      for (const Observation& row : truth.record.observations) {
        if (row.stretch.empty()) continue;
        const std::string number = row.stretch.substr(1);
        if (row.stretch[0] == 'A') {
          EXPECT_TRUE(begun.emplace(number, *row.distance_m.value).second);
        } else {
          ASSERT_TRUE(begun.contains(number)) << "ends before it begins";
          EXPECT_GT(*row.distance_m.value, begun[number]);
          ++ended;
        }
      }
      EXPECT_EQ(static_cast<std::size_t>(ended), begun.size());
      EXPECT_GT(ended, 0);
    }
  }
}

TEST(EitherWay, AnotherZeroShiftsDistancesAndNothingElse) {
  for (int round = 0; round < campaign::rounds(3); ++round) {
    const scene::Scenario scenario = every_kind(900 + static_cast<std::uint64_t>(round));
    base::Random random(static_cast<std::uint64_t>(round));
    for (const scene::End from : {scene::End::start, scene::End::end}) {
      const Truth plain = derived(scenario, from, scene::End::start, 0);
      for (const scene::End zero : {scene::End::start, scene::End::end}) {
        const double before_m = random.below(300) / 100.0;
        const Truth moved = derived(scenario, from, zero, before_m);
        ASSERT_EQ(plain.record.observations.size(), moved.record.observations.size());
        EXPECT_EQ(plain.record.not_visible, moved.record.not_visible);
        for (std::size_t i = 0; i < plain.record.observations.size(); ++i) {
          Observation here = plain.record.observations[i];
          const Observation& there = moved.record.observations[i];
          const double z = *here.distance_m.value;
          EXPECT_NEAR(*there.distance_m.value,
                      before_m + (zero == scene::End::start ? z : scenario.length_m - z), 1e-6);
          here.distance_m = there.distance_m;
          EXPECT_EQ(here, there) << there.reason;
        }
      }
    }
  }
}

TEST(EitherWay, AStepIsTheOneThePictureShows) {
  // Looking upstream, the unit ahead of a joint whose downstream unit stands low stands high.
  const auto clock = [](double toward_h, scene::End from) {
    scene::Scenario scenario = scene::plain_run();
    scene::add(scenario, scene::JointShift{3, 9, toward_h});
    for (const Observation& row : derived(scenario, from, from, 0).record.observations)
      if (row.code == "BAJ") return row.clock_from.value_or(0);
    return 0;
  };
  EXPECT_EQ(clock(6, scene::End::start), 6);
  EXPECT_EQ(clock(6, scene::End::end), 12);
  // To a side it stays on the same hand: half a turn, and mirrored.
  EXPECT_EQ(clock(3, scene::End::start), 3);
  EXPECT_EQ(clock(3, scene::End::end), 3);
  EXPECT_EQ(clock(2, scene::End::end), 4);
}

}  // namespace
}  // namespace haunch::truth
