// SPDX-License-Identifier: Apache-2.0
// Files read and written one inspection at a time: the same as at once, whatever is wrong with them, in
// memory that does not grow.
#include "exchange/inspections.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <malloc.h>
#include <unistd.h>

#include <fstream>
#include <sstream>

#include "exchange/inspection_writer.hpp"
#include "exchange/samples.hpp"

namespace haunch::exchange {
namespace {

namespace fs = std::filesystem;
using test::Holds;
using test::lines;
using test::random_record;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

const std::string how = "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n";
const std::string good = "#B01=AAA;AAK\nK3-K4;A\n#C=I;A\n1;BAN\n#Z\n";

class Stream : public ::testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "haunch-stream-XXXXXX").string();
    ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
  }
  void TearDown() override { fs::remove_all(folder_); }
  fs::path file(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder_ / name, std::ios::binary) << bytes;
    return folder_ / name;
  }
  std::string bytes_of(const std::string& name) const {
    std::ifstream stream(folder_ / name, std::ios::binary);
    std::stringstream bytes;
    bytes << stream.rdbuf();
    return bytes.str();
  }
  std::vector<Inspection> all(const fs::path& path, base::Problems* problems = nullptr) const {
    std::vector<Inspection> out;
    Inspections walk(path);
    while (auto one = walk.next()) out.push_back(std::move(*one));
    EXPECT_FALSE(walk.next()) << "the end stays the end";
    if (problems != nullptr) *problems = walk.problems();
    return out;
  }
  fs::path folder_;
};

std::vector<coding::Record> some_records(std::uint64_t seed, std::size_t count, const Holds& holds) {
  std::vector<coding::Record> records;
  for (std::size_t i = 0; i < count; ++i) {
    records.push_back(random_record(seed * 1000 + i, holds));
    for (auto& one : records.back().observations) std::sort(one.extra.begin(), one.extra.end());
  }
  return records;
}

/// Longer than several blocks, so that lines and characters stand across their borders.
TEST_F(Stream, OneAfterAnotherIsTheSameAsAtOnce) {
  for (const FileKind kind : {FileKind::exchange_text, FileKind::csv, FileKind::record_json}) {
    const auto records = some_records(5, kind == FileKind::record_json ? 1700 : 6000, {});
    const std::string text = write_records(records, kind);
    ASSERT_GT(text.size(), std::size_t{1500} << 10U);
    base::Problems problems;
    const auto given = all(file("f", text), &problems);
    EXPECT_THAT(problems, IsEmpty());
    ASSERT_EQ(given.size(), records.size());
    const auto at_once = read_records(folder_ / "f");
    ASSERT_TRUE(at_once.ok()) << base::to_line(at_once.problems().front());
    int line = 0;
    for (std::size_t i = 0; i < records.size(); ++i) {
      const PlacedRecord& placed = at_once.value()[i];
      EXPECT_EQ(given[i].number, static_cast<int>(i) + 1);
      EXPECT_GT(given[i].place.line, line);
      line = given[i].place.line;
      ASSERT_EQ(given[i].placed.record, placed.record);
      ASSERT_EQ(given[i].placed.places, placed.places);
      coding::Record sorted = given[i].placed.record;
      for (auto& one : sorted.observations) std::sort(one.extra.begin(), one.extra.end());
      if (kind != FileKind::exchange_text) {
        ASSERT_EQ(sorted, records[i]) << i;
      }
    }
  }
}

