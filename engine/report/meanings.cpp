// SPDX-License-Identifier: Apache-2.0
#include "report/meanings.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "base/words.hpp"

namespace haunch::report {

using Json = nlohmann::json;

struct MeaningsReader {
  const base::JsonDocument& document;
  Meanings meanings{};
  base::Problems problems{};

  void wrong(const std::string& pointer, const std::string& what, const std::string& expected) {
    problems.push_back(document.problem(pointer, what, expected));
  }

  void read_next() {
    const Json& list = document.root().at("next");
    std::optional<coding::Action> before;
    for (std::size_t i = 0; i < list.size(); ++i) {
      NextStep step{list[i].at("id").get<std::string>(),
                    list[i].at("action").get<std::string>(),
                    coding::action_from(list[i].at("action").get<std::string>()),
                    list[i].at("heading").get<std::string>(),
                    list[i].at("text").get<std::string>(),
                    list[i].at("source").get<std::string>(),
                    list[i].value("after", list[i].at("text").get<std::string>())};
      const std::string pointer = "/next/" + std::to_string(i);
      if (index(step.id)) wrong(pointer + "/id", "\"" + step.id + "\" stands here twice", "each id once");
      // The actions have an order of care of their own, and this list must not turn it round.
      if (step.action && before &&
          (*step.action < *before || (*step.action == *before && *before != coding::Action::carry_on)))
        wrong(pointer + "/action",
              "\"" + coding::show(*step.action) + "\" after \"" + coding::show(*before) + "\"",
              "actions from the least to the most careful, each once but \"carry on\"");
      if (step.action) before = step.action;
      meanings.next_.push_back(std::move(step));
    }
    for (const coding::Action action : coding::all_actions()) {
      const bool there = std::any_of(meanings.next_.begin(), meanings.next_.end(),
                                     [&](const NextStep& step) { return step.action == action; });
      if (!there)
        wrong("/next", "nothing stands for \"" + coding::show(action) + "\"", "one step for each action");
    }
  }

  std::optional<std::size_t> index(const std::string& id) const {
    for (std::size_t i = 0; i < meanings.next_.size(); ++i)
      if (meanings.next_[i].id == id) return i;
    return {};
  }

  std::size_t next_at(const Json& json, const std::string& pointer, const char* key, std::size_t otherwise) {
    if (!json.contains(key)) return otherwise;
    const std::string id = json.at(key).get<std::string>();
    if (const auto found = index(id)) return *found;
    std::vector<std::string> ids;
    for (const NextStep& step : meanings.next_) ids.push_back("\"" + step.id + "\"");
    wrong(pointer + "/" + key, "\"" + id + "\" is not among what can come next",
          "one of " + base::join(ids, ", "));
    return otherwise;
  }

  void read_words(Meaning& meaning, const Json& json, const std::string& pointer) {
    meaning.title = json.value("title", meaning.title);
    meaning.brief = json.value("short", meaning.brief);
    meaning.what = json.value("what", meaning.what);
    meaning.leads_to = json.value("leads_to", meaning.leads_to);
    meaning.then = json.value("then", meaning.then);
    // A letter's own words for `then` must not be passed over for its code's.
    meaning.watched = json.value(
        "watched", json.contains("then") && !json.contains("code") ? std::string() : meaning.watched);
    meaning.source = json.value("source", meaning.source);
    meaning.usually = next_at(json, pointer, "usually", meaning.usually);
    meaning.when_severe =
        std::max(next_at(json, pointer, "when_severe", meaning.when_severe), meaning.usually);
  }

