// SPDX-License-Identifier: Apache-2.0
#include "exchange/exchange_text.hpp"
#include "exchange/read_records.hpp"

namespace haunch::exchange {

std::string write_records(const std::vector<coding::Record>& records, FileKind kind) {
  if (kind == FileKind::record_json) return records_to_json(records);
  return kind == FileKind::csv ? records_to_csv(records) : exchange_to_text(records);
}

}  // namespace haunch::exchange