TEST_F(Stream, ABrokenInspectionDoesNotStopTheOthers) {
  base::Problems problems;
  const auto given = all(file("f", how + good + "#B01=AAA;AAK\nK3\n#C=I;A\n1;BAN\nx;BAO\n3;BAP;;\"\n#Z\n" +
                                       good + "1;BAN\n" + good),
                         &problems);
  ASSERT_EQ(given.size(), 4U);
  EXPECT_THAT(given[0].remarks, IsEmpty());
  EXPECT_THAT(lines(given[1].remarks),
              ElementsAre(HasSubstr(":13:3: the line has 1 value for 2 header codes"),
                          HasSubstr(":16:1: the distance (I) is \"x\""),
                          HasSubstr(":17:8: a quote is not closed in its line")));
  EXPECT_EQ(given[1].placed.record.observations.size(), 2U) << "what could be read of it";
  EXPECT_EQ(given[1].place.line, 12);
  EXPECT_THAT(given[2].remarks, IsEmpty());
  EXPECT_EQ(given[3].placed.record.observations.size(), 1U);
  EXPECT_THAT(lines(problems), ElementsAre(HasSubstr(":24:1: a row stands outside an inspection")));
}

TEST_F(Stream, CsvGoesOnAfterABrokenRow) {
  base::Problems problems;
  const auto given =
      all(file("f.csv",
               "inspection,code,distance_m\n1,BAN,1\n1,BAO\n2,BAP,x\n2,BAP,2\n3,\"BAN,1\n3,BAN,1\n1,BAN,5\n"),
          &problems);
  EXPECT_THAT(problems, IsEmpty());
  ASSERT_EQ(given.size(), 4U);
  EXPECT_THAT(lines(given[0].remarks), ElementsAre(HasSubstr(":3:1: the row has 2 cells for 3 columns")));
  EXPECT_THAT(lines(given[1].remarks),
              ElementsAre(HasSubstr(":4:1: the distance"), HasSubstr(":6:1: a quote is not closed")));
  EXPECT_THAT(given[2].remarks, IsEmpty());
  EXPECT_THAT(lines(given[3].remarks),
              ElementsAre(HasSubstr("the rows of inspection \"1\" do not stand together")));
}

TEST_F(Stream, CsvRowsPastTheLimitAreTheSameAsAtOnce) {
  const std::string mega(std::size_t{1} << 20U, 'x'), breaks(std::size_t{1} << 20U, '\n');
  for (const std::string& text :
       {"code,remark\nBDB," + mega + mega + "\nBAN,\n", "code,remark\nBDB," + mega.substr(4) + "\nBAN,\n",
        "code,remark\nBDB,\"" + mega.substr(6) + "\"\nBAN,\n",
        "code,remark\nBDB,\"" + mega + "\n" + mega + "\"\nBAN,\n",
        "code,remark\nBDB,\"" + breaks + "\"\nBAN,\n", "code,remark\nBDB," + mega + mega}) {
    base::Problems streamed, problems;
    const auto one_by_one = all(file("f.csv", text), &problems);
    for (const auto& one : one_by_one)
      streamed.insert(streamed.end(), one.remarks.begin(), one.remarks.end());
    streamed.insert(streamed.end(), problems.begin(), problems.end());
    const auto at_once = read_records(folder_ / "f.csv");
    std::stable_sort(streamed.begin(), streamed.end(),
                     [](const auto& a, const auto& b) { return a.place.line < b.place.line; });
    EXPECT_EQ(lines(at_once.problems()), lines(streamed)) << text.substr(0, 20);
    EXPECT_EQ(at_once.ok(), !base::has_errors(streamed));
  }
}

TEST_F(Stream, JsonGoesOnAfterABrokenRecord) {
  base::Problems problems;
  const auto given =
      all(file("f.json",
               "{\"records\": [\n{\"observations\": [{\"code\": \"BDA\", \"distance_m\": 1}]},\n"
               "{\"observations\": [{\"code\": \"BDA\", \"clock_from\": 14}]},\n 3,\n"
               "{\"observations\": [{\"code\": \"BDA\"}]}\n], \"odd\": 1,\n\"more\": 2}\n"),
          &problems);
  ASSERT_EQ(given.size(), 4U);
  EXPECT_THAT(given[0].remarks, IsEmpty());
  EXPECT_THAT(lines(given[1].remarks), ::testing::Each(HasSubstr("f.json:3:")))
      << "none at the top of the file";
  EXPECT_THAT(lines(given[1].remarks), ::testing::Contains(HasSubstr("f.json:3:49: \"clock_from\" is 14")));
  EXPECT_THAT(lines(given[2].remarks), ElementsAre(HasSubstr("f.json:4:2: the file is 3")));
  EXPECT_THAT(given[3].remarks, IsEmpty());
  EXPECT_EQ(given[3].placed.places.observations[0], (base::Place{(folder_ / "f.json").string(), 5, 19}));
  EXPECT_THAT(lines(problems), ElementsAre(HasSubstr("f.json:6:4: unknown key \"odd\""),
                                           HasSubstr("f.json:7:1: unknown key \"more\"")));
}