  void read_codes() {
    const Json& list = document.root().at("codes");
    for (std::size_t i = 0; i < list.size(); ++i) {
      const Json& json = list[i];
      const std::string pointer = "/codes/" + std::to_string(i);
      Meaning meaning;
      meaning.code = json.at("code").get<std::string>();
      const std::string kind = json.at("kind").get<std::string>();
      meaning.kind = kind == "part" ? Kind::part : kind == "note" ? Kind::note : Kind::finding;
      if (json.contains("finding_from_q1"))
        meaning.finding_from_q1 = json.at("finding_from_q1").get<double>();
      if (json.contains("ask_from_q1")) meaning.ask_from_q1 = json.at("ask_from_q1").get<double>();
      read_words(meaning, json, pointer);
      if (!meanings.by_code_.emplace(meaning.code, meaning).second)
        wrong(pointer + "/code", "\"" + meaning.code + "\" stands here twice", "each code once");
      if (!json.contains("ch1")) continue;
      for (const auto& [letter, words] : json.at("ch1").items()) {
        Meaning special = meaning;
        special.ch1 = letter;
        read_words(special, words, pointer + "/ch1/" + letter);
        meanings.by_code_.emplace(meaning.code + " " + letter, std::move(special));
      }
    }
  }

  void read_materials() {
    const Json& list = document.root().at("materials");
    for (std::size_t i = 0; i < list.size(); ++i)
      meanings.materials_.push_back({list[i].at("codes").get<std::vector<std::string>>(),
                                     next_at(list[i], "/materials/" + std::to_string(i), "next", 0),
                                     list[i].at("why").get<std::string>(),
                                     list[i].at("source").get<std::string>()});
  }

  void read_remark_signs() {
    const Json& list = document.root().at("remark_signs");
    for (std::size_t i = 0; i < list.size(); ++i) {
      RemarkSign sign;
      sign.meaning.title = list[i].at("title").get<std::string>();
      sign.meaning.source = list[i].at("source").get<std::string>();
      sign.next = next_at(list[i], "/remark_signs/" + std::to_string(i), "next", 0);
      sign.together = list[i].at("together").get<std::vector<std::vector<std::string>>>();
      sign.within_words = list[i].value("within_words", std::size_t{0});
      sign.in_order = list[i].value("in_order", false);
      meanings.remark_signs_.push_back(std::move(sign));
    }
  }

  void read_signs() {
    for (const Json& one : document.root().at("signs"))
      meanings.signs_.push_back({one.at("heading").get<std::string>(), one.at("text").get<std::string>(),
                                 one.at("source").get<std::string>()});
  }
};

base::Result<Meanings> Meanings::read(const std::filesystem::path& path) {
  base::Result<base::JsonDocument> read = base::JsonDocument::read(path, "meanings");
  if (!read.ok()) return read.problems();
  MeaningsReader reader{read.value()};
  reader.read_next();
  for (const char* id : {"watch", "inspect the rest", "ask", "ask within days"})
    if (!reader.index(id))
      reader.wrong("/next", std::string("no step has the id \"") + id + "\"",
                   "one, which the page counts on");
  reader.read_codes();
  reader.read_materials();
  reader.read_remark_signs();
  reader.read_signs();
  if (!reader.problems.empty()) return reader.problems;
  return std::move(reader.meanings);
}

const Meanings& Meanings::shipped() {
  static const Meanings meanings = [] {
    auto read = Meanings::read(base::content_dir() / "report" / "meanings.json");
    if (!read.ok()) throw std::runtime_error(base::to_line(read.problems().front()));
    return std::move(read).value();
  }();
  return meanings;
}

const Meaning& Meanings::of(std::string_view code, std::string_view ch1) const {
  const auto special = by_code_.find(std::string(code) + " " + std::string(ch1));
  if (special != by_code_.end()) return special->second;
  const auto general = by_code_.find(code);
  if (general != by_code_.end()) return general->second;
  static const Meaning unknown{"",
                               "",
                               Kind::finding,
                               {},
                               {},
                               "Something the list of codes does not have",
                               "The record uses a code that is not known here.",
                               "That cannot be told.",
                               "Ask whoever wrote the record.",
                               "ours",
                               {},
                               {},
                               0,
                               0};
  return unknown;
}

bool Meanings::knows(std::string_view code) const { return by_code_.contains(code); }

std::size_t Meanings::next_for(coding::Action action) const {
  for (std::size_t i = 0; i < next_.size(); ++i)
    if (next_[i].action == action) return i;
  return 0;
}

std::size_t Meanings::step(std::string_view id) const {
  for (std::size_t i = 0; i < next_.size(); ++i)
    if (next_[i].id == id) return i;
  return 0;
}

}  // namespace haunch::report
