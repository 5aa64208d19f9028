// SPDX-License-Identifier: Apache-2.0
// The inspections of a file one after another, so that a file of any size needs memory for one of them.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>

#include "base/result.hpp"
#include "exchange/record_json.hpp"

namespace haunch::exchange {

/// One inspection of a file.
struct Inspection {
  int number = 1;          ///< within the file, from 1
  PlacedRecord placed;     ///< what could be read of it
  base::Problems remarks;  ///< of this inspection; with an error among them it was not read whole
};

/// Walks a file of JSON, exchange text or CSV. A file that is none of these, cannot be opened or whose
/// rows cannot be split gives no inspection and says why in `problems`.
class Inspections {
 public:
  explicit Inspections(const std::filesystem::path& file);
  Inspections(Inspections&&) noexcept;
  Inspections& operator=(Inspections&&) noexcept;
  ~Inspections();

  /// The next one, or nothing at the end.
  std::optional<Inspection> next();
  /// Problems of the file as a whole, with places; complete once `next` has given nothing.
  const base::Problems& problems() const;

 private:
  struct Walk;
  std::unique_ptr<Walk> walk_;
};

}  // namespace haunch::exchange
