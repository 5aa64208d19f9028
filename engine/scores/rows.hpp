// SPDX-License-Identifier: Apache-2.0
// From values to rows and back: each kind names its columns once. Inside this room.
#pragma once

#include <soci/soci.h>

#include <deque>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "scores/kept.hpp"

namespace haunch::scores {

template <class Kept>
struct Table;  ///< name, column of the time, and `columns(visitor, value)`

template <>
struct Table<Attempt> {
  static constexpr const char *name = "attempts", *time = "finished_at", *one = "attempt";
  template <class Visitor, class Value>
  static void columns(Visitor&& on, Value& a) {
    on("id", a.id), on("trainee", a.trainee), on("finished_at", a.finished_at), on("scenario", a.scenario);
    on("scenario_hash", a.scenario_hash), on("program", a.program), on("rules_hash", a.rules_hash);
    on("scheme_hash", a.scheme_hash), on("code_list_hash", a.code_list_hash), on("score", a.score);
    on("hits", a.hits), on("missed", a.missed), on("invented", a.invented);
    on("classes_right", a.classes_right), on("classes_asked", a.classes_asked);
    on("action_right", a.action_right), on("record_json", a.record_json);
    on("marking_json", a.marking_json), on("input_log", a.input_log);
    on("classes_right_firm", a.classes_right_firm), on("classes_asked_firm", a.classes_asked_firm);
    on("mode", a.mode), on("sitting", a.sitting);
  }
};

template <>
struct Table<Answer> {
  static constexpr const char *name = "answers", *time = "answered_at", *one = "answer";
  template <class Visitor, class Value>
  static void columns(Visitor&& on, Value& a) {
    on("id", a.id), on("trainee", a.trainee), on("answered_at", a.answered_at), on("kind", a.kind);
    on("skill", a.skill), on("code", a.code), on("instance", a.instance), on("given", a.given);
    on("expected", a.right), on("credit", a.credit), on("guess", a.guess), on("seconds", a.seconds);
    on("in_view_share", a.share), on("contrast", a.contrast), on("hidden", a.hidden);
    on("in_view_s", a.in_view_s), on("sitting", a.sitting);
  }
};

template <>
struct Table<Sitting> {
  static constexpr const char *name = "sittings", *time = "started_at", *one = "sitting";
  template <class Visitor, class Value>
  static void columns(Visitor&& on, Value& a) {
    on("id", a.id), on("trainee", a.trainee), on("started_at", a.started_at), on("exam", a.exam);
    on("exam_hash", a.exam_hash), on("seed", a.seed);
  }
};

template <>
struct Table<Step> {
  static constexpr const char *name = "steps", *time = "done_at", *one = "step";
  template <class Visitor, class Value>
  static void columns(Visitor&& on, Value& a) {
    on("id", a.id), on("trainee", a.trainee), on("done_at", a.done_at), on("course", a.course);
    on("step", a.step);
  }
};

/// Places for the values of one row on their way in or out: SOCI wants a place and whether it is filled.
class Places {
 public:
  explicit Places(soci::statement& statement) : statement_(statement) {}

  void use(const std::string& value) { statement_.exchange(soci::use(texts_.emplace_back(value))); }
  void use(double value) { use(std::optional(value)); }
  void use(int value) { use(std::optional(value)); }
  void use(const std::optional<double>& value) { use(numbers_, value); }
  void use(const std::optional<int>& value) { use(counts_, value); }
  void use(const std::optional<bool>& value) {
    use(value ? std::optional(*value ? 1 : 0) : std::optional<int>());
  }

  void into(std::string& value) { statement_.exchange(soci::into(value)); }
  void into(double& value) { statement_.exchange(soci::into(value)); }
  void into(int& value) { statement_.exchange(soci::into(value)); }
  void into(std::optional<double>& value) { into(numbers_, value); }
  void into(std::optional<int>& value) { into(counts_, value); }
  void into(std::optional<bool>& value) { into(counts_, value); }
  /// After a row was fetched: what may be absent goes to where it belongs.
  void fetched() const {
    for (const auto& take : takes_) take();
  }

 private:
  template <class Plain>
  void use(std::deque<Plain>& places, const std::optional<Plain>& value) {
    statement_.exchange(soci::use(places.emplace_back(value.value_or(Plain{})),
                                  flags_.emplace_back(value ? soci::i_ok : soci::i_null)));
  }
  template <class Plain, class Value>
  void into(std::deque<Plain>& places, std::optional<Value>& value) {
    Plain& place = places.emplace_back();
    soci::indicator& flag = flags_.emplace_back(soci::i_null);
    statement_.exchange(soci::into(place, flag));
    takes_.emplace_back([&place, &flag, &value] {
      value.reset();
      if (flag == soci::i_ok) value = static_cast<Value>(place);
    });
  }

  soci::statement& statement_;
  std::deque<std::string> texts_;
  std::deque<double> numbers_;
  std::deque<int> counts_;
  std::deque<soci::indicator> flags_;
  std::vector<std::function<void()>> takes_;
};

template <class Kept>
std::string column_names(const std::string& before_each = "") {
  std::string names;
  Kept none;
  Table<Kept>::columns(
      [&](const char* name, auto&) { names += (names.empty() ? "" : ", ") + before_each + name; }, none);
  return names;
}

/// A repeated id is left to the trigger that keeps the first row.
template <class Kept>
void insert(soci::session& sql, const Kept& value) {
  soci::statement statement(sql);
  Places places(statement);
  Table<Kept>::columns([&](const char*, const auto& field) { places.use(field); }, value);
  statement.alloc();
  statement.prepare(std::string("INSERT INTO ") + Table<Kept>::name + " (" + column_names<Kept>() +
                    ") VALUES (" + column_names<Kept>(":") + ")");
  statement.define_and_bind();
  statement.execute(true);
}

/// Oldest first; those whose `column` has the value `wanted`, where one is given.
template <class Kept>
std::vector<Kept> select(soci::session& sql, const char* column, const std::optional<std::string>& wanted) {
  soci::statement statement(sql);
  Places places(statement);
  Kept row;
  Table<Kept>::columns([&](const char*, auto& field) { places.into(field); }, row);
  if (wanted) places.use(*wanted);
  statement.alloc();
  statement.prepare("SELECT " + column_names<Kept>() + " FROM " + Table<Kept>::name +
                    (wanted ? std::string(" WHERE ") + column + " = :wanted" : std::string()) + " ORDER BY " +
                    Table<Kept>::time + ", sequence");
  statement.define_and_bind();
  std::vector<Kept> found;
  for (bool more = statement.execute(true); more; more = statement.fetch()) {
    places.fetched();
    found.push_back(row);
  }
  return found;
}

}  // namespace haunch::scores
