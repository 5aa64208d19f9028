// SPDX-License-Identifier: Apache-2.0
#include "drills/library.hpp"

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "base/json_document.hpp"
#include "guide/plates.hpp"

namespace haunch::drills {
namespace {

using Json = nlohmann::json;
constexpr double usual_ahead_m = 0.28;  // as the guide has it

Library read() {
  const auto document = base::JsonDocument::read(guide::shipped_plates(), "plates");
  if (!document)
    throw std::runtime_error("the content folder is damaged: " + base::to_line(document.problems().front()));
  const Json& root = document.value().root();
  Library library;
  library.clean = root.at("base").dump();
  for (const Json& plate : root.at("plates")) {
    // Seen alone it looks like a bend: a person finds out by driving on.
    if (plate.at("code") == "BCE C") continue;
    Form form;
    form.code = plate.at("code").get<std::string>();
    form.main = form.code.substr(0, 3);
    form.materials = plate.at("materials").get<std::vector<std::string>>();
    Json run = root.at("base");
    run.merge_patch(plate.at("run"));
    form.run = run.dump();
    const Json look = plate.value("look", Json::object());
    if (look.contains("at_m")) form.at_m = look.at("at_m").get<double>();
    form.ahead_m = look.value("ahead_m", usual_ahead_m);
    form.yaw_deg = look.value("yaw_deg", 0.0);
    form.pitch_deg = look.value("pitch_deg", 0.0);
    if (!library.of.contains(form.main)) library.codes.push_back(form.main);
    library.of[form.main].push_back(library.forms.size());
    library.forms.push_back(std::move(form));
  }
  return library;
}

}  // namespace

const Library& Library::shipped() {
  static const Library library = read();
  return library;
}

}  // namespace haunch::drills
