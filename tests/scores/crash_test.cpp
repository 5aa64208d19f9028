// SPDX-License-Identifier: Apache-2.0
// Writers that are killed, and writers that write at once: what add() confirmed is there.
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>

#include <set>

#include "base/random.hpp"
#include "campaign.hpp"
#include "scores/sample.hpp"
#include "scores/store.hpp"

namespace haunch::scores {
namespace {

using test::Folder;
using test::sample;

Attempt attempt_number(int n) {
  Attempt attempt = sample("n" + std::to_string(n));
  attempt.input_log =
      std::string(static_cast<std::size_t>(200 + (n * 977) % 20000), static_cast<char>('a' + n % 26));
  return attempt;
}

/// Runs `work` in a process of its own that ends without tidying up.
template <class Work>
pid_t apart(Work work) {
  const pid_t child = ::fork();
  if (child == 0) {
    int code = 0;
    try {
      work();
    } catch (const std::exception& error) {
      std::fprintf(stderr, "writer: %s\n", error.what());
      code = 1;
    }
    ::_exit(code);
  }
  return child;
}

/// Adds from `first` on for ever, telling each confirmed number.
void write_for_ever(const std::filesystem::path& file, int first, int tell) {
  Store store = Store::open(file);
  for (int n = first;; ++n) {
    store.add(attempt_number(n));
    if (::write(tell, &n, sizeof n) != sizeof n) return;
  }
}

class Killed : public ::testing::TestWithParam<std::uint64_t> {};

TEST_P(Killed, AConfirmedAttemptIsNeverLost) {
  const Folder folder;
  const auto file = folder / "s.sqlite";
  base::Random random(GetParam());
  std::set<int> confirmed;
  int next = 0;
  for (int round = 0; round < campaign::rounds(8); ++round) {
    int ends[2];
    ASSERT_EQ(::pipe(ends), 0);
    const pid_t child = apart([&] {
      ::close(ends[0]);
      write_for_ever(file, next, ends[1]);
    });
    ASSERT_GT(child, 0);
    ::close(ends[1]);
    const std::uint32_t wait_for =
        random.below(12);  // sometimes before the first, even while the file is made
    int n = 0;
    for (std::uint32_t i = 0; i < wait_for && ::read(ends[0], &n, sizeof n) == sizeof n; ++i)
      confirmed.insert(n);
    ::usleep(random.below(4000));
    ASSERT_EQ(::kill(child, SIGKILL), 0);
    ASSERT_EQ(::waitpid(child, nullptr, 0), child);
    while (::read(ends[0], &n, sizeof n) == sizeof n) confirmed.insert(n);
    ::close(ends[0]);

    std::set<int> stored;
    for (const Attempt& attempt : Store::open(file).attempts()) {
      const int number = std::stoi(attempt.id.substr(1));
      EXPECT_EQ(attempt, attempt_number(number));
      stored.insert(number);
    }
    for (const int wanted : confirmed)
      EXPECT_TRUE(stored.contains(wanted)) << "lost " << wanted << " in round " << round;
    // At most the one under way when it was killed may be there without having been told.
    EXPECT_LE(stored.size(), confirmed.size() + static_cast<std::size_t>(round) + 1);
    next = stored.empty() ? 0 : *stored.rbegin() + 1;
  }
  EXPECT_GT(confirmed.size(), 8U);
}
INSTANTIATE_TEST_SUITE_P(Seeds, Killed, ::testing::Values(1U, 2U, 3U, 4U));

TEST(AtOnce, ThreeWritersOnANewFileKeepEverything) {
  const Folder folder;
  const auto file = folder / "s.sqlite";
  constexpr int each = 30;
  std::vector<pid_t> writers;
  for (int w = 0; w < 3; ++w) {
    writers.push_back(apart([&] {
      Store store = Store::open(file);  // all three may be the one that makes the tables
      for (int i = 0; i < each; ++i) store.add(attempt_number(w * 1000 + i));
      store.add(sample("shared"));  // the same from all
    }));
  }
  for (const pid_t writer : writers) {
    int status = 0;
    ASSERT_EQ(::waitpid(writer, &status, 0), writer);
    EXPECT_TRUE(WIFEXITED(status) && WEXITSTATUS(status) == 0);
  }
  const auto all = Store::open(file).attempts();
  std::set<std::string> ids;
  for (const Attempt& attempt : all) ids.insert(attempt.id);
  EXPECT_EQ(all.size(), 3U * each + 1);
  EXPECT_EQ(ids.size(), all.size());
}

TEST(AtOnce, AReaderSeesWhatAWriterAddsMeanwhile) {
  const Folder folder;
  const auto file = folder / "s.sqlite";
  Store reader = Store::open(file);
  Store writer = Store::open(file);
  for (int i = 0; i < 5; ++i) {
    writer.add(attempt_number(i));
    EXPECT_EQ(reader.attempts().size(), static_cast<std::size_t>(i + 1));
  }
}

}  // namespace
}  // namespace haunch::scores
