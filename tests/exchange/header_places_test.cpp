// SPDX-License-Identifier: Apache-2.0
// What is wrong in a header is told where it stands, in each of the three forms.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "exchange/exchange_text.hpp"
#include "exchange/read_records.hpp"
#include "exchange/record_json.hpp"
#include "exchange/samples.hpp"

namespace haunch::exchange {
namespace {

using test::lines;
using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::StartsWith;

std::vector<std::string> checked(const PlacedRecord& placed) {
  EXPECT_EQ(placed.places.header.size(), placed.record.header.size());
  return lines(coding::validate(placed.record, coding::CodeList::shipped(), "f", placed.places));
}

const std::string how = "#A1=UTF-8\n#A2=en\n#A3=;\n#A4=.\n#A5=\"\n#A6=2010\n";

TEST(HeaderPlaces, OfExchangeTextAreThoseOfTheValues) {
  const auto file = exchange_from_text(how +
                                           "#B01=AAA;AAN;ABQ;QQQ\nK3-K4;\"Böhm; \"\"Hof\"\"\";far;x\n"
                                           "#B02=ACA;ACB;ACC\nA;150;200\n#C=I;A\n0;BCD\n#Z\n"
                                           "#B01=ABF\nMonday\n#C=I;A\n0;BCD\n#Z\n",
                                       "f");
  ASSERT_TRUE(file.ok());
  const auto first = checked(file.value().inspections[0]);
  EXPECT_THAT(first, Contains(StartsWith("f:8:23: header ABQ"))) << "columns are characters";
  EXPECT_THAT(first, Contains(HasSubstr("f:8:27: warning: header code \"QQQ\" is not known")));
  EXPECT_THAT(first, Contains(HasSubstr("f:10:7: warning: the header's pipe is circular")));
  EXPECT_THAT(first, Contains(HasSubstr("f:12:1: warning: neither a finish node")))
      << "what is of no header field stands with the rows";
  EXPECT_THAT(checked(file.value().inspections[1]),
              Contains(HasSubstr("f:15:1: warning: header ABF (Date of inspection) is \"Monday\"")));
}

TEST(HeaderPlaces, OfCsvAreThoseOfTheCells) {
  const auto records = records_from_csv(
      "inspection,row,code,remark,value\n1,header,ABQ,,far\n1,header,ABG,\"two\nlines\",late\n"
      "1,observation,BCD,,\n2,header,ACB,,-5\n",
      "f");
  ASSERT_TRUE(records.ok());
  const auto first = checked(records.value()[0]);
  EXPECT_THAT(first, Contains(StartsWith("f:2:15: header ABQ")));
  EXPECT_THAT(first, Contains(StartsWith("f:4:8: warning: header ABG")));
  EXPECT_THAT(checked(records.value()[1]), Contains(StartsWith("f:6:15: header ACB")));
  // Without a column for values there is nothing but the row.
  EXPECT_EQ(records_from_csv("code\nABQ\n", "f").value()[0].places.header,
            (std::vector<base::Place>{{"f", 2, 1}}));
}

TEST(HeaderPlaces, OfJsonAreThoseOfTheValues) {
  const auto gathered = records_from_json(
      "{\"header\": {\n\"ABQ\": \"far\",\n\"ADE\": [\"wet\",\n\"dark\"],\n\"A/Q~\": 1},\n"
      "\"observations\": [{\"distance_m\": 0, \"code\": \"BCD\", \"ch1\": \"A\"}]}",
      "f");
  ASSERT_TRUE(gathered.ok());
  const auto& placed = gathered.value()[0];
  EXPECT_THAT(checked(placed), Contains(StartsWith("f:2:8: header ABQ")));
  EXPECT_THAT(checked(placed), Contains(HasSubstr("f:5:9: warning: header code \"A/Q~\" is not known")));
  EXPECT_EQ(placed.places.header[2], (base::Place{"f", 4, 1}));
  const auto pairs = records_from_json(
      "{\"records\": [\n{\"observations\": []},\n{\"header\": [[\"ABF\", \"2026-03-02\"],\n[\"ABQ\", -1]], "
      "\"observations\": []}]}",
      "f");
  ASSERT_TRUE(pairs.ok());
  EXPECT_THAT(checked(pairs.value()[1]), Contains(StartsWith("f:4:9: header ABQ")));
  EXPECT_THAT(pairs.value()[0].places.header, IsEmpty());
}

}  // namespace
}  // namespace haunch::exchange
