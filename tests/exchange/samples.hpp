// SPDX-License-Identifier: Apache-2.0
// Files of our own writing and random records; every place and number is invented.
#pragma once

#include <string>
#include <vector>

#include "base/random.hpp"
#include "base/result.hpp"
#include "coding/record.hpp"

namespace haunch::exchange::test {

inline const std::string sample_text =
    "#A1=ISO-8859-1\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n"
    "#B01=AAA;AAD;AAF;AAK;AAN;ABA;ABF;ABG\n"
    "K3-K4;K3;K4;A;Upper Sallow;EN 13508-2:2003+A1:2011;2026-04-11;10:05\n"
    "#B02=ACA;ACB;ACD;ACK\n"
    "A;150;AE;A\n"
    "#C=I;A;B;C;D;G;H;J;K;F;M\n"
    "0.00;BCD;A;;;;;;;\"K3; under the ramp\";\n"
    "2.40;BAB;B;A;1.5;12;;A1;;;p01\n"
    "5.10;BBA;B;;5;9;12;;;;\n"
    "6.30;BAB;B;A;2.0;12;;B1;;;\n"
    "7.00;BCA;A;A;100;10;;;;\"says \"\"foul\"\" on plan\";\n"
    "12.50;BCE;A;;;;;;;K4;\n"
    "#Z\n"
    "#B01=AAA;AAK\n"
    "K4-K5;B\n"
    "#C=I;A;B;F\n"
    "0;BCD;A;\n"
    "3.2;BDC;A;a beam across the bore\n"
    "#Z\n";

inline std::vector<std::string> lines(const base::Problems& problems) {
  std::vector<std::string> out;
  for (const auto& problem : problems) out.push_back(base::to_line(problem));
  return out;
}

/// Characters that trip readers: separators, quotes, marks, other scripts, formulas.
inline std::string random_text(base::Random& random, bool breaks) {
  static const std::vector<std::string> pieces{
      "a", "Z", "7",  " ",  ";",  ",", "\"", "'", "#B01=", "=1+1", "@x", "-",   "é",   "ß",
      "€", "|", "\\", "\t", "a1", "#", "{",  "}", "管",    "😀",    ".x", "+49", "x\"", "''"};
  std::string text;
  for (std::uint32_t n = random.below(6); n > 0; --n)
    text += pieces[random.below(static_cast<std::uint32_t>(pieces.size()))];
  if (breaks && random.below(5) == 0) text += "\nsecond line";
  return text;
}

inline std::string random_word(base::Random& random, std::uint32_t longest) {
  std::string word;
  for (std::uint32_t n = random.below(longest + 1); n > 0; --n)
    word += static_cast<char>('A' + random.below(26));
  return word;
}

inline coding::Number random_number(base::Random& random, bool distance) {
  switch (random.below(distance ? 3U : 5U)) {
    case 0:
      return static_cast<double>(random.below(1000)) / 100;
    case 1:
      return coding::Number::from_text(std::to_string(random.below(50)) + ".50");
    case 2:
      return random.uniform(-1, 1000);
    case 3:
      return {};
    default:
      return coding::Number::from_text("K" + std::to_string(random.below(9)));
  }
}

struct Holds {
  bool breaks = false;          ///< line breaks within text
  bool only_text_form = false;  ///< nothing that exchange text has no place for
  bool judgement = false;
};

inline coding::Record random_record(std::uint64_t seed, const Holds& holds) {
  base::Random random(seed);
  coding::Record record;
  static const std::vector<std::string> codes{"AAA", "AAD", "AAN", "ABF", "ABQ", "ACB", "ACD", "ADE"};
  for (const std::string& code : codes)
    if (random.below(2) == 0)
      record.header.push_back({code, code == "ABQ" || code == "ACB"
                                         ? "1" + std::to_string(random.below(99)) + ".5"
                                         : random_text(random, holds.breaks)});
  for (std::uint32_t n = random.below(8); n > 0; --n) {
    coding::Observation one;
    one.distance_m = random_number(random, true);
    one.code = "B" + random_word(random, 2);
    one.ch1 = random_word(random, 2);
    one.ch2 = random_word(random, 1);
    one.q1 = random_number(random, false);
    one.q2 = random_number(random, false);
    if (random.below(2) == 0) one.clock_from = 1 + static_cast<int>(random.below(12));
    if (random.below(2) == 0) one.clock_to = 1 + static_cast<int>(random.below(12));
    one.at_joint = random.below(2) == 0;
    if (random.below(3) == 0) one.stretch = "A" + std::to_string(1 + random.below(9));
    one.remark = random_text(random, holds.breaks);
    one.manhole_place = random_text(random, holds.breaks);
    one.photo = random_text(random, holds.breaks);
    one.video = random_text(random, holds.breaks);
    if (random.below(3) == 0) one.extra.emplace_back("X1", "v" + random_text(random, holds.breaks));
    if (random.below(3) == 0) one.extra.emplace_back("R", "w" + random_text(random, holds.breaks));
    if (!holds.only_text_form) one.reason = random_text(random, holds.breaks);
    record.observations.push_back(one);
  }
  coding::number_observations(record);
  if (holds.judgement && random.below(2) == 0) {
    coding::Judgement judgement;
    for (const auto& one : record.observations)
      if (random.below(2) == 0)
        judgement.classes.push_back(
            {one.id, {{"stability", static_cast<int>(random.below(6))}, {"tightness", 3}}});
    if (random.below(2) == 0) judgement.object_class = static_cast<int>(random.below(6));
    if (random.below(2) == 0) judgement.action = coding::all_actions()[random.below(5)];
    record.judgement = judgement;
    if (!record.observations.empty())
      record.not_visible.push_back({record.observations[0].id, random_text(random, holds.breaks)});
  }
  return record;
}

}  // namespace haunch::exchange::test
