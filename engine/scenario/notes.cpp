// SPDX-License-Identifier: Apache-2.0
// What belongs in the record and no picture shows: how a file says it, and what makes no sense.
#include <cmath>
#include <nlohmann/json.hpp>

#include "scenario/faults.hpp"
#include "scenario/sense.hpp"
#include "scenario/values.hpp"

namespace haunch::scenario {

using namespace scene;  // this room is about its values

namespace {

constexpr double clean_air_percent = 20.9;  // oxygen by volume in dry air; from memory

}  // namespace

Note note_from(const Json& in, std::string pointer) {
  Note out;
  out.at_m = number(in, "at_m");
  out.kind = pick(text(in, "kind"),
                  {{"air", NoteKind::air},
                   {"photograph", NoteKind::photograph},
                   {"new video", NoteKind::new_video},
                   {"new photographs", NoteKind::new_photographs},
                   {"weather", NoteKind::weather}},
                  NoteKind::remark);
  out.gas = pick(
      text(in, "gas"),
      {{"oxygen", Gas::oxygen}, {"hydrogen sulphide", Gas::hydrogen_sulphide}, {"methane", Gas::methane}},
      Gas::other);
  out.reading = number(in, "reading");
  out.unit = text(in, "unit");
  out.text = text(in, "text");
  out.pointer = std::move(pointer);
  return out;
}

void Sense::notes() {
  for (const Note& note : scenario_.notes) {
    inside(note.pointer + "/at_m", "the note", note.at_m);
    if (note.kind != NoteKind::air || is_wrong(note.pointer + "/gas") || is_wrong(note.pointer + "/unit") ||
        is_wrong(note.pointer + "/reading") || !std::isfinite(note.reading) || note.unit.empty())
      continue;
    if (note.gas == Gas::oxygen && note.unit != "%")
      say(note.pointer + "/unit", "oxygen is measured in percent of the air, not in " + note.unit, "%");
    else if (note.gas == Gas::oxygen && note.reading >= clean_air_percent)
      say(note.pointer + "/reading", show(note.reading) + " % of oxygen is not too little",
          "less than clean air holds, " + show(clean_air_percent) + " %");
    else if (note.unit == "% LEL" && note.gas == Gas::hydrogen_sulphide)
      say(note.pointer + "/unit", "hydrogen sulphide poisons long before it can explode", "ppm");
    else if (note.unit.front() == '%' && note.reading > 100)
      say(note.pointer + "/reading", "more than all of the air", "at most 100 %");
    if (note.gas == Gas::other && note.text.empty())
      say(note.pointer, "nothing says which gas it is", "its name as \"text\"");
  }
}

}  // namespace haunch::scenario
