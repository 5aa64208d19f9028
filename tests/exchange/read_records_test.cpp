// SPDX-License-Identifier: Apache-2.0
// Files told apart by content, whatever their name.
#include "exchange/read_records.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>

#include "exchange/exchange_text.hpp"
#include "exchange/samples.hpp"

namespace haunch::exchange {
namespace {

namespace fs = std::filesystem;

class ReadRecords : public ::testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "haunch-exchange-XXXXXX").string();
    ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
  }
  void TearDown() override { fs::remove_all(folder_); }
  fs::path file(const std::string& name, const std::string& bytes) const {
    std::ofstream(folder_ / name, std::ios::binary) << bytes;
    return folder_ / name;
  }
  fs::path folder_;
};

TEST_F(ReadRecords, ACsvOfAnySpreadsheetByContent) {
  for (const char* text :
       {"sep=;\r\nCode;Remark\r\nBDB;x\r\n", "CODE,remark\nBDB,x\n", "sep=|\ncode|remark\nBDB|x\n"}) {
    const auto read = read_records(file("noname", text));
    ASSERT_TRUE(read.ok()) << text;
    EXPECT_EQ(read.value()[0].record.observations.at(0).remark, "x") << text;
  }
}

TEST_F(ReadRecords, ByContentNotByName) {
  std::vector<coding::Record> records;
  for (const auto& placed : exchange_from_text(test::sample_text, "s").value().inspections)
    records.push_back(placed.record);
  for (const FileKind kind : {FileKind::record_json, FileKind::exchange_text, FileKind::csv})
    for (const char* name : {"a.json", "a.csv", "a.txt", "noname"}) {
      const auto read = read_records(file(name, write_records(records, kind)));
      ASSERT_TRUE(read.ok()) << name << base::to_line(read.problems().front());
      ASSERT_EQ(read.value().size(), 2U) << name;
      EXPECT_EQ(read.value()[0].record, records[0]) << name;
      EXPECT_EQ(read.value()[1].record, records[1]) << name;
    }
}

TEST_F(ReadRecords, KindForWriting) {
  EXPECT_EQ(kind_for_writing("x/a.JSON"), FileKind::record_json);
  EXPECT_EQ(kind_for_writing("a.csv"), FileKind::csv);
  EXPECT_EQ(kind_for_writing("a.txt"), FileKind::exchange_text);
  EXPECT_EQ(kind_for_writing("a"), FileKind::exchange_text);
}

TEST_F(ReadRecords, WhatIsNoRecordIsAProblem) {
  EXPECT_FALSE(read_records(folder_ / "none.json").ok());
  EXPECT_FALSE(read_records(folder_).ok());
  const auto empty = read_records(file("empty.txt", ""));
  ASSERT_EQ(empty.problems().size(), 1U);
  EXPECT_EQ(empty.problems()[0].what, "the file is empty");
  const auto letter = read_records(file("letter.txt", "Dear all\n"));
  ASSERT_EQ(letter.problems().size(), 1U);
  EXPECT_EQ(letter.problems()[0].what, "the file is no record that we know");
  EXPECT_THAT(base::to_line(read_records(file("broken.json", "\"observations\": []")).problems().front()),
              ::testing::HasSubstr("broken.json:1:15: there is more text after the end"));
}

TEST_F(ReadRecords, ARecordLargerThanAnyPipeIsRefused) {
  std::string rows = "distance_m,code\n";
  for (std::size_t i = 0; i < most_observations; ++i) rows += "1,BAP\n";
  EXPECT_TRUE(read_records(file("large.csv", rows)).ok());
  const auto refused = read_records(file("larger.csv", rows + "1,BAP\n"));
  ASSERT_FALSE(refused.ok());
  ASSERT_EQ(refused.problems().size(), 1U);
  EXPECT_THAT(
      base::to_line(refused.problems().front()),
      ::testing::HasSubstr("holds 50001 observations, and no pipe has as many; expected at most 50000"));
}

}  // namespace
}  // namespace haunch::exchange
