// SPDX-License-Identifier: Apache-2.0
// haunch scores, on a store that the demo filled.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "cli/program.hpp"

namespace haunch::cli_test {
namespace {

using ::testing::HasSubstr;

TEST(Scores, TellsOfAPersonInEveryForm) {
  const Program haunch;
  ASSERT_EQ(haunch.run({"demo", "--out", "job"}).code, 0);
  const std::string store = "job/scores.sqlite";
  const Json whole = haunch.json({"scores", "--store", store, "--json"});
  ASSERT_EQ(whole.at("people").size(), 1U);
  const Json& person = whole.at("people")[0];
  EXPECT_EQ(person.at("runs"), 1);
  EXPECT_FALSE(person.at("codes").empty());
  const std::string trainee = person.at("trainee").get<std::string>();
  EXPECT_THAT(haunch.run({"scores", "--store", store}).out, HasSubstr(trainee + ": 0 answers, 1 run"));
  EXPECT_THAT(haunch.run({"scores", "--store", store, "--csv"}).out, HasSubstr(trainee + ",BA"));
  EXPECT_EQ(haunch.json({"scores", "--store", store, "--trainee", "nobody", "--json"}).at("people").size(),
            0U);
  const Ran page = haunch.run({"scores", "--store", store, "--html", "scores.html"});
  EXPECT_EQ(page.code, 0);
  EXPECT_EQ(page.out, "");
  EXPECT_THAT(haunch.read("scores.html"), HasSubstr("Scores of " + trainee));
  EXPECT_EQ(haunch.run({"scores", "--store", store, "--html", "scores.html"}).code, 1)
      << "it is there already";
  EXPECT_EQ(haunch.run({"scores", "--store", store, "--html", store}).code, 2) << "never over the store";
  EXPECT_EQ(haunch.run({"scores", "--json", "--csv"}).code, 2);
  EXPECT_EQ(haunch.run({"scores", "--attempts", "--csv"}).code, 2);
}

}  // namespace
}  // namespace haunch::cli_test
