// SPDX-License-Identifier: Apache-2.0
// exchange_make FILE MEGABYTES [SEED]: writes an exchange file of about that size (10^6 bytes each). Pipes,
// places and findings are invented; the same seed gives the same bytes. Kinds and shares of findings are
// ours. One finding in fifty is miscoded, so that validation has something to say.
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <string>

#include "base/random.hpp"

namespace {
using haunch::base::Random;

struct Kind {
  const char* code;
  const char* ch1;  ///< letters to choose from
  const char* ch2;
  int low, high;  ///< quantification 1; none when both are 0
  bool clock, at_joint, may_run;
};
constexpr Kind kinds[] = {
    {"BAB", "BC", "ABC", 1, 12, true, false, true},     {"BAC", "AB", "", 20, 200, true, false, false},
    {"BAF", "CD", "BZ", 0, 0, true, false, true},       {"BAJ", "A", "", 5, 60, false, true, false},
    {"BAJ", "B", "", 5, 30, true, true, false},         {"BBA", "AC", "", 5, 60, true, true, true},
    {"BBB", "AB", "", 2, 30, true, false, true},        {"BBC", "AB", "", 2, 30, true, false, true},
    {"BCA", "ABE", "AB", 100, 200, true, false, false}, {"BCC", "AB", "AB", 5, 45, false, false, false},
    {"BDD", "A", "", 5, 50, false, false, true},
};
constexpr const char* remarks[] = {"",
                                   "",
                                   "",
                                   "seen again on the way back",
                                   "\"gravel; coarse, from the trench\"",
                                   "\"says \"\"foul\"\" on the plan\"",
                                   "near the garden wall",
                                   "water clears after 2 m"};

std::string metres(double m) {
  char text[32];
  std::snprintf(text, sizeof text, "%.2f", m);
  return text;
}

char one_of(Random& random, const std::string& letters) {
  return letters[random.below(static_cast<std::uint32_t>(letters.size()))];
}

void row(std::string& out, double at_m, const std::string& codes, const std::string& rest) {
  out += metres(at_m) + ';' + codes + ';' + rest + '\n';
}

void finding(std::string& out, Random& random, double at_m, double to_m, int run) {
  const Kind& kind = kinds[random.below(std::size(kinds))];
  std::string codes = std::string(kind.code) + ';' + one_of(random, kind.ch1) + ';';
  if (*kind.ch2 != 0) codes += one_of(random, kind.ch2);
  if (random.below(50) == 0) codes[random.below(2) == 0 ? 2 : 4] = 'X';
  const std::string size =
      kind.high == 0 ? "" : std::to_string(kind.low + static_cast<int>(random.below(kind.high - kind.low)));
  const std::string from = kind.clock ? std::to_string(1 + random.below(12)) : "";
  const std::string to = kind.clock && random.below(3) == 0 ? std::to_string(1 + random.below(12)) : "";
  const bool runs = kind.may_run && run > 0;
  const auto rest = [&](char mark) {
    return size + ";;" + from + ';' + to + ';' + (runs ? mark + std::to_string(run) : "") + ';' +
           (kind.at_joint ? "A" : "") + ';' + remarks[random.below(std::size(remarks))] + ";p" +
           std::to_string(random.below(900)) + ';' + std::to_string(random.below(20000));
  };
  row(out, at_m, codes, rest('A'));
  if (runs) row(out, to_m, codes, rest('B'));
}

std::string inspection(Random& random, int number) {
  const std::string from = "N" + std::to_string(number), to = "N" + std::to_string(number + 1);
  const double length_m = 20 + random.below(4000) / 100.0;
  char date[40];
  std::snprintf(date, sizeof date, "2026-%02u-%02u;%02u:%02u", 1 + random.below(12), 1 + random.below(28),
                7 + random.below(9), random.below(60));
  std::string out = "#B01=AAA;AAB;AAD;AAF;AAJ;AAK;AAN;ABA;ABF;ABG;ABQ\n" + from + '-' + to + ';' + from +
                    ';' + from + ';' + to + ";Sallow Lane;A;Little Wending;EN 13508-2:2003+A1:2011;" + date +
                    ';' + metres(length_m) + "\n#B02=ACA;ACB;ACD;ACJ;ACK\nA;" +
                    std::to_string(100 + 50 * random.below(9)) + ";" + (random.below(2) == 0 ? "AE" : "AG") +
                    ";A;A\n#C=I;A;B;C;D;E;G;H;J;K;F;M;N\n";
  row(out, 0, "BCD;X;P", from + ";;;;;;;;");
  const int findings = 15 + static_cast<int>(random.below(20));
  int runs = 0;
  double at_m = 0;
  for (int i = 0; i < findings; ++i) {
    const double step_m = length_m / findings;
    finding(out, random, at_m + 0.25 * step_m, at_m + 0.75 * step_m, random.below(5) == 0 ? ++runs : 0);
    at_m += step_m;
  }
  row(out, length_m, "BCE;X;P", to + ";;;;;;;;");
  return out + "#Z\n";
}

}  // namespace

int main(int count, char** words) {
  if (count < 3 || count > 4) {
    std::cerr << "usage: exchange_make FILE MEGABYTES [SEED]\n";
    return 2;
  }
  const double wanted = std::atof(words[2]) * 1e6;
  Random random(count > 3 ? std::strtoull(words[3], nullptr, 10) : 1);
  std::ofstream file(words[1], std::ios::binary);
  file << "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n";
  double bytes = 0;
  for (int number = 1; bytes < wanted && file; ++number) {
    const std::string text = inspection(random, number);
    file << text;
    bytes += static_cast<double>(text.size());
  }
  file.close();
  if (!file) {
    std::cerr << "exchange_make: " << words[1] << " could not be written whole\n";
    return 3;
  }
}
