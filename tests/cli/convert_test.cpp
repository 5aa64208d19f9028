// SPDX-License-Identifier: Apache-2.0
// haunch convert: how exchange text is written, what cannot be, and that nothing is lost unsaid.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

namespace fs = std::filesystem;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;
using testing::UnorderedElementsAre;

const std::string comma_file =
    "#A1=ISO-8859-1\r\n#A2=de\r\n#A3=,\r\n#A4=.\r\n#A5=\"\r\n#A6=2010\r\n"
    "#B01=AAA,AAN\r\nK3-K4,Am B\xE4"
    "chle\r\n#C=I,A,B,F,Q\r\n0,BCD,A,\"Deckel, lose\",mine\r\n2.50,BDB,,x;y,\r\n";

/// The language of the remarks is no word of ours to choose.
TEST(Convert, TheLanguageComesThroughJsonAndIsMissedInCsv) {
  const Program haunch;
  const std::string how = "#A1=UTF-8\n#A2=de\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n";
  const std::string one = "#B01=AAA;AAK\nK1;A\n#C=I;A;F\n0;BCD;\n1;BDB;Riss\n2;BCE;\n#Z\n";
  for (const std::string& text : {how + one, how + one + one}) {
    haunch.write("in.txt", text);
    ASSERT_EQ(haunch.run({"convert", "in.txt", "there.json", "--force"}).code, 0);
    expect_schema(haunch.read("there.json"), "record");
    EXPECT_EQ(Json::parse(haunch.read("there.json")).at("language"), "de");
    ASSERT_EQ(haunch.run({"convert", "there.json", "on.json", "--force"}).code, 0);
    EXPECT_EQ(haunch.read("on.json"), haunch.read("there.json"));
    ASSERT_EQ(haunch.run({"convert", "on.json", "back.txt", "--force"}).code, 0);
    EXPECT_THAT(haunch.read("back.txt"), HasSubstr("#A2=de\n"));
    ASSERT_EQ(haunch.run({"convert", "on.json", "other.txt", "--language", "fr", "--force"}).code, 0);
    EXPECT_THAT(haunch.read("other.txt"), HasSubstr("#A2=fr\n"));
    for (const char* from : {"in.txt", "there.json"}) {
      const Ran csv = haunch.run({"convert", from, "there.csv", "--force"});
      EXPECT_EQ(csv.code, 0);
      EXPECT_THAT(csv.err, HasSubstr("CSV has no place for the language of the remarks, \"de\""));
    }
  }
  haunch.write("none.json", "{\"kind\": \"record\", \"observations\": []}\n");
  ASSERT_EQ(haunch.run({"convert", "none.json", "none2.json"}).code, 0);
  EXPECT_FALSE(Json::parse(haunch.read("none2.json")).contains("language"));
}

TEST(Convert, ExchangeTextKeepsTheWayItWasWritten) {
  const Program haunch;
  haunch.write("in.txt", comma_file);
  const Ran ran = haunch.run({"convert", "in.txt", "out.txt"});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("out.txt: 1 inspection, 2 observations"));
  EXPECT_THAT(ran.err, HasSubstr("in.txt:9:12: warning: the column \"Q\" is not known; its text is kept"));
  EXPECT_EQ(haunch.read("out.txt"), comma_file);
}

TEST(Convert, TheWayOfWritingCanBeChosen) {
  const Program haunch;
  haunch.write("in.txt", comma_file);
  const Ran ran = haunch.run({"convert", "in.txt", "out.txt", "--separator", ";", "--decimal", ",", "--quote",
                              "'", "--charset", "UTF-8", "--language", "en", "--line-end", "lf"});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_EQ(haunch.read("out.txt"),
            "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=,\n#A5='\n#A6=2010\n#B01=AAA;AAN\nK3-K4;Am Bächle\n#C=I;A;B;F;Q\n"
            "0;BCD;A;Deckel, lose;mine\n2,50;BDB;;'x;y';\n");
  const Ran tab = haunch.run({"convert", "in.txt", "tab.txt", "--separator", "tab", "--quote", "none"});
  EXPECT_EQ(tab.code, 0) << tab.err;
  EXPECT_THAT(haunch.read("tab.txt"), AllOf(HasSubstr("#A3=\t\r\n"), Not(HasSubstr("#A5"))));
  // And back again.
  ASSERT_EQ(haunch
                .run({"convert", "out.txt", "back.txt", "--separator", ",", "--decimal", ".", "--quote", "\"",
                      "--charset", "ISO-8859-1", "--language", "de", "--line-end", "crlf"})
                .code,
            0);
  EXPECT_EQ(haunch.read("back.txt"), comma_file);
}

TEST(Convert, AQuoteThatIsNamedAnewStandsInItsPlace) {
  const Program haunch;
  haunch.write("in.txt", "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A6=2010\n#B01=AAA;AAK\nP;A\n#C=I;A\n1;BAN\n#Z\n");
  ASSERT_EQ(haunch.run({"convert", "in.txt", "out.txt", "--quote", "\""}).code, 0);
  EXPECT_THAT(haunch.read("out.txt"), StartsWith("#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n#B01="));
}

