// SPDX-License-Identifier: Apache-2.0
// Safety cautions that go with what was found (content/report/cautions.json).
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "coding/record.hpp"

namespace haunch::report {

struct Caution {
  std::string id;
  bool always = false;
  std::vector<std::string> codes;       ///< "BBE" or, with characterisation 1, "BBE G"
  std::vector<std::string> materials;   ///< header ACD, or characterisation of a material change (AED)
  std::vector<coding::Action> actions;  ///< what should be done next
  std::string heading, text, source;
};

base::Result<std::vector<Caution>> read_cautions(const std::filesystem::path& path);
/// Throws std::runtime_error when the content folder is damaged.
const std::vector<Caution>& shipped_cautions();

/// Those that apply, in the file's order: the ones for always, and the ones that the record or the
/// action calls for.
std::vector<Caution> cautions_for(const coding::Record& record, coding::Action action,
                                  const std::vector<Caution>& all);

}  // namespace haunch::report
