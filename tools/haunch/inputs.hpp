// SPDX-License-Identifier: Apache-2.0
// The files that verbs read: a truth from a scenario or a record, an attempt from a record or an
// input log.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>

#include "coding/record.hpp"
#include "play/exercise.hpp"
#include "scene/scene.hpp"
#include "truth/truth.hpp"

namespace haunch::cli {

/// `kind` of a JSON file's root; empty when it is JSON without one; nothing when the text is no JSON
/// (its first letter is not a brace).
std::optional<std::string> kind_of(const std::string& text, const std::string& file_name);

struct TruthInput {
  std::filesystem::path file;
  std::string title;
  std::optional<scene::Scene> scene;  ///< when it was a scenario
  truth::Truth truth;                 ///< origins only when it was a scenario
};
/// A scenario, or the first inspection of a record or exchange file.
TruthInput read_truth(const std::filesystem::path& file);

struct AttemptInput {
  coding::Record record;
  std::optional<play::Exercise> exercise;  ///< when it was an input log, as it was played
};
/// Asked with how many inspections the file holds; gives the number of one of them, from 1.
using WhichInspection = std::function<int(std::size_t)>;
/// The first inspection when nobody is asked.
AttemptInput read_attempt(const std::filesystem::path& file, const TruthInput& truth,
                          const WhichInspection& which = {});

/// From now on the truth is what the attempt is held to. Of what no picture shows that is what its drive came
/// to be told of; an attempt without a drive, a record, what is told before one.
void hold_to(TruthInput& truth, const AttemptInput& attempt);

scene::Scene read_scene(const std::filesystem::path& file);

/// The text of a file, or InputProblems.
std::string read_text_file(const std::filesystem::path& file);

}  // namespace haunch::cli
