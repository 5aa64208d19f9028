// SPDX-License-Identifier: Apache-2.0
// Made-up attempts and a folder that goes away after the test.
#pragma once

#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>

#include "scores/store.hpp"

namespace haunch::scores::test {

class Folder {
 public:
  Folder() {
    std::string pattern = (std::filesystem::temp_directory_path() / "haunch-scores-XXXXXX").string();
    if (::mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no temporary folder");
    path_ = pattern;
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  std::filesystem::path operator/(const std::string& name) const { return path_ / name; }

 private:
  std::filesystem::path path_;
};

inline Attempt sample(const std::string& id, const std::string& trainee = "coder-07") {
  Attempt a;
  a.id = id;
  a.trainee = trainee;
  a.finished_at = "2026-03-02T09:40:00Z";
  a.scenario = "Canteen branch";
  a.scenario_hash = "00ff00ff00ff00ff";
  a.program = "0.1.0";
  a.rules_hash = "1111111111111111";
  a.scheme_hash = "2222222222222222";
  a.code_list_hash = "3333333333333333";
  a.score = 71.25;
  a.hits = 6;
  a.missed = 2;
  a.invented = 1;
  a.classes_right = 7;
  a.classes_asked = 9;
  a.classes_right_firm = 2;
  a.classes_asked_firm = 3;
  a.action_right = true;
  a.record_json = R"({"kind": "record", "of": ")" + id + "\"}";
  a.marking_json = R"({"score": 71.25})";
  a.input_log = "{\"tick\":0}\n{\"tick\":12}\n";
  a.mode = "exam";
  a.sitting = "s1";
  return a;
}

inline Answer sample_answer(const std::string& id) {
  Answer a;
  a.id = id;
  a.trainee = "coder-07";
  a.answered_at = "2026-03-02T09:40:00Z";
  a.kind = "name it";
  a.skill = "named";
  a.code = "BAB";
  a.instance = "00ff";
  a.given = "BAC";
  a.right = "BAB";
  a.credit = 0.25;
  a.guess = 0.2;
  a.seconds = 3.5;
  a.share = 0.02;
  a.contrast = 0.3;
  a.hidden = 0;
  a.in_view_s = 4;
  a.sitting = "s1";
  return a;
}

}  // namespace haunch::scores::test
