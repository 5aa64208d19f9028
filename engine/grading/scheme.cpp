// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <stdexcept>

#include "base/files.hpp"
#include "base/words.hpp"
#include "grading/procedure.hpp"

namespace haunch::grading {

void Scheme::Inside::index() {
  for (std::size_t i = 0; i < rows.size(); ++i) {
    RowsByGoal& by_goal = rows_of_code.try_emplace(rows[i].code, goals.size()).first->second;
    const auto goal = std::find(goals.begin(), goals.end(), rows[i].goal);
    by_goal.at(static_cast<std::size_t>(goal - goals.begin())).push_back(i);
  }
  for (std::size_t i = 0; i < not_graded.size(); ++i)
    for (const std::string& code : not_graded[i].codes) why_not_graded.emplace(code, i);
}

const SiteField* Scheme::Inside::field(std::string_view name) const {
  const auto found =
      std::find_if(site.begin(), site.end(), [&](const SiteField& one) { return one.name == name; });
  return found == site.end() ? nullptr : &*found;
}

const Scheme& Scheme::shipped() {
  static const Scheme scheme = [] {
    auto read = shipped_named("three-goals");
    if (!read)
      throw std::runtime_error("the content folder is damaged: " + base::to_line(read.problems().front()));
    return std::move(read).value();
  }();
  return scheme;
}

std::vector<std::string> Scheme::shipped_ids() {
  std::vector<std::string> ids;
  for (const auto& entry : std::filesystem::directory_iterator(base::content_dir() / "grading"))
    if (entry.path().extension() == ".json") ids.push_back(entry.path().stem().string());
  std::sort(ids.begin(), ids.end());
  return ids;
}

base::Result<Scheme> Scheme::shipped_named(const std::string& id) {
  const std::vector<std::string> ids = shipped_ids();
  if (std::find(ids.begin(), ids.end(), id) == ids.end())
    return base::Problem{{},
                         base::Severity::error,
                         "no shipped scheme is called \"" + id + "\"",
                         "one of \"" + base::join(ids, "\", \"") + "\"",
                         base::nearest_word(id, ids)};
  return read(base::content_dir() / "grading" / (id + ".json"));
}

std::filesystem::path Scheme::file_named(const std::string& id_or_file) {
  const std::vector<std::string> ids = shipped_ids();
  const bool shipped = std::find(ids.begin(), ids.end(), id_or_file) != ids.end();
  return shipped ? base::content_dir() / "grading" / (id_or_file + ".json")
                 : std::filesystem::path(id_or_file);
}

base::Result<Scheme> Scheme::named(const std::string& id_or_file) {
  const std::filesystem::path file = file_named(id_or_file);
  // A bare word that is no file is a slip in an id; anything else is a file that may be missing.
  const bool a_word = id_or_file.find_first_of("/\\.") == std::string::npos;
  return a_word && !std::filesystem::exists(file) ? shipped_named(id_or_file) : read(file);
}

const std::string& Scheme::id() const { return inside_->id; }
const std::string& Scheme::title() const { return inside_->title; }
const std::string& Scheme::fingerprint() const { return inside_->fingerprint; }
std::string_view Scheme::procedure() const { return inside_->procedure->name; }

std::vector<std::string> Scheme::row_ids() const {
  std::vector<std::string> ids;
  for (const Row& row : inside_->rows) ids.push_back(row.id);
  return ids;
}

const std::vector<std::string>& Scheme::goals() const { return inside_->goals; }
int Scheme::worst_class() const { return inside_->worst_class; }

std::vector<std::string> Scheme::overall_ids() const {
  std::vector<std::string> ids;
  for (const Judged& judged : inside_->mean_and_worst.judged)
    for (const std::string& id : {judged.scale.id, judged.density.id, judged.index.scale.id})
      ids.push_back(id);
  return ids;
}

const std::vector<SiteField>& Scheme::site_fields() const { return inside_->site; }

std::string Scheme::object_class_meaning(int object_class) const {
  const auto found = inside_->object_meaning.find(object_class);
  return found == inside_->object_meaning.end() ? std::string() : found->second;
}

std::string show(Outcome outcome) {
  switch (outcome) {
    case Outcome::classed:
      return "classed";
    case Outcome::no_row:
      return "no row";
    case Outcome::value_missing:
      return "value missing";
    case Outcome::condition_unknown:
      return "condition unknown";
    case Outcome::not_relevant:
      return "not relevant";
    case Outcome::no_defect:
      return "no defect";
  }
  return {};
}

}  // namespace haunch::grading
