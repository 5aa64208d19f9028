// SPDX-License-Identifier: Apache-2.0
// Lines as trainees type them, and what is understood. Which words mean which code is `ours`, from the
// trade words of both sides of the Atlantic; the letters are those of the code list.
#include "play/entry.hpp"
#include "campaign.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "base/random.hpp"
#include "base/words.hpp"
#include "play/words.hpp"

namespace haunch::play {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

Entry read(const std::string& typed, base::LengthUnit unit = base::LengthUnit::metres) {
  return read_entry(typed, coding::CodeList::shipped(), unit);
}

/// "BAB C A q1=2 12 joint A1 @12.4 #words": what is in an observation, for comparing.
std::string shown(const coding::Observation& o) {
  std::string text = coding::show_code(o);
  if (!o.q1.empty()) text += " q1=" + o.q1.show();
  if (!o.q2.empty()) text += " q2=" + o.q2.show();
  if (o.clock_from) text += " " + std::to_string(*o.clock_from);
  if (o.clock_to) text += "-" + std::to_string(*o.clock_to);
  if (o.at_joint) text += " joint";
  if (!o.stretch.empty()) text += " " + o.stretch;
  if (!o.distance_m.empty()) text += " @" + o.distance_m.show();
  if (!o.remark.empty()) text += " #" + o.remark;
  return text;
}

struct Case {
  const char* typed;
  const char* expected;
};
class Complete : public ::testing::TestWithParam<Case> {};

TEST_P(Complete, IsUnderstoodWhole) {
  const Entry entry = read(GetParam().typed);
  EXPECT_EQ(shown(entry.observation), GetParam().expected);
  EXPECT_THAT(entry.missing, IsEmpty());
  EXPECT_THAT(entry.not_understood, IsEmpty());
  EXPECT_TRUE(entry.usable());
  EXPECT_FALSE(entry.sentence.empty());
}

INSTANTIATE_TEST_SUITE_P(
    BareCodes, Complete,
    ::testing::Values(
        Case{"BCD B # Y1 @0", "BCD B @0 #Y1"}, Case{"BDB # see @ the gully", "BDB #see @ the gully"},
        Case{"BAB C A 2mm at 12", "BAB C A q1=2 12"}, Case{"BABCA 2 mm 12", "BAB C A q1=2 12"},
        Case{"bab c a 2mm 12", "BAB C A q1=2 12"}, Case{"bab ca 1,5 mm 11-1", "BAB C A q1=1.5 11-1"},
        Case{"BAB-C-A 2 mm, at 12", "BAB C A q1=2 12"}, Case{"2mm 12 BAB C A", "BAB C A q1=2 12"},
        Case{"BABCA2mm at 12", "BAB C A q1=2 12"}, Case{"BAB C A 2 at 12", "BAB C A q1=2 12"},
        Case{"BAB A A 12", "BAB A A 12"},  // a hairline needs no width
        Case{"BAJ B 14mm 10-2", "BAJ B q1=14 10-2 joint"},
        Case{"BAJ C 3\xC2\xB0 at 12", "BAJ C q1=3 12 joint"}, Case{"BAJ A 25 mm", "BAJ A q1=25 joint"},
        Case{"BBCA30%", "BBC A q1=30"}, Case{"BBC A 10 % 5-7", "BBC A q1=10 5-7"},
        Case{"BCA A A 100 mm at 2", "BCA A A q1=100 2"},
        Case{"BCA A A 100 x 150 mm at 3", "BCA A A q1=100 q2=150 3"}, Case{"BDD C 30", "BDD C q1=30"},
        Case{"BDD A 5", "BDD A q1=5"}, Case{"AED AX", "AED AX"}, Case{"BCD B", "BCD B"},
        Case{"BCE A @24.0", "BCE A @24"}, Case{"BDB # look again", "BDB #look again"},
        Case{"BDC A A", "BDC A A"}, Case{"BBB B 15% 8-4 A1", "BBB B q1=15 8-4 A1"},
        Case{"BBH A A 3", "BBH A A q1=3"}, Case{"BAF J E 12-12", "BAF J E 12-12"},
        Case{"BAJ B 14 2", "BAJ B q1=14 2 joint"}, Case{"BAG 18% 2", "BAG q1=18 2"},
        Case{"BCC A 15 deg", "BCC A q1=15"}, Case{"BAO 3-5 at joint", "BAO 3-5 joint"}));

INSTANTIATE_TEST_SUITE_P(
    Joints, Complete,
    ::testing::Values(
        Case{"offset joint, radial, 14 mm, 10 to 2", "BAJ B q1=14 10-2 joint"},  // the design's own example
        Case{"offset joint 14 mm 10 to 2", "BAJ B q1=14 10-2 joint"},
        Case{"14 mm step at 5", "BAJ B q1=14 5 joint"}, Case{"offset joint 3 deg at 5", "BAJ C q1=3 5 joint"},
        Case{"displaced joint radial 9 mm 5 o'clock", "BAJ B q1=9 5 joint"},
        Case{"open joint 18 mm", "BAJ A q1=18 joint"}, Case{"gap 18mm at joint", "BAJ A q1=18 joint"},
        Case{"displaced joint, longitudinal, 3/4 in", "BAJ A q1=19.05 joint"},
        Case{"1 1/2 in offset at 5", "BAJ B q1=38.1 5 joint"},
        Case{"bend at joint 4 degrees 12", "BAJ C q1=4 12 joint"},
        Case{"angular joint 4\xC2\xB0 at 12", "BAJ C q1=4 12 joint"},
        Case{"hanging gasket broken 10 % 12", "BAI A D q1=10 12 joint"}));

INSTANTIATE_TEST_SUITE_P(
    Cracks, Complete,
    ::testing::Values(
        Case{"hairline along 12", "BAB A A 12"}, Case{"crack, hairline, lengthwise, 12", "BAB A A 12"},
        Case{"longitudinal crack 1/8 inch at 11", "BAB B A q1=3.175 11"},
        Case{"crack along the pipe 2 mm at the crown", "BAB B A q1=2 12"},
        Case{"circumferential crack 0.8 mm 9 to 3", "BAB B B q1=0.8 9-3"},
        Case{"crack around 0.8 mm from 9 o'clock to 3 o'clock", "BAB B B q1=0.8 9-3"},
        Case{"crack all round 2 mm at joint", "BAB B B q1=2 12-12 joint"},
        Case{"fracture circumferential 3 mm all round", "BAB C B q1=3 12-12"},
        Case{"branching fracture 1.5mm 1-3", "BAB C C q1=1.5 1-3"},
        Case{"cracks complex 2mm 10..2", "BAB B C q1=2 10-2"},
        Case{"spiral crack 1 mm between 10 and 2", "BAB B D q1=1 10-2"},
        Case{"fracture along 3 mm 360 deg", "BAB C A q1=3 12-12"}, Case{"hole 80 mm at 4", "BAC B q1=80 4"},
        Case{"missing piece 80mm 3 to 5", "BAC B q1=80 3-5"},
        Case{"broken pipe, pieces missing, 8 cm, 3 till 5", "BAC B q1=80 3-5"},
        Case{"collapse all round", "BAC C 12-12"}, Case{"crack along 2 mm wide at 12", "BAB B A q1=2 12"},
        Case{"wide crack along 2 at 12", "BAB B A q1=2 12"}, Case{"soil visible 3-5", "BAO 3-5"},
        Case{"void at 4", "BAP 4"}, Case{"deformation vertical 7%", "BAA A q1=7"}));

INSTANTIATE_TEST_SUITE_P(
    Operation, Complete,
    ::testing::Values(
        Case{"tap root 5% 3 o'clock", "BBA A q1=5 3"}, Case{"root tap 5 % at 3", "BBA A q1=5 3"},
        Case{"fine roots 4% 9 to 12 at joint", "BBA B q1=4 9-12 joint"},
        Case{"roots, fine, 4 per cent, 9-12", "BBA B q1=4 9-12"},
        Case{"root mass 30 % 10-2", "BBA C q1=30 10-2"}, Case{"root ball 40% 12-12", "BBA C q1=40 12-12"},
        Case{"tassel of roots 20% at 10", "BBA C q1=20 10"}, Case{"silt 10% at 6", "BBC A q1=10 6"},
        Case{"silt in the invert 10% 5 to 7", "BBC A q1=10 5-7"}, Case{"gravel 8%", "BBC B q1=8"},
        Case{"debris coarse 8%", "BBC B q1=8"}, Case{"sediment fine 6 percent", "BBC A q1=6"},
        Case{"settled deposits, compacted, 6%", "BBC C q1=6"},
        Case{"grease 15% 8-4 begin", "BBB B q1=15 8-4 A"},
        Case{"start of run 2 grease 15% 8-4", "BBB B q1=15 8-4 A2"},
        Case{"start of stretch 2 grease 15% 8-4", "BBB B q1=15 8-4 A2"}, Case{"grease end 1", "BBB B B1"},
        Case{"FOG 10 percent all the way round", "BBB B q1=10 12-12"},
        Case{"scale 20% all around", "BBB A q1=20 12-12"},
        Case{"encrustation 20% 9\xE2\x80\x93"
             "3",
             "BBB A q1=20 9-3"},
        Case{"gas pipe 20% 3-9", "BBE G q1=20 3-9"}, Case{"infiltration dripping at 12", "BBF B 12"},
        Case{"rats in the pipe 2", "BBH A A q1=2"}));

INSTANTIATE_TEST_SUITE_P(
    Inventory, Complete,
    ::testing::Values(
        Case{"wye 100mm at 2 open", "BCA A A q1=100 2"},
        Case{"lateral, junction, 100 mm, 2 o'clock, open", "BCA A A q1=100 2"},
        Case{"tee 4 in at 10 capped", "BCA A B q1=101.6 10"},
        Case{"drilled saddle 100mm 10 closed", "BCA B B q1=100 10"},
        Case{"intruding lateral 18% at 2", "BAG q1=18 2"}, Case{"lateral intruding 18 % at 2", "BAG q1=18 2"},
        Case{"protruding tap 20 percent 3 o\xE2\x80\x99"
             "clock",
             "BAG q1=20 3"},
        Case{"change of material to PVC", "AED AX"}, Case{"material changes, clay to cast iron", "AED AM"},
        Case{"transition concrete to pvc", "AED AX"}, Case{"bend to the left 15 deg", "BCC A q1=15"},
        Case{"water level 30% cloudy", "BDD C q1=30"}, Case{"sag 30 % clear", "BDD A q1=30"},
        Case{"belly, turbid, 25%", "BDD C q1=25"}, Case{"camera under water", "BDG A"},
        Case{"start manhole", "BCD A"}, Case{"manhole start", "BCD A"},
        Case{"start at inspection chamber", "BCD B"}, Case{"finish rodding eye", "BCE C"},
        Case{"end manhole @24.00", "BCE A @24"}, Case{"abandoned high water stopped by client", "BDC B B"}));

INSTANTIATE_TEST_SUITE_P(
    Places, Complete,
    ::testing::Values(Case{"@12.4 BAO 5", "BAO 5 @12.4"}, Case{"BAO 5 @ 12.4 m", "BAO 5 @12.4"},
                      Case{"BAO 5 at 12.4 m", "BAO 5 @12.4"}, Case{"BAO 5 @40.7ft", "BAO 5 @12.405"},
                      Case{"BAO 5 @40 ft 6 in", "BAO 5 @12.344"}, Case{"12.4 m BAO 5", "BAO 5 @12.4"},
                      Case{"BAO at 5 @0", "BAO 5 @0"}, Case{"BAO top", "BAO 12"}, Case{"BAO left", "BAO 9"},
                      Case{"BAO 10 o'clock to 2", "BAO 10-2"}, Case{"BAO from 10 until 2", "BAO 10-2"},
                      Case{"BAO 10 oclock", "BAO 10"}, Case{"BAO 0-12", "BAO 12-12"},
                      Case{"BAO 5 \"seen twice\" # wet", "BAO 5 #seen twice wet"},
                      Case{"BAO 5 #unfinished \"quote", "BAO 5 #unfinished \"quote"}, Case{"end", " B"},
                      Case{"end 3", " B3"}));

TEST(EntryUnits, ABareDistanceIsInTheUnitOnScreen) {
  EXPECT_EQ(shown(read("BAO 5 @40.7", base::LengthUnit::feet).observation), "BAO 5 @12.405");
  EXPECT_EQ(shown(read("BAO 5 @40.7", base::LengthUnit::metres).observation), "BAO 5 @40.7");
  EXPECT_EQ(shown(read("BAO 5 @12.4m", base::LengthUnit::feet).observation), "BAO 5 @12.4");
  EXPECT_THAT(read("BAO 5 @40.7", base::LengthUnit::feet).sentence, HasSubstr("40.7 ft"));
}

struct Asked {
  const char* typed;
  const char* missing;
};
class Incomplete : public ::testing::TestWithParam<Asked> {};
TEST_P(Incomplete, SaysWhatIsMissing) {
  const Entry entry = read(GetParam().typed);
  EXPECT_THAT(entry.missing, Contains(HasSubstr(GetParam().missing)));
  EXPECT_FALSE(entry.usable());
}
INSTANTIATE_TEST_SUITE_P(
    Entry, Incomplete,
    ::testing::Values(
        Asked{"", "what it is"}, Asked{"at 12", "what it is"}, Asked{"along 2 mm", "what it is"},
        Asked{"BAB", "which kind"}, Asked{"BAB B", "which form"}, Asked{"BAB B A 12", "size"},
        Asked{"BAB B A 12", "mm"}, Asked{"BAB C A 2 mm", "clock"}, Asked{"roots 10% at 12", "which kind"},
        Asked{"displaced joint 14 mm at 5", "which kind"}, Asked{"offset joint 14 mm", "clock"},
        Asked{"silt", "%"}, Asked{"wye 100mm at 2", "open"}, Asked{"BDB", "remark"},
        Asked{"water level cloudy", "%"}, Asked{"BCA A 100 mm 2", "which form"},
        // Said, not guessed:
        Asked{"deposits 10% 5-7", "BBB"}, Asked{"deposits 10% 5-7", "BBC"}, Asked{"manhole", "BCD"},
        Asked{"manhole", "BCE"}, Asked{"hole with soil visible", "one finding a line"},
        Asked{"crack and roots", "one finding a line"}, Asked{"saddle 100mm 10 o'clock capped", "drilled"},
        Asked{"saddle 100mm 10 o'clock capped", "chiselled"}, Asked{"intruding 10%", "BAI"},
        Asked{"hairline fracture along 12", "one of two"}));

class Refused : public ::testing::TestWithParam<Asked> {};
TEST_P(Refused, NeverDropsAWordSilently) {
  const Entry entry = read(GetParam().typed);
  EXPECT_THAT(entry.not_understood, Contains(HasSubstr(GetParam().missing)));
  EXPECT_FALSE(entry.usable());
}
INSTANTIATE_TEST_SUITE_P(
    Entry, Refused,
    ::testing::Values(
        Asked{"krack along 2mm at 12", "did you mean \"crack\""},
        Asked{"longitudnal crack 2mm 12", "did you mean \"longitudinal\""},
        Asked{"crack along purple 2mm 12", "purple"}, Asked{"severe crack along 2mm 12", "by a size"},
        Asked{"BAB C A 2mm at 13", "1 to 12"}, Asked{"BAB C A 2mm at 2:30", "1 to 12"},
        Asked{"BAB C A 2mm 0 to 5", "1 to 12"}, Asked{"BAB X A 2mm 12", "X"}, Asked{"BAX B 12", "not a code"},
        Asked{"BAB C A 2mm 14", "14"}, Asked{"BAJ B 14 % at 5", "given in mm"},
        Asked{"BAJ C 14 mm at 5", "given in degrees"}, Asked{"BBF B 14 mm at 5", "takes no size"},
        Asked{"BAJ B 14 mm 15 mm at 5", "a second size"}, Asked{"BAB C A 2mm at 12 at 3", "second place"},
        Asked{"BAB C A 2mm 12 BAC", "a second finding"}, Asked{"crack along 2mm 12, hole", "BAC"},
        Asked{"wye 100 mm at 2 open along", "says nothing about"}, Asked{"BBC A 5", "a size or a place"},
        Asked{"BAB B A 10 2", "10-2"}, Asked{"@ BAO 5", "a distance goes after it"},
        Asked{"@-3 BAO 5", "begin at 0"}, Asked{"BAO 5 @3 @4", "second distance"}, Asked{"-5 mm BAJ A", "-"},
        Asked{"crack in clay along 2mm 12", "clay"}, Asked{"BAO 5 A1 begin 2", "second stretch"},
        Asked{"BAO 5 *", "*"}, Asked{"water is quite high", "quite high (say how much"},
        Asked{"crack along wide at 12", "wide (say how much"}, Asked{"deep silt", "deep (say how much"},
        Asked{"roots clay to 12 fine 4%", "clay (says nothing about"},
        Asked{"rather wide crack along 2mm at 12", "rather (say how much"},
        Asked{"d\xC3\xA9"
              "calage",
              "d\xC3\xA9"
              "calage"}));

TEST(EntrySentence, EchoesInPlainWords) {
  const Entry entry = read("offset joint 14 mm 10 to 2 begin @3");
  EXPECT_THAT(entry.sentence, HasSubstr("Displaced joint"));
  EXPECT_THAT(entry.sentence, HasSubstr("14 mm"));
  EXPECT_THAT(entry.sentence, HasSubstr("from 10 to 2 o'clock"));
  EXPECT_THAT(entry.sentence, HasSubstr("begins at 3.00 m"));
  EXPECT_THAT(entry.sentence, HasSubstr("3.00 m"));
  EXPECT_THAT(read("BBB B 10% 4-8 end 2").sentence, HasSubstr("stretch 2 ends here"));
  EXPECT_EQ(read("at 12").sentence, "");
}

TEST(EntryOrder, OfTheWordsNeverMatters) {
  std::vector<std::string> parts = {"hairline", "along", "at 12", "at joint", "begin", "@3.5", "crack"};
  const std::string expected = "BAB A A 12 joint A @3.5";
  base::Random random(5);
  for (int round = 0; round < campaign::rounds(60); ++round) {
    for (std::size_t i = parts.size(); i > 1; --i)
      std::swap(parts[i - 1], parts[random.below(static_cast<std::uint32_t>(i))]);
    const std::string typed = base::join(parts, " ");
    // "at joint begin @3.5" may also be read as a begin of stretch 3: the sign before the number decides.
    EXPECT_EQ(shown(read(typed).observation), expected) << typed;
  }
}

TEST(EntryCodes, EveryCodeOfTheListCanBeTyped) {
  for (const auto& code : coding::CodeList::shipped().codes()) {
    for (const std::string& pair :
         code.combinations.empty() ? std::vector<std::string>{""} : code.combinations) {
      const Entry joined = read(code.code + pair);
      std::string parted = base::lower(code.code);
      if (!joined.observation.ch1.empty()) parted += " " + base::lower(joined.observation.ch1);
      if (!joined.observation.ch2.empty()) parted += " " + base::lower(joined.observation.ch2);
      EXPECT_EQ(joined.observation.code, code.code);
      EXPECT_EQ(joined.observation.ch1 + joined.observation.ch2, pair) << code.code;
      EXPECT_THAT(joined.not_understood, IsEmpty()) << code.code << pair;
      EXPECT_EQ(shown(read(parted).observation), shown(joined.observation)) << parted;
    }
  }
}

TEST(EntryPhrases, EveryPhraseIsFoundAndSaysWhatItSays) {
  for (const Phrase& phrase : Words::shipped().phrases) {
    const Entry entry = read(phrase.said);
    for (const std::string& wrong : entry.not_understood) ADD_FAILURE() << phrase.said << ": " << wrong;
    if (phrase.means.size() != 1 || phrase.stretch != 0) continue;
    const Meaning& meaning = phrase.means.front();
    EXPECT_EQ(entry.observation.code, meaning.code) << phrase.said;
    EXPECT_EQ(entry.observation.ch1, meaning.ch1.empty() ? meaning.usual_ch1 : meaning.ch1) << phrase.said;
  }
}

TEST(EntryCompletions, ContinueTheLineAndAreFew) {
  for (const char* typed :
       {"b", "ba", "BA", "BAB", "BAB ", "BAB B", "cr", "crack", "crack ", "crack l", "roots f", "offset jo",
        "change of", "open", "lateral", "st", "all", "silt 10%", "displaced joint 14 mm"}) {
    const Entry entry = read(typed);
    EXPECT_FALSE(entry.completions.empty()) << typed;
    EXPECT_LE(entry.completions.size(), 8U) << typed;
    EXPECT_EQ(entry.completions.size(), entry.completion_meanings.size()) << typed;
    for (const std::string& whole : entry.completions) {
      EXPECT_TRUE(base::lower(whole).starts_with(base::lower(typed))) << typed << " -> " << whole;
      EXPECT_GT(whole.size(), std::string(typed).size());
      EXPECT_THAT(read(whole).not_understood, IsEmpty()) << whole;
      EXPECT_EQ(std::count(entry.completions.begin(), entry.completions.end(), whole), 1) << whole;
    }
    for (const std::string& meaning : entry.completion_meanings) EXPECT_FALSE(meaning.empty()) << typed;
  }
}

TEST(EntryCompletions, AreTheSensibleOnes) {
  EXPECT_THAT(read("BAB").completions, ElementsAre("BAB A", "BAB B", "BAB C"));
  EXPECT_THAT(read("BAB").completion_meanings, Contains(HasSubstr("fracture")));
  EXPECT_THAT(read("bab b").completions, ElementsAre("bab b a", "bab b b", "bab b c", "bab b d", "bab b e"));
  EXPECT_THAT(read("offset jo").completions, Contains("offset joint"));
  EXPECT_THAT(read("crack").completions, Contains("crack longitudinal"));
  EXPECT_THAT(read("roots f").completions, Contains("roots fine"));
  EXPECT_THAT(read("change of").completions, Contains("change of material"));
  EXPECT_THAT(read("ba").completions, Contains("bab"));
  EXPECT_THAT(read("wye 100mm at 2").completions, Contains("wye 100mm at 2 open"));
  EXPECT_THAT(read("crack hairline along 12").completions, Contains("crack hairline along 12 at joint"));
  EXPECT_THAT(read("").completions, IsEmpty());
  EXPECT_THAT(read("BAO 5 # the remark is ba").completions, IsEmpty());
}

TEST(EntryNonsense, IsNeverACrashAndNeverUsable) {
  base::Random random(77);
  const std::vector<std::string> bits = {"BAB",
                                         "b",
                                         "a",
                                         "12",
                                         "-",
                                         "to",
                                         "mm",
                                         "%",
                                         "@",
                                         "#",
                                         "\"",
                                         "crack",
                                         "roots",
                                         "1/2",
                                         "in",
                                         "at",
                                         "o'clock",
                                         "\xE2\x80\x93",
                                         "\xFF",
                                         "\xC2",
                                         "360",
                                         "deg",
                                         "joint",
                                         "begin",
                                         "9999999999999999999999",
                                         ".",
                                         "..",
                                         ":",
                                         "'",
                                         "/",
                                         "x",
                                         "\t",
                                         "manhole",
                                         "left",
                                         "0",
                                         "BAJ",
                                         "end",
                                         "1e9",
                                         "ft",
                                         "\x01"};
  for (int round = 0; round < campaign::rounds(4000); ++round) {
    std::string typed;
    for (std::uint32_t i = random.below(9); i > 0; --i) {
      typed += bits[random.below(static_cast<std::uint32_t>(bits.size()))];
      if (random.below(3) > 0) typed += ' ';
    }
    const Entry entry = read(typed);
    EXPECT_LE(entry.completions.size(), 8U);
    if (entry.usable() && !entry.observation.code.empty()) {
      ASSERT_NE(coding::CodeList::shipped().find(entry.observation.code), nullptr) << typed;
      for (const auto& hour : {entry.observation.clock_from, entry.observation.clock_to}) {
        EXPECT_TRUE(!hour || (*hour >= 1 && *hour <= 12)) << typed;
      }
    }
  }
}

}  // namespace
}  // namespace haunch::play
