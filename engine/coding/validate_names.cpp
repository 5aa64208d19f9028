// SPDX-License-Identifier: Apache-2.0
// What refers to observations by name.
#include <algorithm>

#include "base/words.hpp"
#include "coding/remarks_on.hpp"

namespace haunch::coding {
namespace {

/// Names among which the nearest is looked for; more are a file that no person wrote, and take long.
constexpr std::size_t suggestions_among = 2000;

using Names = std::vector<std::pair<std::string_view, std::size_t>>;  ///< in alphabetical order

bool contains(const Names& names, std::string_view wanted) {
  const auto found = std::lower_bound(names.begin(), names.end(), std::pair(wanted, std::size_t{0}));
  return found != names.end() && found->first == wanted;
}

/// "o1", "o2" .. "o10", as readers give them: none is taken twice.
bool grow(const std::vector<Observation>& observations) {
  for (std::size_t i = 1; i < observations.size(); ++i) {
    const std::string &a = observations[i - 1].id, &b = observations[i].id;
    if (a.size() > b.size() || (a.size() == b.size() && a >= b)) return false;
  }
  return true;
}

}  // namespace

void check_names(RemarksOn& remarks) {
  const auto& observations = remarks.record.observations;
  if (!remarks.record.judgement && remarks.record.not_visible.empty() && grow(observations)) return;
  Names names;
  names.reserve(observations.size());
  for (std::size_t i = 0; i < observations.size(); ++i)
    if (!observations[i].id.empty()) names.emplace_back(observations[i].id, i);
  std::sort(names.begin(), names.end());
  for (std::size_t k = 1; k < names.size(); ++k)
    if (names[k].first == names[k - 1].first)
      remarks.row(Rule::name_taken, names[k].second,
                  "the name \"" + std::string(names[k].first) + "\" is taken by another observation",
                  "a name of its own");
  const auto& judgement = remarks.record.judgement;
  if (!judgement && remarks.record.not_visible.empty()) return;

  std::vector<std::string> there;
  for (const auto& [name, index] : names)
    if (there.empty() || there.back() != name) there.emplace_back(name);
  const auto check = [&](const std::string& id, const std::string& where,
                         const std::vector<base::Place>& places, std::size_t index) {
    if (contains(names, id)) return;
    remarks.at(places, index, Rule::name_nowhere,
               where + " names an observation \"" + id + "\" that is not there", "the id of an observation",
               there.size() > suggestions_among ? std::string() : base::only_nearest_word(id, there));
  };
  if (judgement)
    for (std::size_t i = 0; i < judgement->classes.size(); ++i)
      check(judgement->classes[i].observation, "the judgement", remarks.places.classes, i);
  for (std::size_t i = 0; i < remarks.record.not_visible.size(); ++i)
    check(remarks.record.not_visible[i].observation, "the list of what could not be seen",
          remarks.places.not_visible, i);
}

}  // namespace haunch::coding
