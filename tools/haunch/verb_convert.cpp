// SPDX-License-Identifier: Apache-2.0
// haunch convert: records between exchange text, JSON and CSV.
#include <iostream>

#include "base/files.hpp"
#include "exchange/read_records.hpp"
#include "outputs.hpp"
#include "records.hpp"
#include "verbs.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;

int convert(const Arguments& arguments) {
  Command command{
      "convert IN OUT [options]",
      "Reads inspections (exchange text, JSON or CSV, told apart by what stands in the file) and\n"
      "writes them: .json as JSON, .csv as CSV, any other name as EN 13508-2 exchange text.\n"
      "What `haunch check` would say of them is said, and copied all the same."};
  command.place("IN").place("OUT");
  add_force(command);
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  const fs::path in = text_of(*given, "IN"), out = text_of(*given, "OUT");
  if (same_file(in, out)) throw UsageError("IN and OUT are the same file");

  std::vector<exchange::PlacedRecord> read = read_inspections(in);
  problems_in_the_way(read, in, TakenAs::copy);
  std::vector<coding::Record> records;
  for (exchange::PlacedRecord& placed : read) records.push_back(std::move(placed.record));
  keep_others({{"OUT", out}}, *given);
  write_or_throw(out, exchange::write_records(records, exchange::kind_for_writing(out)));
  std::size_t observations = 0;
  for (const coding::Record& record : records) observations += record.observations.size();
  std::cout << out.string() << ": " << counted(records.size(), "inspection") << ", "
            << counted(observations, "observation") << '\n';
  return done;
}

}  // namespace haunch::cli
