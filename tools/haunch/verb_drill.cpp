// SPDX-License-Identifier: Apache-2.0
// haunch drill: one question, with its picture.
#include <nlohmann/json.hpp>

#include "base/json_document.hpp"
#include "base/words.hpp"
#include "drills/judge.hpp"
#include "drills/make.hpp"
#include "outputs.hpp"
#include "render/frame.hpp"
#include "render/renderer.hpp"
#include "verbs.hpp"

namespace haunch::cli {
namespace {

using Json = nlohmann::ordered_json;

drills::Wanted wanted_of(const po::variables_map& given) {
  drills::Wanted wanted;
  const std::string kind = text_of(given, "kind");
  const auto known = drills::kind_from(kind);
  if (!known) {
    std::vector<std::string> kinds;
    for (const auto one : drills::all_kinds()) kinds.push_back(drills::show(one));
    throw UsageError("--kind is one of \"" + base::join(kinds, "\", \"") + "\", not \"" + kind + "\"");
  }
  wanted.kind = *known;
  if (has(given, "code")) wanted.code = text_of(given, "code");
  wanted.seed = given["seed"].as<std::uint64_t>();
  wanted.ease = given["ease"].as<double>();
  if (!(wanted.ease >= 0 && wanted.ease <= 1)) throw UsageError("--ease is from 0 (hard) to 1 (easy)");
  return wanted;
}

std::string png_of(const drills::Item& item) {
  render::Renderer renderer(item.scene, 0);
  render::View view;
  view.pose = drills::pose_at(item.scene, item.clip, item.clip.seconds);
  view.width = 1280;
  view.height = 720;
  view.time_s = 1;
  return render::colour_png(renderer.draw(view));
}

std::string as_text(const drills::Item& item, bool answer) {
  std::string text = item.question + "\n";
  for (const auto& option : item.options)
    text += "  " + option.value + (option.words.empty() ? "" : "  " + option.words) + "\n";
  if (!item.unit.empty()) text += "  a number, in " + item.unit + "\n";
  if (answer) text += "Right: " + item.right + "\n" + item.why + "\n";
  return text;
}

std::string as_json(const drills::Item& item, bool answer) {
  Json options = Json::array();
  for (const auto& option : item.options)
    options.push_back({{"value", option.value}, {"words", option.words}});
  Json out = {{"kind", "drill"},
              {"edition", 1},
              {"asks", drills::show(item.wanted.kind)},
              {"seed", item.wanted.seed},
              {"instance", item.instance},
              {"question", item.question},
              {"options", options},
              {"unit", item.unit}};
  if (answer) {
    out["right"] = item.right;
    out["code"] = item.code;
    out["why"] = item.why;
    out["share_of_picture"] = item.shows ? Json(item.shows->share) : Json(nullptr);
  }
  return out.dump(1) + "\n";
}

}  // namespace

int drill(const Arguments& arguments) {
  Command command{
      "drill [--kind K] [--code C] [--seed N] [--ease E] [-o FILE.png] [--answer] [--json]",
      "Draws one question of a drill: a small pipe of its own and what is asked about it. The same\n"
      "seed gives the same picture. The answer is told with --answer only."};
  command.options.add_options()(
      "kind", po::value<std::string>()->value_name("K")->default_value("name it"),
      "\"name it\", \"clock\", \"size it\", \"water depth\", \"find bottom\", \"which of "
      "two\", \"clean or not\", \"grade it\", \"next step\"")(
      "code", po::value<std::string>()->value_name("C"), "main code that it is about; else any")(
      "seed", po::value<std::uint64_t>()->value_name("N")->default_value(1),
      "another number, another question")("ease", po::value<double>()->value_name("E")->default_value(0.5),
                                          "0 hard to 1 easy")(
      "output,o", po::value<std::string>()->value_name("FILE.png"), "the picture")(
      "answer", "tell what is right, and why")("json", "machine-readable (schema: drill)");
  add_force(command);
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  const drills::Wanted wanted = wanted_of(*given);
  std::vector<Output> outputs;
  if (has(*given, "output")) outputs.push_back({"-o", text_of(*given, "output")});
  keep_others(outputs, *given);
  const auto item = drills::make(wanted);
  if (!item) throw InputProblems(item.problems());
  if (!outputs.empty()) write_or_throw(outputs[0].file, png_of(item.value()));
  print_out(has(*given, "json") ? as_json(item.value(), has(*given, "answer"))
                                : as_text(item.value(), has(*given, "answer")));
  return done;
}

}  // namespace haunch::cli
