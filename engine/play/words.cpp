// SPDX-License-Identifier: Apache-2.0
#include "play/words.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "base/files.hpp"
#include "base/json_document.hpp"
#include "base/words.hpp"

namespace haunch::play {
namespace {

using nlohmann::json;

class Reader {
 public:
  Reader(const base::JsonDocument& document, const coding::CodeList& list)
      : document_(document), list_(list) {}

  base::Result<Words> run() {
    const json& root = document_.root();
    for (const auto& word : root.at("ignored")) words_.ignored.insert(word.get<std::string>());
    for (const auto& word : root.at("measures")) words_.measures.insert(word.get<std::string>());
    for (const auto& word : root.at("vague")) words_.vague.insert(word.get<std::string>());
    const json& phrases = root.at("phrases");
    for (std::size_t i = 0; i < phrases.size(); ++i) phrase(phrases[i], "/phrases/" + std::to_string(i));
    if (!problems_.empty()) return problems_;
    std::set<std::string> single(words_.ignored);
    single.insert(words_.vague.begin(), words_.vague.end());
    single.insert(words_.measures.begin(), words_.measures.end());
    for (const Phrase& one : words_.phrases) single.insert(one.words.begin(), one.words.end());
    words_.single.assign(single.begin(), single.end());
    return std::move(words_);
  }

 private:
  void phrase(const json& entry, const std::string& pointer) {
    Phrase read;
    if (entry.contains("means")) read.means = meanings(entry.at("means"), pointer + "/means");
    if (entry.contains("adds")) read.adds = meanings(entry.at("adds"), pointer + "/adds");
    if (entry.contains("clock")) {
      SaidClock clock{entry.at("clock").at("from").get<int>(), {}};
      if (entry.at("clock").contains("to")) clock.to = entry.at("clock").at("to").get<int>();
      read.clock = clock;
    }
    read.joint = entry.value("joint", false);
    if (entry.contains("stretch")) read.stretch = entry.at("stretch") == "begin" ? 'A' : 'B';
    if (read.means.empty() && read.adds.empty() && !read.stands_alone()) {
      problems_.push_back(
          document_.problem(pointer, "this phrase says nothing", "means, adds, clock, joint or stretch"));
    }
    const json& say = entry.at("say");
    for (std::size_t i = 0; i < say.size(); ++i) {
      const std::string at = pointer + "/say/" + std::to_string(i);
      read.said = say[i].get<std::string>();
      read.words = base::split(read.said, ' ');
      if (read.said != base::lower(read.said) || read.said != base::join(read.words, " ") ||
          std::find(read.words.begin(), read.words.end(), "") != read.words.end()) {
        problems_.push_back(document_.problem(at, "\"" + read.said + "\" is not written plainly",
                                              "small letters, one space between words"));
      }
      const auto [found, added] = seen_.emplace(read.said, at);
      if (!added) {
        problems_.push_back(
            document_.problem(at, "\"" + read.said + "\" stands here a second time", "each phrase once"));
      }
      words_.phrases.push_back(read);
    }
  }

  std::vector<Meaning> meanings(const json& entries, const std::string& pointer) {
    std::vector<Meaning> result;
    for (std::size_t i = 0; i < entries.size(); ++i) {
      const json& entry = entries[i];
      const std::string at = pointer + "/" + std::to_string(i);
      const Meaning one{entry.at("code"), entry.value("ch1", ""), entry.value("ch2", ""),
                        entry.value("usual_ch1", ""), entry.value("usual_ch2", "")};
      const coding::CodeEntry* code = list_.find(one.code);
      if (code == nullptr) {
        problems_.push_back(
            document_.problem(at + "/code", "there is no code " + one.code, "a code of the code list"));
        continue;
      }
      check(code->ch1, one.ch1, at + "/ch1", one.code);
      check(code->ch1, one.usual_ch1, at + "/usual_ch1", one.code);
      check(code->ch2, one.ch2, at + "/ch2", one.code);
      check(code->ch2, one.usual_ch2, at + "/usual_ch2", one.code);
      result.push_back(one);
    }
    return result;
  }

  void check(const std::map<std::string, std::string>& known, const std::string& letter,
             const std::string& pointer, const std::string& code) {
    if (letter.empty() || known.contains(letter)) return;
    std::vector<std::string> letters;
    for (const auto& [one, meaning] : known) letters.push_back(one);
    problems_.push_back(
        document_.problem(pointer, code + " has no " + letter + " here",
                          letters.empty() ? "nothing" : "one of " + base::join(letters, ", ")));
  }

  const base::JsonDocument& document_;
  const coding::CodeList& list_;
  Words words_;
  base::Problems problems_;
  std::map<std::string, std::string> seen_;
};

}  // namespace

base::Result<Words> Words::read(const std::filesystem::path& path, const coding::CodeList& list) {
  const auto document = base::JsonDocument::read(path, "words");
  if (!document) return document.problems();
  return Reader(document.value(), list).run();
}

const Words& Words::shipped() {
  static const Words words = [] {
    auto read = Words::read(base::content_dir() / "coding" / "words.json", coding::CodeList::shipped());
    if (!read) throw std::runtime_error(base::to_line(read.problems().front()));
    return std::move(read).value();
  }();
  return words;
}

}  // namespace haunch::play
