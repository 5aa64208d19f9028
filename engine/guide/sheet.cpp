// SPDX-License-Identifier: Apache-2.0
#include "guide/sheet.hpp"

#include <nlohmann/json.hpp>

#include "base/json_document.hpp"
#include "base/words.hpp"
#include "coding/code_list.hpp"
#include "render/renderer.hpp"

namespace haunch::guide {
namespace {

using Json = nlohmann::ordered_json;

Json or_null(const coding::Number& number) { return base::or_null<Json>(number.value); }

Json index_of(const Plate& plate) {
  const coding::Observation& line = plate.subject;
  const auto& section = plate.scene.scenario.sections.front();
  return {{"file", plate.name + ".png"},
          {"code", line.code},
          {"ch1", line.ch1},
          {"ch2", line.ch2},
          {"q1", or_null(line.q1)},
          {"q2", or_null(line.q2)},
          {"clock_from", base::or_null<Json>(line.clock_from)},
          {"clock_to", base::or_null<Json>(line.clock_to)},
          {"distance_m", or_null(line.distance_m)},
          {"length_m", or_null(plate.length_m)},
          {"at_joint", line.at_joint},
          {"material", plate.material},
          {"bore_mm", section.bore_mm},
          {"lens_at_m", base::to_centimetre(plate.lens_at_m)},
          {"reason", line.reason}};
}

}  // namespace

std::string draw_plate(const Plate& plate, const PictureSize& size, int threads) {
  render::View view;
  view.pose = plate.pose;
  view.width = size.width;
  view.height = size.height;
  view.time_s = plate.time_s;
  return render::colour_png(render::Renderer(plate.scene, threads).draw(view));
}

std::string sheet_index(const Plates& plates) {
  Json out{{"kind", "sheet"}, {"edition", 1}, {"plates", Json::array()}, {"unpictured", Json::object()}};
  for (const Plate& plate : plates.plates) out["plates"].push_back(index_of(plate));
  for (const Unpictured& code : plates.unpictured) out["unpictured"][code.code] = code.why;
  return out.dump(2) + "\n";
}

}  // namespace haunch::guide
