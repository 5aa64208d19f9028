// SPDX-License-Identifier: Apache-2.0
// haunch guide: pictures of each code.
#include <algorithm>
#include <iostream>

#include "base/words.hpp"
#include "guide/sheet.hpp"
#include "outputs.hpp"
#include "verbs.hpp"

namespace haunch::cli {
namespace {

bool wanted(const guide::Plate& plate, const std::vector<std::string>& only) {
  return only.empty() || std::any_of(only.begin(), only.end(), [&](const std::string& begins) {
           return base::lower(plate.name).starts_with(base::lower(begins));
         });
}

std::vector<std::string> names_of(const po::variables_map& given) {
  return given.count("only") == 0 ? std::vector<std::string>{} : given["only"].as<std::vector<std::string>>();
}

}  // namespace

int guide(const Arguments& arguments) {
  Command command{
      "guide --sheet --out DIR [options]",
      "Draws a picture for each code and characterisation that can be seen, without a word on it, named\n"
      "after what it shows (BAB-C-A-clay.png), and index.json, which says the code, sizes, clock and place\n"
      "of each (schema: sheet). To test yourself or a colleague, hide the names. Takes some minutes."};
  command.options.add_options()("sheet", "pictures without labels, and their index")(
      "out", po::value<std::string>()->value_name("DIR"), "the folder, made when it is not there")(
      "only", po::value<std::vector<std::string>>()->value_name("NAME")->composing(),
      "only what begins so (BAB, BAB-C); as often as needed")(
      "plates", po::value<std::string>()->value_name("FILE"), "plates of your own (schema: plates)");
  add_force(command);
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  for (const char* name : {"sheet", "out"})
    if (!has(*given, name))
      throw UsageError("missing: --" + std::string(name) + "; usage: haunch " + command.call);

  guide::Plates plates = need(guide::read_plates(
      has(*given, "plates") ? std::filesystem::path(text_of(*given, "plates")) : guide::shipped_plates()));
  const std::vector<std::string> only = names_of(*given);
  std::erase_if(plates.plates, [&](const guide::Plate& plate) { return !wanted(plate, only); });
  if (plates.plates.empty()) throw UsageError("--only: no plate's name begins so");

  const std::filesystem::path folder = text_of(*given, "out");
  std::vector<Output> outputs{{"--out", folder / "index.json"}};
  for (const guide::Plate& plate : plates.plates)
    outputs.push_back({"--out", folder / (plate.name + ".png")});
  keep_others(outputs, *given);
  std::filesystem::create_directories(folder);
  for (const guide::Plate& plate : plates.plates)
    write_or_throw(folder / (plate.name + ".png"), guide::draw_plate(plate));
  write_or_throw(folder / "index.json", guide::sheet_index(plates));
  print_out(counted(plates.plates.size(), "picture") + " and index.json in " + folder.string() + "\n");
  return done;
}

}  // namespace haunch::cli