TEST_F(Stream, AListOfRecordsThatIsNoList) {
  const auto said = [&](const std::string& text) {
    base::Problems problems;
    all(file("f.json", text), &problems);
    return lines(problems);
  };
  EXPECT_THAT(said("{\"records\": [{\"observations\": []} {\"observations\": []}]}"),
              ElementsAre(HasSubstr("f.json:1:35: something else stands between two records")));
  EXPECT_THAT(said("{\"records\": [\n{\"observations\": []},\n"),
              ElementsAre(HasSubstr("f.json:3:1: the list of records is not ended")));
  EXPECT_THAT(said("{\"records\": [{\"observations\": []},]}"),
              ElementsAre(HasSubstr("f.json:1:35: a record is missing")));
  EXPECT_THAT(said("{\"records\": [{\"observations\": []}]"), ElementsAre(HasSubstr("f.json:1:")));
  EXPECT_THAT(said("{\"records\": [], \"records\": []}"), ElementsAre(HasSubstr("f.json:1:17: ")));
}

/// A large file with a column of its own in each inspection is no broken file.
TEST_F(Stream, ManyWarningsAreNoError) {
  std::string text = how;
  for (int i = 0; i < 2000; ++i)
    text += "#B01=AAA\nx\n#C=I;A;Q" + std::to_string(i % 7) + "\n1;BAN;mine\n#Z\n";
  EXPECT_TRUE(read_records(file("f", text)).ok());
  EXPECT_EQ(read_records(folder_ / "f").problems().size(), 501U);
  const auto worse = read_records(file("f", text + "#B01=AAA\nx\n#C=I;A\nx;BAN\n#Z\n"));
  EXPECT_FALSE(worse.ok()) << "though the error itself is past the limit";
}

TEST_F(Stream, WhatIsNoFileOfRecordsIsSaid) {
  base::Problems problems;
  EXPECT_THAT(all(folder_ / "none", &problems), IsEmpty());
  EXPECT_THAT(lines(problems), ElementsAre(HasSubstr("there is no such file")));
  all(folder_, &problems);
  EXPECT_THAT(lines(problems), ElementsAre(HasSubstr("this is a folder")));
  all(file("letter.txt", "Dear all\n"), &problems);
  EXPECT_THAT(lines(problems), ElementsAre(HasSubstr("no record that we know")));
  all(file("empty", ""), &problems);
  EXPECT_THAT(lines(problems), ElementsAre(HasSubstr("the file is empty")));
  all(file("same.txt", "#A3=,\n#A4=,\n#B01=AAA\nx\n#C=I,A\n#Z\n"), &problems);
  EXPECT_TRUE(base::has_errors(problems));
}

TEST_F(Stream, TheFileSaysWhatItIs) {
  EXPECT_EQ(Inspections(file("a", test::sample_text)).kind(), FileKind::exchange_text);
  EXPECT_EQ(Inspections(folder_ / "a").style()->charset, "ISO-8859-1");
  EXPECT_EQ(Inspections(file("b", "code\nBAN\n")).kind(), FileKind::csv);
  EXPECT_FALSE(Inspections(folder_ / "b").style());
  EXPECT_FALSE(Inspections(folder_ / "none").kind());
}