TEST(Convert, ExchangeTextIsTheSameAfterJson) {
  const Program haunch;
  haunch.write("in.txt",
               "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n#B01=AAA;ABQ\nP;20.50\n#C=I;A;B;C;D;E;G;H;"
               "J;K;L;F;M;N\n"
               "0.00;BCD;A;;007;;;;;;;;;\n1.20;BAB;B;A;1.50;;12;;;;;;;\n#Z\n");
  ASSERT_EQ(haunch.run({"convert", "in.txt", "a.json"}).code, 0);
  expect_schema(haunch.read("a.json"), "record");
  ASSERT_EQ(haunch.run({"convert", "a.json", "out.txt"}).code, 0);
  EXPECT_EQ(haunch.read("out.txt"), haunch.read("in.txt"));
}

TEST(Convert, AWayOfWritingThatCannotBeIsWrongUsage) {
  const Program haunch;
  haunch.write("in.txt", comma_file);
  const auto said = [&](std::vector<std::string> options, const std::string& out = "out.txt") {
    options.insert(options.begin(), {"convert", "in.txt", out});
    const Ran ran = haunch.run(options);
    EXPECT_EQ(ran.code, 2) << ran.err;
    EXPECT_FALSE(fs::exists(haunch.path(out)));
    return ran.err;
  };
  EXPECT_THAT(said({"--separator", "ab"}), HasSubstr("--separator is \"ab\"; it takes one sign"));
  EXPECT_THAT(said({"--separator", "B"}), HasSubstr("the separator is B"));
  EXPECT_THAT(said({"--decimal", ","}), HasSubstr("separator (#A3) and decimal sign (#A4) are both ,"));
  EXPECT_THAT(said({"--decimal", "x"}), HasSubstr("expected . or ,"));
  EXPECT_THAT(said({"--charset", "EBCDIC"}), HasSubstr("the character set \"EBCDIC\" is not known"));
  EXPECT_THAT(said({"--line-end", "dos"}), HasSubstr("it is lf, crlf or cr"));
  EXPECT_THAT(said({"--separator", ";"}, "out.csv"), HasSubstr("--separator is for exchange text"));
}

TEST(Convert, WhatTheNewFileCannotHoldIsToldAndNothingIsWritten) {
  const Program haunch;
  haunch.write("in.txt", comma_file);
  haunch.write("out.txt", "as it was");
  const Ran ascii = haunch.run({"convert", "in.txt", "out.txt", "--charset", "ASCII", "--force"});
  EXPECT_EQ(ascii.code, 1);
  EXPECT_THAT(ascii.err, HasSubstr("in.txt:7:1: header AAN: the character \"ä\" does not exist in ASCII"));
  const Ran bare = haunch.run({"convert", "in.txt", "out.txt", "--quote", "none", "--force"});
  EXPECT_EQ(bare.code, 1);
  EXPECT_THAT(bare.err, HasSubstr("in.txt:10:1: the text \"Deckel, lose\" needs quotes"));
  EXPECT_EQ(haunch.read("out.txt"), "as it was");
  std::vector<std::string> files;
  for (const auto& entry : fs::directory_iterator(haunch.folder()))
    files.push_back(entry.path().filename().string());
  EXPECT_THAT(files, UnorderedElementsAre("in.txt", "out.txt", ".out", ".err")) << "no half of a file";
}

TEST(Convert, AFileThatCannotBeReadWholeGivesNone) {
  const Program haunch;
  std::string text = comma_file;
  text.replace(text.find("2.50"), 4, "here");
  haunch.write("in.txt", text + "#Z\r\n#B01=AAA\r\nx\r\n#C=I,A\r\n1,BAN,y\r\n");
  for (const char* out : {"out.txt", "out.csv", "out.json"}) {
    const Ran ran = haunch.run({"convert", "in.txt", out});
    EXPECT_EQ(ran.code, 1);
    EXPECT_THAT(ran.err, AllOf(HasSubstr("in.txt:11:1: the distance (I) is \"here\""),
                               HasSubstr("in.txt:16:7: the line has 3 values")))
        << "all of it";
    EXPECT_FALSE(fs::exists(haunch.path(out)));
  }
}

TEST(Convert, UnknownColumnsGoThroughEveryForm) {
  const Program haunch;
  haunch.write("in.txt", comma_file);
  std::string last = "in.txt";
  for (const char* next : {"a.csv", "b.json", "c.csv", "d.txt", "e.json"}) {
    ASSERT_EQ(haunch.run({"convert", last, next}).code, 0) << next;
    last = next;
  }
  const Json record = Json::parse(haunch.read("e.json"));
  EXPECT_EQ(record.at("observations")[0].at("extra"), Json::parse(R"([["Q", "mine"]])"));
  EXPECT_EQ(record.at("header").at("AAN"), "Am Bächle");
  expect_schema(haunch.read("e.json"), "record");
}

TEST(Convert, SaysWhatAFormHasNoPlaceFor) {
  const Program haunch;
  haunch.write("a.json", R"({"observations": [{"id": "o1", "distance_m": 1, "code": "BDA", "reason": "seen"}],
    "judgement": {"object_class": 3}, "not_visible": [{"observation": "o1", "why": "mud"}]})");
  const Ran text = haunch.run({"convert", "a.json", "a.txt"});
  EXPECT_EQ(text.code, 0);
  EXPECT_THAT(text.err,
              AllOf(HasSubstr("no place for the judgement"), HasSubstr("no place for what could not be seen"),
                    HasSubstr("no place for the reason")));
  EXPECT_THAT(haunch.read("a.txt"), StartsWith("#A1=UTF-8\n#A2=en\n#A3=;\n"));
  EXPECT_THAT(haunch.run({"convert", "a.json", "b.json"}).err, Not(HasSubstr("no place")));
}

}  // namespace
}  // namespace haunch::cli_test
