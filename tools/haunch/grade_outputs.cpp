// SPDX-License-Identifier: Apache-2.0
#include "grade_outputs.hpp"

#include <algorithm>

#include "report/owner_page.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;
namespace {

/// A browser opens no more at ease, and memory holds the pages until they stand in order.
constexpr std::size_t most_pages = 100, most_index_rows = 1000;
constexpr std::size_t gathered_most = std::size_t{64} << 10U;
constexpr std::size_t picture_budget = std::size_t{24} << 20U;

}  // namespace

void GradesJson::add(const std::string& grade) {
  if (count_ == 0) {
    first_ = grade;
  } else {
    if (count_ == 1) out_ << "{\"kind\": \"grades\", \"edition\": 1, \"grades\": [\n" << first_;
    if (count_ == 1) first_.clear();
    out_ << ",\n" << grade;
  }
  ++count_;
}

void GradesJson::finish(const report::RunsTable& table, bool alone) {
  // The only inspection cannot be graded: whoever reads this still gets a document that says why.
  if (alone && count_ == 1) {
    out_ << first_;
  } else {
    if (count_ <= 1) out_ << "{\"kind\": \"grades\", \"edition\": 1, \"grades\": [\n" << first_;
    out_ << "],\n";
    report::write_runs_json(table, report::Meanings::shipped(), out_);
    out_ << "}\n";
  }
  out_.flush();
  if (!out_) throw std::runtime_error("the output could not be written");
}

std::streambuf::int_type WrittenAsItGoes::Gathered::overflow(int_type letter) {
  if (traits_type::eq_int_type(letter, traits_type::eof())) return traits_type::not_eof(letter);
  const char one = traits_type::to_char_type(letter);
  return xsputn(&one, 1) == 1 ? letter : traits_type::eof();
}

std::streamsize WrittenAsItGoes::Gathered::xsputn(const char* text, std::streamsize length) {
  gathered_.append(text, static_cast<std::size_t>(length));
  return gathered_.size() < gathered_most || sync() == 0 ? length : 0;
}

int WrittenAsItGoes::Gathered::sync() {
  file_->write(gathered_);
  gathered_.clear();
  return file_->problems().empty() ? 0 : -1;
}

WrittenAsItGoes::WrittenAsItGoes(const fs::path& file) {
  if (file == "-") return;
  file_.emplace(file, base::Overwrite::yes);  // whether it may was asked before
  if (!file_->problems().empty()) throw std::runtime_error(base::to_line(file_->problems().front()));
}

void WrittenAsItGoes::finish() {
  out().flush();
  if (!file_) {
    if (!std::cout) throw std::runtime_error("the output could not be written");
    return;
  }
  const base::Problems problems = file_->finish();
  if (!problems.empty()) throw std::runtime_error(base::to_line(problems.front()));
}

void write_pages(const Pages& pages, const Batch& batch, const report::RunsTable& table) {
  const std::size_t count = std::min(table.runs.size(), most_pages);
  std::map<std::uint32_t, std::vector<int>> chosen;
  std::map<std::pair<std::uint32_t, int>, std::size_t> rank;
  for (std::size_t i = 0; i < count; ++i) {
    chosen[table.runs[i].file].push_back(table.runs[i].inspection);
    rank[{table.runs[i].file, table.runs[i].inspection}] = i;
  }
  std::vector<std::string> articles(count);
  // Shared by all pages, in the order of the files: a page further on may have to say that there is no room.
  std::size_t left = picture_budget;
  grade_again(batch, chosen, [&](const OneGraded& one) {
    const std::size_t place = rank.at({one.file, one.inspection});
    const fs::path& file = batch.files[one.file];
    report::RecordPictures pictures(file.parent_path(), left);
    report::OwnerPage page;
    page.record = &one.record;
    page.grade = &one.grade;
    page.file = file.filename().string();
    page.inspection = one.inspection;
    page.number = static_cast<int>(place) + 1;
    page.remarks = one.remarks;
    page.zero = pages.zero;
    page.unit = pages.unit;
    page.pictures = &pictures;
    articles[place] = report::owner_article(page);
    left = pictures.left();
  });
  const bool single = table.runs.size() == 1 && table.not_graded.empty();
  WrittenAsItGoes file(pages.file);
  file.out() << report::owner_head(single ? table.runs.front().pipe + ": owner's summary"
                                          : "Drain inspections: owner's summary");
  if (!single) file.out() << report::runs_html(table, report::Meanings::shipped(), most_index_rows, count);
  for (const std::string& article : articles) file.out() << article;
  file.out() << report::owner_foot();
  file.finish();
}

}  // namespace haunch::cli
