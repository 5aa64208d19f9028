// SPDX-License-Identifier: Apache-2.0
#include "grading/procedure.hpp"

#include <algorithm>

#include "base/words.hpp"

namespace haunch::grading {
namespace {

constexpr Procedure procedures[] = {
    {"three goals", run_three_goals, read_three_goals},
    {"mean score and worst", run_mean_and_worst, read_mean_and_worst},
};

}  // namespace

const Procedure* procedure_named(std::string_view name) {
  for (const Procedure& procedure : procedures)
    if (procedure.name == name) return &procedure;
  return nullptr;
}

std::vector<std::string> procedure_names() {
  std::vector<std::string> names;
  for (const Procedure& procedure : procedures) names.emplace_back(procedure.name);
  return names;
}

void Work::missing(const std::string& what) {
  if (std::find(grade.missing.begin(), grade.missing.end(), what) == grade.missing.end())
    grade.missing.push_back(what);
}

std::string unseen_words(const Grade& grade) {
  if (grade.not_inspected.empty()) return {};
  return "not wholly inspected (" + base::join(grade.not_inspected, "; ") +
         "): no class can be given for what was not seen";
}

}  // namespace haunch::grading