/// Bytes of the heap in use, by the C library's own books.
std::size_t heap() {
  const auto books = ::mallinfo2();
  return books.uordblks + books.hblkhd;
}

TEST_F(Stream, MemoryDoesNotGrowWithTheFile) {
  const auto most_while_reading = [&](const fs::path& path) {
    const std::size_t before = heap();
    std::size_t most = 0;
    Inspections walk(path);
    for (Inspection one; walk.next(one);) most = std::max(most, heap() - before);
    return most;
  };
  const auto records = some_records(9, 40, {});
  for (const FileKind kind : {FileKind::exchange_text, FileKind::csv, FileKind::record_json}) {
    std::vector<coding::Record> many;
    for (int i = 0; i < 20; ++i) many.insert(many.end(), records.begin(), records.end());
    const fs::path small = file("small", write_records(many, kind));
    const int doubled = kind == FileKind::record_json ? 6 : 8;
    for (int i = 0; i < doubled; ++i) many.insert(many.end(), many.begin(), many.end());
    const fs::path large = file("large", write_records(many, kind));
    ASSERT_GT(fs::file_size(large), std::size_t{4} << 20U);
    EXPECT_LT(most_while_reading(large), most_while_reading(small) + (std::size_t{2} << 20U));
  }
}

TEST_F(Stream, Utf16IsReadWhereItSaysSo) {
  for (const bool little : {true, false}) {
    std::string wide = little ? "\xFF\xFE" : "\xFE\xFF";
    const auto put = [&](unsigned unit) {
      wide += static_cast<char>(little ? unit & 255U : unit >> 8U);
      wide += static_cast<char>(little ? unit >> 8U : unit & 255U);
    };
    std::string text = how + "#B01=AAA;AAK\nK3;A\n#C=I;A;F\n1;BDB;";
    text.replace(text.find("UTF-8"), 5, "UTF-16");
    for (const char c : text) put(static_cast<unsigned char>(c));
    for (const unsigned unit : {0xE9U, 0x7BA1U, 0xD83DU, 0xDE00U}) put(unit);
    for (int i = 0; i < 300000; ++i) put('x');
    for (const char c : std::string("\n#Z\n")) put(static_cast<unsigned char>(c));
    base::Problems problems;
    const auto given = all(file("w", wide), &problems);
    EXPECT_THAT(lines(problems), IsEmpty());
    ASSERT_EQ(given.size(), 1U);
    EXPECT_THAT(lines(given[0].remarks), IsEmpty());
    EXPECT_EQ(given[0].placed.record.observations[0].remark, "é管😀" + std::string(300000, 'x'));
    // Half a character at the end, and one half without the other.
    given.empty() ? void() : void(all(file("w", wide.substr(0, wide.size() - 1)), &problems));
    put(0xD83D);
    all(file("w", wide), &problems);
    EXPECT_THAT(lines(problems), ::testing::Contains(HasSubstr("a byte that does not belong to UTF-8")));
  }
}

TEST_F(Stream, WrittenOneByOneIsTheSameAsAtOnce) {
  for (const std::size_t count : {0U, 1U, 2U, 30U}) {
    const auto records = some_records(count + 20, count, {});
    for (const FileKind kind : {FileKind::exchange_text, FileKind::csv, FileKind::record_json}) {
      WriteAs as{kind, {}, {}};
      for (const auto& record : records) gather_extra_columns(as.extra_columns, record);
      InspectionWriter writer(folder_ / "w", as, base::Overwrite::yes);
      for (const auto& record : records) writer.add(record);
      EXPECT_FALSE(base::has_errors(writer.finish()));
      EXPECT_EQ(bytes_of("w"), write_records(records, kind));
    }
  }
}

