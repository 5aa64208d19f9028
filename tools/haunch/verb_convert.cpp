// SPDX-License-Identifier: Apache-2.0
// haunch convert: records between exchange text, JSON and CSV.
#include <iostream>

#include "base/files.hpp"
#include "exchange/read_records.hpp"
#include "verbs.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;

int convert(const Arguments& arguments) {
  Command command{
      "convert IN OUT [--force]",
      "Reads inspections (exchange text, JSON or CSV, told apart by what stands in the file) and\n"
      "writes them: .json as JSON, .csv as CSV, any other name as EN 13508-2 exchange text.\n"
      "A file that is there already is left as it is unless --force is given."};
  command.place("IN").place("OUT");
  command.options.add_options()("force", "write over OUT when it is there");
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  const fs::path in = text_of(*given, "IN"), out = text_of(*given, "OUT");
  std::error_code ignored;
  if (fs::equivalent(in, out, ignored)) throw UsageError("IN and OUT are the same file");

  std::vector<coding::Record> records;
  for (exchange::PlacedRecord& placed : need(exchange::read_records(in)))
    records.push_back(std::move(placed.record));
  const std::string bytes = exchange::write_records(records, exchange::kind_for_writing(out));
  if (!has(*given, "force") && fs::exists(out)) {
    throw InputProblems(base::write_file(out, bytes, base::Overwrite::no));
  }
  write_or_throw(out, bytes);
  std::size_t observations = 0;
  for (const coding::Record& record : records) observations += record.observations.size();
  std::cout << out.string() << ": " << records.size()
            << (records.size() == 1 ? " inspection, " : " inspections, ") << observations
            << (observations == 1 ? " observation\n" : " observations\n");
  return done;
}

}  // namespace haunch::cli
