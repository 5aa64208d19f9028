// SPDX-License-Identifier: Apache-2.0
// The store gives back what was put in, keeps it, and refuses in words what it cannot trust.
#include "scores/store.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sqlite3.h>

#include <cmath>
#include <fstream>
#include <limits>

#include "base/files.hpp"
#include "base/random.hpp"
#include "scores/sample.hpp"
#include "scores/schema.hpp"

namespace haunch::scores {
namespace {

using test::Folder;
using test::sample;
using ::testing::HasSubstr;

/// Plain SQLite, past the store: what another program could do to the file.
class Raw {
 public:
  explicit Raw(const std::filesystem::path& file) {
    EXPECT_EQ(sqlite3_open(file.c_str(), &handle_), SQLITE_OK);
  }
  Raw(const Raw&) = delete;
  Raw& operator=(const Raw&) = delete;
  ~Raw() { sqlite3_close(handle_); }
  /// Empty when it worked, else what SQLite said.
  std::string run(const std::string& sql) {
    char* said = nullptr;
    sqlite3_exec(handle_, sql.c_str(), nullptr, nullptr, &said);
    std::string text = said ? said : "";
    sqlite3_free(said);
    return text;
  }

 private:
  sqlite3* handle_ = nullptr;
};

std::string refusal(const std::filesystem::path& file) {
  try {
    Store::open(file);
  } catch (const std::runtime_error& error) {
    return error.what();
  }
  return "opened";
}

std::string bytes_of(const std::filesystem::path& file) { return base::read_file(file).value(); }
void put(const std::filesystem::path& file, const std::string& bytes) {
  std::ofstream(file, std::ios::binary) << bytes;
}

TEST(Store, GivesBackWhatWasPutIn) {
  const Folder folder;
  const Attempt attempt = sample("a1");
  Store store = Store::open(folder / "s.sqlite");
  EXPECT_TRUE(store.attempts().empty());
  store.add(attempt);
  EXPECT_EQ(store.attempts(), std::vector<Attempt>{attempt});
  // And by another opening of the same file.
  EXPECT_EQ(Store::open(folder / "s.sqlite").attempts(), std::vector<Attempt>{attempt});
}

TEST(Store, KeepsAbsentApartFromZero) {
  const Folder folder;
  Store store = Store::open(folder / "s.sqlite");
  Attempt none = sample("none");
  none.classes_right.reset();
  none.classes_asked.reset();
  none.classes_right_firm.reset();
  none.classes_asked_firm.reset();
  none.action_right.reset();
  Attempt zero = sample("zero");
  zero.classes_right = 0;
  zero.classes_asked = 0;
  zero.classes_right_firm = 0;
  zero.classes_asked_firm = 0;
  zero.action_right = false;
  store.add(none);
  store.add(zero);
  EXPECT_EQ(store.attempts(), (std::vector<Attempt>{none, zero}));
}

TEST(Store, KeepsAnyTextByteForByte) {
  const Folder folder;
  Store store = Store::open(folder / "s.sqlite");
  Attempt attempt = sample("it's \"quoted\"; DROP TABLE attempts; --");
  attempt.trainee = "coder-\xC3\xBC\xE2\x82\xAC\xF0\x9F\x9A\xB0";
  attempt.scenario = ":id % _ \\ \r\n\t '' \"\"";
  attempt.record_json = std::string("before\0after", 12);
  attempt.marking_json = "";
  attempt.input_log = std::string(3'000'000, 'x') + "\xE2\x82\xAC";
  store.add(attempt);
  EXPECT_EQ(store.attempts().front(), attempt);
  EXPECT_EQ(store.attempts(attempt.trainee).size(), 1U);
  EXPECT_EQ(store.attempts("' OR 1=1 --").size(), 0U);
}

TEST(Store, KeepsEveryScoreExactly) {
  const Folder folder;
  Store store = Store::open(folder / "s.sqlite");
  base::Random random(11);
  for (int i = 0; i < 100; ++i) {
    Attempt attempt = sample("a" + std::to_string(i));
    attempt.score = i == 0 ? 0 : i == 1 ? 100 : random.uniform(0, 100);
    store.add(attempt);
    ASSERT_EQ(store.attempts().back().score, attempt.score);
  }
}

TEST(Store, OldestFirstAndByTrainee) {
  const Folder folder;
  Store store = Store::open(folder / "s.sqlite");
  Attempt late = sample("late", "coder-01");
  late.finished_at = "2026-04-01T10:00:00Z";
  Attempt early = sample("early", "coder-02");
  early.finished_at = "2025-12-31T23:59:59Z";
  Attempt same = sample("same", "coder-01");
  same.finished_at = late.finished_at;
  for (const Attempt& attempt : {late, early, same}) store.add(attempt);
  EXPECT_EQ(store.attempts(), (std::vector<Attempt>{early, late, same}));
  EXPECT_EQ(store.attempts("coder-01"), (std::vector<Attempt>{late, same}));
  EXPECT_TRUE(store.attempts("coder-03").empty());
}

TEST(Store, TheSameTwiceIsKeptOnce) {
  const Folder folder;
  Store store = Store::open(folder / "s.sqlite");
  store.add(sample("a1"));
  EXPECT_NO_THROW(store.add(sample("a1")));
  EXPECT_NO_THROW(Store::open(folder / "s.sqlite").add(sample("a1")));
  EXPECT_EQ(store.attempts().size(), 1U);
}

TEST(Store, OtherContentUnderTheSameIdIsRefusedAndTheFirstStays) {
  const Folder folder;
  Store store = Store::open(folder / "s.sqlite");
  store.add(sample("a1"));
  Attempt other = sample("a1");
  other.score = 99;
  try {
    store.add(other);
    FAIL() << "took a second attempt under one id";
  } catch (const std::runtime_error& error) {
    EXPECT_THAT(error.what(), HasSubstr("a1"));
    EXPECT_THAT(error.what(), HasSubstr("different content"));
  }
  EXPECT_EQ(store.attempts(), std::vector<Attempt>{sample("a1")});
}

TEST(Store, RefusesNonsense) {
  const Folder folder;
  Store store = Store::open(folder / "s.sqlite");
  Attempt attempt = sample("");
  EXPECT_THROW(store.add(attempt), std::runtime_error);
  for (const double score : {-0.1, 100.1, std::nan(""), std::numeric_limits<double>::infinity()}) {
    attempt = sample("a1");
    attempt.score = score;
    EXPECT_THROW(store.add(attempt), std::runtime_error) << score;
  }
  EXPECT_TRUE(store.attempts().empty());
}

TEST(Store, NothingChangesOrRemovesARowNotEvenPastTheStore) {
  const Folder folder;
  const auto file = folder / "s.sqlite";
  Store::open(file).add(sample("a1"));
  Raw raw(file);
  EXPECT_THAT(raw.run("UPDATE attempts SET score = 100"), HasSubstr("kept for good"));
  EXPECT_THAT(raw.run("DELETE FROM attempts"), HasSubstr("kept for good"));
  // These end without an error and without an effect.
  raw.run(
      "INSERT OR REPLACE INTO attempts SELECT sequence, id, trainee, finished_at, scenario, scenario_hash, "
      "program, "
      "rules_hash, scheme_hash, code_list_hash, 100, hits, missed, invented, classes_right, classes_asked, "
      "action_right, "
      "record_json, marking_json, input_log, classes_right_firm, classes_asked_firm, mode, sitting FROM "
      "attempts");
  raw.run(
      "INSERT OR REPLACE INTO attempts SELECT sequence + 7, id, trainee, finished_at, scenario, "
      "scenario_hash, program, "
      "rules_hash, scheme_hash, code_list_hash, 100, hits, missed, invented, classes_right, classes_asked, "
      "action_right, "
      "record_json, marking_json, input_log, classes_right_firm, classes_asked_firm, mode, sitting FROM "
      "attempts");
  EXPECT_EQ(Store::open(file).attempts(), std::vector<Attempt>{sample("a1")});
}

TEST(Store, AnswersSittingsAndStepsAreKeptAsAttemptsAre) {
  const Folder folder;
  const auto file = folder / "s.sqlite";
  Answer early = test::sample_answer("q1");
  Answer late = test::sample_answer("q2");
  late.answered_at = "2026-03-03T09:00:00Z";
  late.seconds.reset(), late.share.reset(), late.contrast.reset(), late.hidden.reset(),
      late.in_view_s.reset();
  const Sitting sitting{"s1", "coder-07", "2026-03-02T09:00:00Z", "First exam", "abcd", "17"};
  const Step step{"t1", "coder-08", "2026-03-02T08:00:00Z", "beginner", "joints"};
  {
    Store store = Store::open(file);
    store.add(late), store.add(early), store.add(early), store.add(sitting), store.add(step);
    EXPECT_THROW(store.add(test::sample_answer("")), std::runtime_error);
    for (const double wrong : {-0.1, 1.1, std::nan("")}) {
      Answer bad = test::sample_answer("q3");
      bad.credit = wrong;
      EXPECT_THROW(store.add(bad), std::runtime_error) << wrong;
      bad = test::sample_answer("q3");
      bad.share = wrong;
      EXPECT_THROW(store.add(bad), std::runtime_error) << wrong;
    }
    Answer other = early;
    other.given = "BCA";
    EXPECT_THROW(store.add(other), std::runtime_error) << "another under the same id";
  }
  const Store again = Store::open(file);
  EXPECT_EQ(again.answers(), (std::vector<Answer>{early, late})) << "oldest first";
  EXPECT_EQ(again.answers("coder-08").size(), 0U);
  EXPECT_EQ(again.sittings("coder-07"), std::vector<Sitting>{sitting});
  EXPECT_EQ(again.steps(), std::vector<Step>{step});
  Raw raw(file);
  for (const char* table : {"answers", "sittings", "steps"}) {
    EXPECT_THAT(raw.run(std::string("UPDATE ") + table + " SET trainee = 'x'"), HasSubstr("kept for good"));
    EXPECT_THAT(raw.run(std::string("DELETE FROM ") + table), HasSubstr("kept for good"));
  }
  EXPECT_EQ(
      raw.run("INSERT OR REPLACE INTO answers SELECT sequence, id, 'x', answered_at, kind, skill, code, "
              "instance, given, expected, 0, guess, seconds, in_view_share, contrast, hidden, in_view_s, "
              "sitting FROM answers"),
      "");
  EXPECT_EQ(Store::open(file).answers(), (std::vector<Answer>{early, late}));
}

TEST(Store, WritesItsVersionIntoTheFile) {
  const Folder folder;
  const auto file = folder / "s.sqlite";
  { Store::open(file); }
  Raw raw(file);
  EXPECT_THAT(raw.run("INSERT INTO schema_version VALUES (1, 'again')"), HasSubstr("UNIQUE"));
}

TEST(Store, AStoreFromBeforeFirmClassesWereCountedIsReadAndGoesOn) {
  const Folder folder;
  const auto file = folder / "s.sqlite";
  {  // As the first version of the tables had it.
    Raw raw(file);
    EXPECT_EQ(raw.run("PRAGMA application_id = " + std::to_string(application_id)), "");
    EXPECT_EQ(raw.run("CREATE TABLE schema_version (version INTEGER PRIMARY KEY, applied_at TEXT NOT NULL)"),
              "");
    for (const std::string& statement : schema_steps().at(0)) EXPECT_EQ(raw.run(statement), "");
    EXPECT_EQ(raw.run("INSERT INTO schema_version VALUES (1, '2026-01-01T00:00:00Z')"), "");
    EXPECT_EQ(
        raw.run(
            "INSERT INTO attempts (id, trainee, finished_at, scenario, scenario_hash, program, rules_hash, "
            "scheme_hash, code_list_hash, score, hits, missed, invented, classes_right, classes_asked, "
            "action_right, record_json, marking_json, input_log) VALUES ('a1', 'coder-07', "
            "'2026-01-02T09:40:00Z', 'Canteen branch', 's', '0.1', 'r', 'g', 'c', 71.25, 6, 2, 1, 7, 9, 1, "
            "'{}', '{}', 'log')"),
        "");
  }
  Store store = Store::open(file);
  const auto before = store.attempts();
  ASSERT_EQ(before.size(), 1U);
  EXPECT_EQ(before[0].classes_right, 7);
  EXPECT_EQ(before[0].classes_asked, 9);
  EXPECT_FALSE(before[0].classes_right_firm || before[0].classes_asked_firm) << "nobody counted them";
  store.add(sample("b2"));
  EXPECT_EQ(Store::open(file).attempts(), (std::vector<Attempt>{before[0], sample("b2")}));
}

TEST(Store, AStoreFromANewerProgramIsRefusedAndLeftAlone) {
  const Folder folder;
  const auto file = folder / "s.sqlite";
  Store::open(file).add(sample("a1"));
  { EXPECT_EQ(Raw(file).run("INSERT INTO schema_version VALUES (999, '2031-01-01T00:00:00Z')"), ""); }
  const std::string before = bytes_of(file);
  EXPECT_THAT(refusal(file), HasSubstr("newer version"));
  EXPECT_THAT(refusal(file), HasSubstr("999"));
  EXPECT_EQ(bytes_of(file), before);
}

TEST(Store, AnotherProgramsDatabaseIsRefusedAndLeftAlone) {
  const Folder folder;
  const auto file = folder / "s.sqlite";
  { EXPECT_EQ(Raw(file).run("CREATE TABLE tunes (name TEXT)"), ""); }
  const std::string before = bytes_of(file);
  EXPECT_THAT(refusal(file), HasSubstr("another program"));
  EXPECT_EQ(bytes_of(file), before);
}

TEST(Store, ADamagedFileIsRefusedInWordsAndLeftAlone) {
  const Folder folder;
  const auto good = folder / "good.sqlite";
  {
    Store store = Store::open(good);
    for (int i = 0; i < 40; ++i) store.add(sample("a" + std::to_string(i)));
  }
  const std::string whole = bytes_of(good);
  ASSERT_GT(whole.size(), 16384U);
  const auto bad = folder / "bad.sqlite";
  std::vector<std::string> damaged = {"hello, I am a text file\n", "SQLite", std::string(8192, '\0'),
                                      whole.substr(0, 50), whole.substr(0, whole.size() / 2)};
  std::string scribbled = whole;
  for (std::size_t i = 4096; i < 12288; ++i) scribbled[i] = static_cast<char>(0xA5);
  damaged.push_back(scribbled);
  for (const std::string& bytes : damaged) {
    put(bad, bytes);
    EXPECT_THAT(refusal(bad), HasSubstr("damaged")) << bytes.size() << " bytes";
    EXPECT_THAT(refusal(bad), HasSubstr("left as it is"));
    EXPECT_THAT(refusal(bad), HasSubstr("bad.sqlite"));
    EXPECT_TRUE(bytes_of(bad) == bytes) << "the damaged file was changed";
  }
}

TEST(Store, PlacesThatCannotBe) {
  const Folder folder;
  EXPECT_THAT(refusal(folder / "nowhere" / "s.sqlite"), HasSubstr("no folder"));
  EXPECT_THAT(refusal(folder / "."), HasSubstr("is a folder"));
}

TEST(Store, AwkwardPathsWork) {
  const Folder folder;
  for (const char* name : {"with space.sqlite", "a  b\tc.sqlite", "x=1 y=2.sqlite", "q\"uote's.sqlite",
                           "\xC3\xBC.sqlite", "file:odd?mode=memory.sqlite", "percent%20.sqlite"}) {
    const auto file = folder / name;
    Store::open(file).add(sample("a1"));
    EXPECT_TRUE(std::filesystem::is_regular_file(file)) << name;
    EXPECT_EQ(Store::open(file).attempts().size(), 1U) << name;
  }
}

TEST(Store, DefaultPlaceIsTheDataFolder) {
  const Folder folder;
  ASSERT_EQ(setenv("HAUNCH_DATA", (folder / "data").c_str(), 1), 0);
  EXPECT_EQ(default_store(), folder / "data" / "scores.sqlite");
  Store::open(default_store()).add(sample("a1"));
  EXPECT_TRUE(std::filesystem::exists(folder / "data" / "scores.sqlite"));
  unsetenv("HAUNCH_DATA");
}

}  // namespace
}  // namespace haunch::scores
