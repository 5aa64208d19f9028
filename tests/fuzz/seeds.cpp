// SPDX-License-Identifier: Apache-2.0
#include "base/files.hpp"
#include "exchange/exchange_text.hpp"
#include "exchange/read_records.hpp"
#include "exchange/samples.hpp"
#include "fuzz/entries.hpp"
#include "grading/grade.hpp"

namespace haunch::fuzz {
namespace {

std::vector<coding::Record> some_records() {
  std::vector<coding::Record> records;
  for (auto& placed : exchange::exchange_from_text(exchange::test::sample_text, "f").value().inspections)
    records.push_back(placed.record);
  for (std::uint64_t seed = 1; seed <= 12; ++seed)
    records.push_back(exchange::test::random_record(seed, {false, true, false}));
  return records;
}

std::vector<std::string> texts() {
  std::vector<std::string> all{exchange::test::sample_text};
  exchange::TextStyle style;
  for (const char separator : {';', ',', '|', '\t'})
    for (const auto line_end : {exchange::LineEnd::lf, exchange::LineEnd::crlf, exchange::LineEnd::cr}) {
      style.separator = separator;
      style.decimal = separator == ';' ? ',' : '.';
      style.line_end = line_end;
      style.byte_order_mark = !style.byte_order_mark;
      all.push_back(exchange::exchange_to_text(some_records(), style));
    }
  return all;
}

}  // namespace

std::vector<std::string> seeds(const std::string& name) {
  if (name == "exchange_text") return texts();
  std::vector<std::string> all;
  if (name == "inspections")
    for (const char* kind : {"exchange_text", "record_json", "csv"})
      for (std::string& one : seeds(kind)) all.push_back(std::move(one));
  if (name == "record_json" || name == "csv") {
    const auto records = some_records();
    for (const coding::Record& record : records)
      all.push_back(name == "csv" ? exchange::records_to_csv({record}) : exchange::record_to_json(record));
    all.push_back(name == "csv" ? exchange::records_to_csv(records) : exchange::records_to_json(records));
  }
  if (name == "scheme")
    for (const std::string& id : grading::Scheme::shipped_ids())
      all.push_back(base::read_file(grading::Scheme::file_named(id)).value());
  if (name == "site")
    all.push_back(
        "{\"kind\": \"site\", \"edition\": 1, \"everywhere\": {\"soil\": \"gravel\"},\n"
        "\"pipes\": {\"K3-K4\": {\"groundwater\": \"in the aquifer\"}}}");
  return all;
}

}  // namespace haunch::fuzz
