// SPDX-License-Identifier: Apache-2.0
// The records of a JSON file one after another: a list of records is taken apart by its brackets, and
// each is read by itself.
#include <algorithm>

#include "base/utf8.hpp"
#include "exchange/exchange_columns.hpp"
#include "exchange/text_marks.hpp"
#include "exchange/walk.hpp"

namespace haunch::exchange {
namespace {

constexpr std::size_t npos = std::string_view::npos;

/// Finds where values begin and end, and nothing else: whether they are JSON is decided by who reads them.
class JsonWindow {
 public:
  JsonWindow(Bytes bytes, std::string file_name)
      : bytes_(std::move(bytes)), begins_{std::move(file_name), 1, 1} {}

  bool has(std::size_t i) {
    while (i >= bytes_.window().size())
      if (!bytes_.more()) return false;
    return true;
  }
  char at(std::size_t i) { return has(i) ? bytes_.window()[i] : '\0'; }
  std::string text(std::size_t from, std::size_t to) {
    return std::string(bytes_.window().substr(from, to - from));
  }
  std::size_t past_blank(std::size_t i) {
    while (has(i) && std::string_view(" \t\r\n").find(bytes_.window()[i]) != npos) ++i;
    return i;
  }
  /// Past the closing quote; npos when there is none.
  std::size_t past_string(std::size_t i) {
    for (++i; has(i); ++i) {
      if (bytes_.window()[i] == '"') return i + 1;
      if (bytes_.window()[i] == '\\') ++i;
    }
    return npos;
  }
  /// Past the value that begins there; npos at the end of the file, or past what one record may hold.
  std::size_t past_value(std::size_t i) {
    const std::size_t from = i;
    for (int depth = 0; has(i) && i - from <= largest_inspection;) {
      const char c = bytes_.window()[i];
      if (c == '"') {
        i = past_string(i);
        if (i == npos || depth == 0) return i;
        continue;
      }
      if (depth == 0 && std::string_view(",]} \t\r\n").find(c) != npos) return i;
      depth += c == '{' || c == '[' ? 1 : c == '}' || c == ']' ? -1 : 0;
      ++i;
      if (depth == 0 && (c == '}' || c == ']')) return i;
    }
    return npos;
  }
  std::size_t size() const { return bytes_.window().size(); }
  void pass(std::size_t bytes) {
    for (const char c : bytes_.window().substr(0, bytes)) {
      if (c == '\n') {
        ++begins_.line;
        begins_.column = 1;
      } else if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) {
        ++begins_.column;
      }
    }
    bytes_.pass(bytes);
  }
  /// Of the window.
  const base::Place& begins() const { return begins_; }
  Bytes& bytes() { return bytes_; }

 private:
  Bytes bytes_;
  base::Place begins_;
};

class JsonWalk final : public Walk {
 public:
  JsonWalk(Bytes bytes, const std::string& file_name) : window_(std::move(bytes), file_name) {
    if (!find_list()) read_whole();
  }

  bool next(Inspection& into) override {
    if (!in_list_) return next_of_whole(into);
    std::size_t i = window_.past_blank(0);
    if (count_ > 0 && window_.at(i) == ',') {
      i = window_.past_blank(i + 1);
    } else if (window_.at(i) == ']') {
      window_.pass(i + 1);
      end_of_list();
      return false;
    } else if (count_ > 0) {
      return stop(i, "something else stands between two records of the list", "a comma, or ] at its end");
    }
    if (!window_.has(i)) return stop(i, "the list of records is not ended", "]");
    window_.pass(i);
    std::size_t end = window_.past_value(0);
    if (end == npos && window_.size() > largest_inspection)
      return stop(0, "a record is larger than 64 MiB", "an inspection");
    if (end == npos) end = window_.size();
    if (end == 0) return stop(0, "a record is missing", "an object { ... }");
    into = {};
    into.number = ++count_;
    into.place = window_.begins();
    JsonRecords read = json_records(window_.text(0, end), window_.begins());
    into.remarks = std::move(read.problems);
    if (!read.records.empty()) into.placed = std::move(read.records.front());
    window_.pass(end);
    refuse_too_many(into);
    return true;
  }

