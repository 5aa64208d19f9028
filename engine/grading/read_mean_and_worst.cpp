// SPDX-License-Identifier: Apache-2.0
// The section of a scheme file that procedure "mean score and worst" needs.
#include <nlohmann/json.hpp>

#include "base/words.hpp"
#include "grading/scheme_reader.hpp"

namespace haunch::grading {
namespace {

using Json = nlohmann::json;

Scale scale_of(SchemeReader& reader, const Json& json, const std::string& pointer) {
  Scale scale;
  scale.id = json.at("id").get<std::string>();
  scale.name = json.at("name").get<std::string>();
  scale.above = reader.bounds(json.at("above"), pointer + "/above");
  scale.meaning = reader.meanings(json.at("meaning"), pointer + "/meaning");
  scale.mark = reader.mark_of(json, pointer);
  reader.mark_of(json, pointer, "meaning_source");
  return scale;
}

Density density_of(SchemeReader& reader, const Json& json, const std::string& pointer) {
  Density density{json.at("id").get<std::string>(),
                  json.at("name").get<std::string>(),
                  json.at("low").get<double>(),
                  json.at("high").get<double>(),
                  json.at("below_low").get<std::string>(),
                  json.at("between").get<std::string>(),
                  json.at("above_high").get<std::string>(),
                  reader.mark_of(json, pointer)};
  if (density.low >= density.high)
    reader.problem(pointer + "/high", "the high bound is not above the low one",
                   "a number above " + base::show_number(density.low));
  return density;
}

void read_importance(SchemeReader& reader, const Json& json, const std::string& pointer,
                     std::set<std::string>& ids) {
  Importance read;
  read.id = json.at("id").get<std::string>();
  read.what = json.at("what").get<std::string>();
  read.field = json.value("field", "");
  if (json.contains("counts_from")) read.counts_from = json.at("counts_from").get<double>();
  if (json.contains("counts_above")) read.counts_above = json.at("counts_above").get<double>();
  reader.once(pointer + "/id", "two of them are called", ids, read.id);
  const SiteField* field = read.field.empty() ? nullptr : reader.field_known(pointer + "/field", read.field);
  std::set<std::string> seen;
  for (std::size_t i = 0; i < json.at("options").size(); ++i) {
    const Json& option = json.at("options")[i];
    const std::string here = pointer + "/options/" + std::to_string(i);
    ImportanceOption one;
    one.criterion = option.at("criterion").get<std::string>();
    one.when = option.value("when", "");
    if (option.contains("bore_above_mm")) one.bore_above_mm = option.at("bore_above_mm").get<double>();
    if (option.contains("bore_from_mm")) one.bore_from_mm = option.at("bore_from_mm").get<double>();
    one.value = option.at("value").get<double>();
    one.mark = reader.mark_of(option, here);
    if (read.field.empty() != one.when.empty())
      reader.problem(here,
                     read.field.empty() ? "the bore decides here, not a value of the site"
                                        : "it does not say for which value of the site it holds",
                     read.field.empty() ? "no \"when\"" : "\"when\"");
    else if (!one.when.empty())
      reader.option_known(here + "/when", field, one.when, seen);
    read.options.push_back(std::move(one));
  }
  reader.inside.mean_and_worst.importance.push_back(std::move(read));
}

void read_judged(SchemeReader& reader, const Json& json, const std::string& pointer,
                 const std::set<std::string>& importance, std::set<std::string>& goals) {
  Judged judged;
  judged.goal = json.at("goal").get<std::string>();
  reader.goal_known(pointer + "/goal", judged.goal);
  reader.once(pointer + "/goal", "two judgements are for", goals, judged.goal);
  judged.scale = scale_of(reader, json, pointer);
  judged.density = density_of(reader, json.at("density"), pointer + "/density");
  const Json& index = json.at("index");
  judged.index.scale = scale_of(reader, index, pointer + "/index");
  judged.index.of_number = index.at("of_number").get<double>();
  for (const auto& [id, share] : index.at("of").items()) {
    judged.index.of_importance[id] = share.get<double>();
    if (!importance.contains(id))
      reader.problem(pointer + "/index/of/" + id, "\"" + id + "\" is none of \"importance\"",
                     base::join({importance.begin(), importance.end()}, ", "));
  }
  reader.inside.mean_and_worst.judged.push_back(std::move(judged));
}

}  // namespace

void read_mean_and_worst(SchemeReader& reader) {
  MeanAndWorst& tables = reader.inside.mean_and_worst;
  const std::string counting = "/mean_score/counting";
  const auto number = [&](const char* key, double& value, Mark& mark) {
    const std::string pointer = counting + "/" + key;
    const Json* json = reader.sound(pointer);
    if (json == nullptr) return;
    value = json->at("value").get<double>();
    mark = reader.mark_of(*json, pointer);
  };
  Mark most, factor;
  number("least_length_m", tables.least_length_m, tables.length);
  number("together_within_m", tables.together_within_m, tables.together);
  number("most_together", tables.most_together, most);
  number("close_within_m", tables.close_within_m, tables.close);
  number("close_factor", tables.close_factor, factor);
  tables.together.provisional = tables.together.provisional || most.provisional;
  tables.close.provisional = tables.close.provisional || factor.provisional;
  if (reader.sound(counting) != nullptr && tables.close_within_m < tables.together_within_m)
    reader.problem(counting + "/close_within_m/value",
                   "what is close lies nearer than what is counted together",
                   "at least " + base::show_number(tables.together_within_m));
  std::set<std::string> ids, goals;
  reader.each("/mean_score/importance", [&](const Json& json, const std::string& pointer) {
    read_importance(reader, json, pointer, ids);
  });
  reader.each("/mean_score/judged", [&](const Json& json, const std::string& pointer) {
    read_judged(reader, json, pointer, ids, goals);
  });
  for (std::size_t i = 0; i < reader.inside.rows.size(); ++i) {
    const Row& row = reader.inside.rows[i];
    std::set<int> classes;
    for (const auto& [grade, bound] : row.bounds) classes.insert(grade);
    for (const auto& grade : {row.flat, row.otherwise, row.without_size})
      if (grade) classes.insert(*grade);
    for (const int grade : classes)
      if (!row.scores.contains(grade))
        reader.problem(reader.row_pointer(i),
                       "row \"" + row.id + "\" gives class " + std::to_string(grade) + ", which has no score",
                       "a \"table\" with a score for it");
  }
}

}  // namespace haunch::grading
