// SPDX-License-Identifier: Apache-2.0
// Every main code with every two characterisations there could be: those of the list are accepted, all
// others are refused. What the list has is read from its file here, apart from the reader under test.
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "base/files.hpp"
#include "coding/records.hpp"

namespace haunch::coding {
namespace {

using Json = nlohmann::json;
using Pair = std::pair<std::string, std::string>;

/// "", A to Z, AA to ZZ.
std::vector<std::string> letters_up_to_two() {
  std::vector<std::string> out{""};
  for (char a = 'A'; a <= 'Z'; ++a) out.emplace_back(1, a);
  for (char a = 'A'; a <= 'Z'; ++a)
    for (char b = 'A'; b <= 'Z'; ++b) out.push_back({a, b});
  return out;
}

struct Wanted {
  std::map<std::string, std::map<Pair, Fit>> of_code;

  Fit of(const std::string& code, const std::string& ch1, const std::string& ch2) const {
    const auto& pairs = of_code.at(code);
    const auto found = pairs.find({ch1, ch2});
    return found == pairs.end() ? Fit::unknown : found->second;
  }
};

Json shipped_file() {
  std::ifstream file(base::content_dir() / "coding" / "en13508-2.json");
  return Json::parse(file);
}

std::vector<std::string> keys(const Json& file, const Json& code, const char* which) {
  std::vector<std::string> out;
  if (!code.contains(which)) return out;
  if (code[which].is_string()) {
    for (const Json& one : file[code[which].get<std::string>()]) out.push_back(one["code"]);
  } else {
    for (const auto& [letter, meaning] : code[which].items()) out.push_back(letter);
  }
  return out;
}

/// The file spelt out. A missing letter is refused as one that is unknown.
Wanted wanted() {
  Wanted all;
  const Json file = shipped_file();
  for (const Json& code : file["codes"]) {
    auto& pairs = all.of_code[code["code"]];
    const auto ch1 = keys(file, code, "ch1"), ch2 = keys(file, code, "ch2");
    const std::string when = code.value("ch2_when", "");
    // Y marks a translation wherever a characterisation stands at all.
    if (!ch1.empty()) {
      std::vector<std::string> seconds{""};
      if (!ch2.empty()) {
        seconds.insert(seconds.end(), ch2.begin(), ch2.end());
        seconds.push_back("Y");
      }
      for (const std::string& second : seconds) pairs[{"Y", second}] = Fit::translated;
      for (const std::string& first : ch1)
        if (!ch2.empty()) pairs[{first, "Y"}] = Fit::translated;
      if (!ch2.empty()) pairs[{"", "Y"}] = Fit::translated;
    }
    if (ch1.empty()) pairs[{"", ""}] = Fit::good;
    for (const std::string& first : ch1) {
      const bool applies = !ch2.empty() && (when.empty() || when == "optional" || when == "ch1=" + first ||
                                            (when.rfind("except", 0) == 0 && when != "except ch1=" + first));
      if (!applies || when == "optional") pairs[{first, ""}] = Fit::good;
      for (const std::string& second : ch2) {
        if (applies)
          pairs[{first, second}] = Fit::good;
        else if (when.rfind("ch1=", 0) == 0)
          pairs[{first, second}] = Fit::in_one_list;
      }
    }
    for (const Json& habit : code.value("habits", Json::array()))
      for (const std::string pair : habit["pairs"]) pairs[{pair.substr(0, 1), pair.substr(1)}] = Fit::habit;
    for (const std::string pair : code.value("in_one_list", Json::array()))
      pairs[{pair.substr(0, 1), pair.empty() ? "" : pair.substr(1)}] = Fit::in_one_list;
  }
  return all;
}

TEST(EveryCode, ItsPairsFitAndNoOther) {
  const Wanted all = wanted();
  const auto letters = letters_up_to_two();
  std::size_t accepted = 0, refused = 0;
  for (const CodeEntry& entry : CodeList::shipped().codes())
    for (const std::string& ch1 : letters)
      for (const std::string& ch2 : letters) {
        Fit found = fit(entry, ch1, ch2);
        if (found == Fit::missing) {
          ASSERT_TRUE(ch1.empty() || (ch2.empty() && entry.ch1.contains(ch1)))
              << entry.code << ' ' << ch1 << ch2;
          found = Fit::unknown;
        }
        ASSERT_EQ(found, all.of(entry.code, ch1, ch2)) << entry.code << " \"" << ch1 << "\" \"" << ch2 << '"';
        ++(found == Fit::unknown ? refused : accepted);
      }
  EXPECT_EQ(accepted + refused, 43U * 703U * 703U);
  EXPECT_GT(accepted, 400U);
}

/// One letter each, and two letters beside none: each a row of a record, refused or not by `validate`.
TEST(EveryCode, IsRefusedOrNotByValidation) {
  const Wanted all = wanted();
  const auto letters = letters_up_to_two();
  for (const CodeEntry& entry : CodeList::shipped().codes()) {
    Record record = with({});
    RecordPlaces places;
    record.observations.clear();
    for (const std::string& ch1 : letters)
      for (const std::string& ch2 : letters) {
        if (ch1.size() + ch2.size() > 2) continue;
        record.observations.push_back(make(1, entry.code, ch1, ch2));
        places.observations.push_back({"r", static_cast<int>(record.observations.size()), 1});
      }
    std::map<int, base::Severity> worst;
    for (const Remark& one : remarks_on(record, CodeList::shipped(), "r", places)) {
      const bool of_letters = words_of(one.rule).group == "letters" || one.rule == Rule::letter_unknown ||
                              one.rule == Rule::letter_missing;
      if (!of_letters) {
        ASSERT_NE(one.problem.severity, base::Severity::error) << base::to_line(one.problem);
        continue;
      }
      auto [at, first] = worst.emplace(one.problem.place.line, one.problem.severity);
      if (!first) at->second = std::min(at->second, one.problem.severity);
    }
    for (std::size_t i = 0; i < record.observations.size(); ++i) {
      const Observation& one = record.observations[i];
      const Fit fits = all.of(entry.code, one.ch1, one.ch2);
      const auto found = worst.find(static_cast<int>(i) + 1);
      const bool refused = found != worst.end() && found->second == base::Severity::error;
      ASSERT_EQ(refused, fits == Fit::unknown) << show_code(one);
      if (fits == Fit::good) {
        ASSERT_TRUE(found == worst.end()) << show_code(one);
      }
      // The material of a change may stand in its remark.
      if (fits != Fit::good && !refused && !(entry.code == "AED" && one.ch1.empty())) {
        ASSERT_TRUE(found != worst.end()) << show_code(one) << " is accepted without a word";
      }
    }
  }
}

}  // namespace
}  // namespace haunch::coding