TEST_F(Stream, ACleanFileIsCopiedByteByByte) {
  std::string text = "\xEF\xBB\xBF" + how;
  for (int i = 0; i < 3000; ++i)
    text += "#B01=AAA;AAK\n\"K3-K4\";A\n#C=A;I;F;G;Q\nBDB;" + std::to_string(i) +
            ".50;\"w\xC3\xA9t\";03;\nBAN;9;;;mine\n#Z\n";
  text.pop_back();
  const fs::path path = file("in", text);
  Inspections walk(path);
  InspectionWriter writer(folder_ / "out", {FileKind::exchange_text, *walk.style(), {}});
  for (Inspection one; walk.next(one);) writer.add(one);
  EXPECT_THAT(lines(walk.problems()), IsEmpty());
  EXPECT_THAT(lines(writer.finish()), IsEmpty());
  EXPECT_EQ(bytes_of("out"), text);
}

TEST_F(Stream, WhatCannotBeWrittenIsToldWithItsPlaceAndLeavesNoFile) {
  const fs::path path =
      file("in", how + "#B01=AAA;AAN\nK3;caf\xC3\xA9\n#C=I;A;F\n1;BDB;a \xE7\xAE\xA1\n2;BDB;\"a;b\"\n#Z\n");
  const auto said = [&](const TextStyle& style) {
    Inspections walk(path);
    InspectionWriter writer(folder_ / "out", {FileKind::exchange_text, style, {}});
    for (Inspection one; walk.next(one);) writer.add(one);
    const auto told = lines(writer.finish());
    EXPECT_EQ(fs::exists(folder_ / "out"), told.empty());
    return told;
  };
  TextStyle style;
  style.charset = "ASCII";
  EXPECT_THAT(said(style),
              ElementsAre(HasSubstr("in:7:1: header AAN: the character \"é\" does not exist in ASCII"),
                          HasSubstr("in:10:1: the character \"管\" does not exist in ASCII")));
  style.charset = "ISO-8859-1";
  EXPECT_THAT(said(style), ElementsAre(HasSubstr("in:10:1: the character \"管\"")));
  style.charset = "UTF-8";
  style.quote = 0;
  EXPECT_THAT(said(style), ElementsAre(HasSubstr("in:11:1: the text \"a;b\" needs quotes")));
  style.separator = '.';
  EXPECT_THAT(said(style), ElementsAre(HasSubstr("separator (#A3) and decimal sign (#A4) are both .")));
  EXPECT_EQ(std::distance(fs::directory_iterator(folder_), fs::directory_iterator()), 1) << "nor half of one";
  style = {};
  EXPECT_THAT(said(style), IsEmpty());
}

TEST_F(Stream, WhatAFormatHasNoPlaceForIsSaidOnce) {
  coding::Record record = random_record(3, {true, false, false});
  record.observations.resize(1);
  record.observations[0].code = "BDB";
  record.observations[0].clock_from = 14;
  record.observations[0].reason = "seen";
  record.observations[0].remark = "one\ntwo";
  record.judgement = coding::Judgement{};
  record.not_visible = {{"o1", "mud"}};
  const auto told = [&](FileKind kind) {
    InspectionWriter writer(folder_ / "out", {kind, {}, {"X1", "R"}}, base::Overwrite::yes);
    for (int i = 0; i < 3; ++i) writer.add(record);
    std::vector<std::string> what;
    for (const auto& problem : writer.finish()) what.push_back(problem.what);
    return what;
  };
  using ::testing::Contains;
  EXPECT_THAT(told(FileKind::csv),
              ElementsAre(HasSubstr("no place for the judgement"), HasSubstr("what could not be seen")));
  EXPECT_THAT(told(FileKind::exchange_text), Contains(HasSubstr("no place for the reason")));
  EXPECT_THAT(told(FileKind::exchange_text), Contains(HasSubstr("a line break inside text became a space")));
  EXPECT_THAT(told(FileKind::record_json), Contains(HasSubstr("the hour 14 cannot stand in a JSON record")));
}

}  // namespace
}  // namespace haunch::exchange