 private:
  /// True when the file is an object with a list of records, which then begins the window.
  bool find_list() {
    std::size_t i = window_.past_blank(0);
    if (window_.at(i) != '{') return false;
    i = window_.past_blank(i + 1);
    while (window_.at(i) == '"') {
      const std::size_t key_end = window_.past_string(i);
      if (key_end == npos) return false;
      const std::string key = window_.text(i, key_end);
      i = window_.past_blank(key_end);
      if (window_.at(i) != ':') return false;
      i = window_.past_blank(i + 1);
      if (key == "\"records\"" && window_.at(i) == '[') {
        before_ = window_.text(0, i + 1);
        window_.pass(i + 1);
        list_begins_ = window_.begins();
        in_list_ = true;
        // What stands before the list is a document by itself when the list is ended at once.
        language = json_records(before_ + "]}", {window_.begins().file, 1, 1}).language;
        return true;
      }
      i = window_.past_value(i);
      if (i == npos) return false;
      i = window_.past_blank(i);
      if (window_.at(i) == ',') i = window_.past_blank(i + 1);
    }
    return false;
  }

  void read_whole() {
    window_.bytes().fill(largest_inspection + 1);
    if (window_.size() > largest_inspection) {
      problems.push_back({window_.begins(),
                          base::Severity::error,
                          "the file is larger than 64 MiB and no list of records",
                          "a smaller record, or \"records\": [ ... ]",
                          {}});
      return;
    }
    whole_ = json_records(window_.text(0, window_.size()), window_.begins());
    language = whole_.language;
    // What is no record at all is a problem of the file.
    if (whole_.records.empty()) problems = std::move(whole_.problems);
  }

  bool next_of_whole(Inspection& into) {
    if (static_cast<std::size_t>(count_) >= whole_.records.size()) return false;
    into = {};
    into.placed = std::move(whole_.records[static_cast<std::size_t>(count_)]);
    if (count_++ == 0) into.remarks = std::move(whole_.problems);
    into.number = count_;
    into.place = window_.begins();
    refuse_too_many(into);
    return true;
  }

  static void refuse_too_many(Inspection& one) {
    auto& observations = one.placed.record.observations;
    if (observations.size() <= most_observations) return;
    add_problem(one.remarks, {one.place,
                              base::Severity::error,
                              "an inspection holds " + std::to_string(observations.size()) +
                                  " observations, and no pipe has as many",
                              "at most " + std::to_string(most_observations),
                              {}});
    observations.resize(most_observations);
    one.placed.places.observations.resize(most_observations);
  }

  bool stop(std::size_t i, std::string what, std::string expected) {
    window_.pass(std::min(i, window_.size()));
    problems.push_back({window_.begins(), base::Severity::error, std::move(what), std::move(expected), {}});
    in_list_ = false;
    return false;
  }

  /// What stands round the list is looked at as if the list were empty; what stands after it keeps its place.
  void end_of_list() {
    in_list_ = false;
    const base::Place after = window_.begins();
    window_.bytes().fill(longest_line + 1);
    if (window_.size() > longest_line) {
      stop(0, "more than 1 MiB stands after the list of records", "} at the end of the file");
      return;
    }
    JsonRecords round = json_records(before_ + "]" + window_.text(0, window_.size()), {after.file, 1, 1});
    for (base::Problem& problem : round.problems) {
      base::Place& place = problem.place;
      if (std::pair(place.line, place.column) > std::pair(list_begins_.line, list_begins_.column)) {
        if (place.line == list_begins_.line) place.column += after.column - list_begins_.column - 1;
        place.line += after.line - list_begins_.line;
      }
      problems.push_back(std::move(problem));
    }
  }

  JsonWindow window_;
  bool in_list_ = false;
  int count_ = 0;
  std::string before_;
  base::Place list_begins_;
  JsonRecords whole_;
};

}  // namespace

std::unique_ptr<Walk> walk_json(Bytes bytes, const std::string& file_name) {
  return std::make_unique<JsonWalk>(std::move(bytes), file_name);
}

}  // namespace haunch::exchange
