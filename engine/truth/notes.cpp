// SPDX-License-Identifier: Apache-2.0
// What no picture shows: air that was measured, remarks, photographs, changes of tapes and of weather.
#include "base/words.hpp"
#include "truth/codes.hpp"

namespace haunch::truth {
namespace {

struct Air {
  const char* letter;
  std::string name;
};
Air air_of(const scene::Note& note) {
  switch (note.gas) {
    case scene::Gas::oxygen:
      return {"A", "oxygen"};
    case scene::Gas::hydrogen_sulphide:
      return {"B", "hydrogen sulphide"};
    case scene::Gas::methane:
      return {"C", "methane"};
    case scene::Gas::other:
      break;
  }
  return {"Z", note.text};
}

/// "hydrogen sulphide, 12 ppm": the code has no unit of its own, so the remark says it.
std::string measured(const scene::Note& note) {
  const std::string unit = note.unit == "% LEL" ? "% of the lower explosive limit" : note.unit;
  std::string words = air_of(note).name + ", " + base::show_number(note.reading) + " " + unit;
  if (note.gas != scene::Gas::other && !note.text.empty()) words += "; " + note.text;
  return words;
}

coding::Observation line_of(const scene::Note& note, int photographs_before) {
  coding::Observation made;
  switch (note.kind) {
    case scene::NoteKind::air: {
      const Air air = air_of(note);
      made = line("BDF", air.letter);
      made.q1 = note.reading;
      made.remark = measured(note);
      made.reason = "measured in the air of the pipe: " + made.remark + " -> BDF " + air.letter +
                    "; no picture shows it: the trainee is told";
      return made;
    }
    case scene::NoteKind::photograph:
      made = line("BDA", "");
      made.photo = "photo " + std::to_string(photographs_before + 1);
      made.reason = "a general photograph is taken here -> BDA";
      break;
    case scene::NoteKind::new_video:
      made = line("AEA", "");
      made.reason = "the video goes on in a new one -> AEA";
      break;
    case scene::NoteKind::new_photographs:
      made = line("AEB", "");
      made.reason = "the photographs go on in a new lot -> AEB";
      break;
    case scene::NoteKind::weather:
      made = line("AEG", "");
      made.reason = "the weather has changed -> AEG";
      break;
    case scene::NoteKind::remark:
      made = line("BDB", "");
      made.reason = "a remark on the run -> BDB";
      break;
  }
  made.remark = note.text;
  return made;
}

}  // namespace

std::vector<Finding> findings_of_notes(const scene::Scene& scene) {
  std::vector<Finding> findings;
  int photographs = 0, number = 0;
  for (const scene::Note& note : scene.scenario.notes) {
    Finding finding;
    finding.line = line_of(note, photographs);
    if (note.kind == scene::NoteKind::photograph) ++photographs;
    finding.from_m = finding.to_m = note.at_m;
    finding.note = ++number;
    findings.push_back(std::move(finding));
  }
  return findings;
}

std::string told_of(const scene::Note& note) {
  const std::string words = note.text.empty() ? std::string() : ": " + note.text;
  switch (note.kind) {
    case scene::NoteKind::air:
      return "The gas meter reads " + measured(note) +
             ". Gas is an emergency: keep out, no flame and no spark, and do as the local rules say.";
    case scene::NoteKind::photograph:
      return "A photograph is taken here" + words;
    case scene::NoteKind::new_video:
      return "A new video begins" + words;
    case scene::NoteKind::new_photographs:
      return "A new lot of photographs begins" + words;
    case scene::NoteKind::weather:
      return "The weather changes" + words;
    case scene::NoteKind::remark:
      break;
  }
  return "To be remarked" + words;
}

bool is_told(const Origin& origin, const scene::Scenario& scenario, double furthest_m) {
  constexpr double hair_m = 0.005;  // a counter shows centimetres
  const double along = scene::travel(scenario) > 0 ? origin.from_z_m : scenario.length_m - origin.from_z_m;
  return origin.note == 0 || along <= furthest_m + hair_m;
}

coding::Record as_told(const Truth& truth, const scene::Scenario& scenario, double furthest_m) {
  coding::Record record = truth.record;
  for (std::size_t i = 0; i < truth.origins.size(); ++i)
    if (!is_told(truth.origins[i], scenario, furthest_m))
      record.not_visible.push_back(
          {record.observations[i].id, "told only where the camera comes to it, and it did not come there"});
  return record;
}

}  // namespace haunch::truth
