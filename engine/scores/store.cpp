// SPDX-License-Identifier: Apache-2.0
// The store on SQLite through SOCI: write-ahead log, every commit forced to disk, append-only.
#include "scores/store.hpp"

#include <cmath>
#include <stdexcept>

#include "base/files.hpp"
#include "scores/opening.hpp"
#include "scores/rows.hpp"

namespace haunch::scores {
namespace fs = std::filesystem;

struct Store::Inside {
  explicit Inside(fs::path where) : file(std::move(where)) {}
  fs::path file;
  mutable soci::session sql;

  template <class Kept>
  void add(const Kept& value) {
    const std::string what = Table<Kept>::one;
    if (value.id.empty()) throw std::runtime_error("an " + what + " without an id cannot be stored");
    in_words(file, [&] {
      insert(sql, value);
      const std::vector<Kept> stored = select<Kept>(sql, "id", value.id);
      if (stored.size() != 1 || stored.front() != value) {
        throw std::runtime_error("another " + what + " is stored already under the id " + value.id +
                                 ", with different content; it was kept and the new one was not stored");
      }
    });
  }
  template <class Kept>
  std::vector<Kept> all(const std::optional<std::string>& trainee) const {
    return in_words(file, [&] { return select<Kept>(sql, "trainee", trainee); });
  }
};

Store::Store(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;
Store::~Store() = default;

Store Store::open(const fs::path& file) {
  auto inside = std::make_unique<Inside>(file);
  open_session(inside->sql, file);
  return Store(std::move(inside));
}

void Store::add(const Attempt& attempt) {
  if (!attempt.id.empty() && !(attempt.score >= 0 && attempt.score <= 100)) {
    throw std::runtime_error("the attempt " + attempt.id +
                             " has a score outside 0 to 100 and was not stored");
  }
  inside_->add(attempt);
}

void Store::add(const Answer& answer) {
  const auto in = [](double value, double most) { return value >= 0 && value <= most; };
  const bool sense = in(answer.credit, 1) && in(answer.guess, 1) &&
                     (!answer.seconds || (in(*answer.seconds, 1e9))) && in(answer.share.value_or(0), 1) &&
                     in(answer.contrast.value_or(0), 1) && in(answer.hidden.value_or(0), 1) &&
                     in(answer.in_view_s.value_or(0), 1e9);
  if (!answer.id.empty() && !sense)
    throw std::runtime_error("the answer " + answer.id +
                             " has a number outside its range and was not stored");
  inside_->add(answer);
}

void Store::add(const Sitting& sitting) { inside_->add(sitting); }
void Store::add(const Step& step) { inside_->add(step); }

std::vector<Attempt> Store::attempts(const std::optional<std::string>& trainee) const {
  return inside_->all<Attempt>(trainee);
}
std::vector<Answer> Store::answers(const std::optional<std::string>& trainee) const {
  return inside_->all<Answer>(trainee);
}
std::vector<Sitting> Store::sittings(const std::optional<std::string>& trainee) const {
  return inside_->all<Sitting>(trainee);
}
std::vector<Step> Store::steps(const std::optional<std::string>& trainee) const {
  return inside_->all<Step>(trainee);
}

std::string Store::latest() const {
  return in_words(inside_->file, [&] {
    std::string newest;
    soci::indicator has = soci::i_null;
    inside_->sql << "SELECT max(t) FROM (SELECT max(finished_at) AS t FROM attempts UNION ALL SELECT "
                    "max(answered_at) FROM answers UNION ALL SELECT max(started_at) FROM sittings UNION ALL "
                    "SELECT max(done_at) FROM steps)",
        soci::into(newest, has);
    return has == soci::i_ok ? newest : std::string();
  });
}

fs::path default_store() { return base::user_data_dir() / "scores.sqlite"; }

}  // namespace haunch::scores
