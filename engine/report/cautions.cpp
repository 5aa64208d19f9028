// SPDX-License-Identifier: Apache-2.0
#include "report/cautions.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "base/words.hpp"

namespace haunch::report {
namespace {

bool named(const coding::Observation& seen, const std::vector<std::string>& codes) {
  return std::any_of(codes.begin(), codes.end(), [&](const std::string& code) {
    return code == seen.code || code == seen.code + " " + seen.ch1;
  });
}

bool applies(const Caution& caution, const coding::Record& record, coding::Action action) {
  if (caution.always) return true;
  if (std::count(caution.actions.begin(), caution.actions.end(), action) > 0) return true;
  const auto made_of = [&](const std::string& material) {
    return std::count(caution.materials.begin(), caution.materials.end(), material) > 0;
  };
  if (made_of(record.header_value("ACD").value_or(""))) return true;
  return std::any_of(record.observations.begin(), record.observations.end(),
                     [&](const coding::Observation& seen) {
                       return named(seen, caution.codes) || (seen.code == "AED" && made_of(seen.ch1));
                     });
}

}  // namespace

base::Result<std::vector<Caution>> read_cautions(const std::filesystem::path& path) {
  base::Result<base::JsonDocument> read = base::JsonDocument::read(path, "cautions");
  if (!read.ok()) return read.problems();
  const base::JsonDocument& document = read.value();
  std::vector<Caution> cautions;
  base::Problems problems;
  const nlohmann::json& list = document.root().at("cautions");
  for (std::size_t i = 0; i < list.size(); ++i) {
    const nlohmann::json& entry = list[i];
    Caution caution;
    caution.id = entry.at("id").get<std::string>();
    caution.always = entry.value("always", false);
    caution.codes = entry.value("codes", std::vector<std::string>());
    caution.materials = entry.value("materials", std::vector<std::string>());
    const auto actions = entry.value("actions", std::vector<std::string>());
    for (std::size_t k = 0; k < actions.size(); ++k) {
      if (const auto action = coding::action_from(actions[k])) {
        caution.actions.push_back(*action);
      } else {
        std::vector<std::string> known;
        for (const coding::Action one : coding::all_actions())
          known.push_back("\"" + coding::show(one) + "\"");
        problems.push_back(
            document.problem("/cautions/" + std::to_string(i) + "/actions/" + std::to_string(k),
                             "\"" + actions[k] + "\" is not an action", "one of " + base::join(known, ", ")));
      }
    }
    caution.heading = entry.at("heading").get<std::string>();
    caution.text = entry.at("text").get<std::string>();
    caution.source = entry.at("source").get<std::string>();
    cautions.push_back(std::move(caution));
  }
  if (!problems.empty()) return problems;
  return cautions;
}

const std::vector<Caution>& shipped_cautions() {
  static const std::vector<Caution> cautions = [] {
    auto read = read_cautions(base::content_dir() / "report" / "cautions.json");
    if (!read.ok()) throw std::runtime_error(base::to_line(read.problems().front()));
    return std::move(read).value();
  }();
  return cautions;
}

std::vector<Caution> cautions_for(const coding::Record& record, coding::Action action,
                                  const std::vector<Caution>& all) {
  std::vector<Caution> chosen;
  std::copy_if(all.begin(), all.end(), std::back_inserter(chosen),
               [&](const Caution& caution) { return applies(caution, record, action); });
  return chosen;
}

}  // namespace haunch::report
