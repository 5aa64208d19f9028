// SPDX-License-Identifier: Apache-2.0
#include "exchange/inspections.hpp"

#include "exchange/read_records.hpp"

namespace haunch::exchange {

struct Inspections::Walk {
  std::vector<PlacedRecord> records;
  std::size_t at = 0;
  base::Problems problems;
};

Inspections::Inspections(const std::filesystem::path& file) : walk_(std::make_unique<Walk>()) {
  auto read = read_records(file);
  walk_->problems = read.problems();
  if (read) walk_->records = std::move(read).value();
}
Inspections::Inspections(Inspections&&) noexcept = default;
Inspections& Inspections::operator=(Inspections&&) noexcept = default;
Inspections::~Inspections() = default;

std::optional<Inspection> Inspections::next() {
  if (walk_->at >= walk_->records.size()) return {};
  Inspection one{static_cast<int>(walk_->at) + 1, std::move(walk_->records[walk_->at]), {}};
  ++walk_->at;
  return one;
}

const base::Problems& Inspections::problems() const { return walk_->problems; }

}  // namespace haunch::exchange
