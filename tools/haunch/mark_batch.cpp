// SPDX-License-Identifier: Apache-2.0
#include "mark_batch.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <tuple>

#include "base/words.hpp"
#include "grade_batch.hpp"
#include "play/exercise.hpp"
#include "report/plain_text.hpp"
#include "report/standing.hpp"
#include "sight_job.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* reference_field = "AAA";

base::Problems nothing_for(const fs::path& file, const std::string& what, const std::string& wanted) {
  return {{{file.string(), 1, 1}, base::Severity::error, what, wanted, {}}};
}

/// All that attempts may be held to, read once.
class Truths {
 public:
  explicit Truths(const fs::path& from) : from_(from) {
    std::error_code ignored;
    const bool folder = fs::is_directory(from, ignored);
    for (const fs::path& file : folder ? files_to_grade({from.string()}) : std::vector<fs::path>{from}) {
      if (folder && file.extension() == ".jsonl") continue;  // an attempt that lies beside them
      all_.push_back(read_truth(file));
      tell_apart(all_.back());
    }
    only_ = !folder;
  }

  const TruthInput& for_attempt(const fs::path& attempt) const {
    if (only_) return all_.front();
    if (attempt.extension() == ".jsonl") {
      const play::LogFile log = need(play::log_file_from_text(read_text_file(attempt), attempt.string()));
      for (const TruthInput& truth : all_)
        if (truth.scene && truth.scene->scenario.title == log.scenario) return truth;
      throw InputProblems(nothing_for(attempt, "the log is of the run \"" + log.scenario + "\"",
                                      "a run of that title among those in " + from_.string()));
    }
    // Only its header is wanted here; what is to be remarked of it is said when it is marked.
    const auto records = exchange::read_records(attempt);
    if (!records.ok()) throw InputProblems(records.problems());
    const auto reference = !records.value().empty()
                               ? records.value().front().record.header_value(reference_field)
                               : std::nullopt;
    if (!reference || reference->empty())
      throw InputProblems(nothing_for(attempt, "the record does not say which pipe it is of",
                                      std::string("a reference (") + reference_field +
                                          ") in its header, as the truth has, or one truth for all"));
    for (const TruthInput& truth : all_)
      if (truth.truth.record.header_value(reference_field) == reference) return truth;
    throw InputProblems(nothing_for(attempt, "no truth is of the pipe \"" + std::string(*reference) + "\"",
                                    "a run or record of that reference in " + from_.string()));
  }

  bool holds(const fs::path& file) const {
    return std::any_of(all_.begin(), all_.end(), [&](const TruthInput& truth) {
      std::error_code ignored;
      return fs::equivalent(truth.file, file, ignored);
    });
  }

 private:
  /// Two that an attempt could belong to would be taken by chance.
  void tell_apart(const TruthInput& latest) const {
    for (const TruthInput& other : all_) {
      if (&other == &latest) continue;
      const auto reference = latest.truth.record.header_value(reference_field);
      const bool same_run = other.scene && latest.scene && other.title == latest.title;
      const bool same_pipe =
          reference && !reference->empty() && other.truth.record.header_value(reference_field) == reference;
      if (same_run || same_pipe)
        throw InputProblems(nothing_for(
            latest.file,
            same_run ? "the run \"" + latest.title + "\" is also in " + other.file.string()
                     : "the pipe \"" + std::string(*reference) + "\" is also in " + other.file.string(),
            "each run and each pipe once in a folder of truths"));
    }
  }

  fs::path from_;
  std::vector<TruthInput> all_;
  bool only_ = true;
};

OneMarked mark_one(const fs::path& file, const Truths& truths, MarkingMeans& means, const GivenSite& site) {
  OneMarked one;
  one.attempt = file;
  try {
    TruthInput truth = truths.for_attempt(file);
    one.truth = truth.file, one.title = truth.title;
    const AttemptInput attempt = read_attempt(file, truth);
    hold_to(truth, attempt);
    means.site = site.of(truth.truth.record);
    const auto in_view = look_again(truth, attempt, means);
    one.marking = mark_with(means, truth.truth.record, attempt.record, base::LengthUnit::metres, in_view,
                            on_drive_of(attempt));
  } catch (const InputProblems& wrong) {
    for (const base::Problem& problem : wrong.problems) one.why_not.push_back(base::to_line(problem));
    if (one.why_not.empty()) one.why_not.emplace_back("it cannot be marked, for what is said above");
  } catch (const std::exception& wrong) {
    one.why_not.emplace_back(wrong.what());  // the rest goes on
  }
  return one;
}

}  // namespace

std::vector<OneMarked> mark_all(const fs::path& truth, const std::vector<std::string>& attempts,
                                MarkingMeans& means, const GivenSite& site) {
  const Truths truths(truth);
  std::vector<OneMarked> all;
  for (const fs::path& file : files_to_grade(attempts))
    if (!truths.holds(file)) all.push_back(mark_one(file, truths, means, site));
  if (all.empty())
    throw InputProblems(nothing_for(attempts.front(), "there is no attempt here beside what is taken as true",
                                    "records, exchange text or input logs of people's own"));
  std::stable_sort(all.begin(), all.end(), [](const OneMarked& a, const OneMarked& b) {
    return std::tuple(!a.why_not.empty(), a.title, -a.marking.score) <
           std::tuple(!b.why_not.empty(), b.title, -b.marking.score);
  });
  return all;
}

std::string marked_text(const std::vector<OneMarked>& all) {
  std::vector<report::Row> rows{{"score", "found", "missed", "false", "danger", "run", "attempt"}};
  std::string rest;
  for (const OneMarked& one : all) {
    if (!one.why_not.empty()) {
      rest += "\nnot marked: " + one.attempt.string() + "\n";
      for (const std::string& why : one.why_not) rest += "  " + why + "\n";
      continue;
    }
    const marking::Summary& counts = one.marking.summary;
    rows.push_back({report::show_score(one.marking.score),
                    std::to_string(counts.found) + " of " + std::to_string(counts.there),
                    std::to_string(counts.missed), std::to_string(counts.false_calls),
                    one.marking.warnings.empty() ? "-" : std::to_string(one.marking.warnings.size()),
                    one.title, one.attempt.string()});
  }
  return report::columns(rows, 0) + rest;
}

std::string marked_json(const std::vector<OneMarked>& all) {
  Json attempts = Json::array();
  for (const OneMarked& one : all) {
    Json entry{{"attempt", one.attempt.string()}};
    if (one.why_not.empty()) {
      entry["truth"] = one.truth.string();
      entry["marking"] = Json::parse(marking::to_json(one.marking));
    } else {
      entry["problems"] = one.why_not;
    }
    attempts.push_back(std::move(entry));
  }
  return Json{{"kind", "markings"}, {"edition", 1}, {"attempts", std::move(attempts)}}.dump(
      2, ' ', false, Json::error_handler_t::replace);
}

}  // namespace haunch::cli
