// SPDX-License-Identifier: Apache-2.0
// The inspections of a file one after another, so that a file of any size needs memory for one of them.
#pragma once

#include <cstddef>
#include <filesystem>
#include <memory>
#include <optional>

#include "base/result.hpp"
#include "exchange/exchange_text.hpp"
#include "exchange/read_records.hpp"
#include "exchange/record_json.hpp"

namespace haunch::exchange {

/// One inspection of a file.
struct Inspection {
  int number = 1;          ///< within the file, from 1
  base::Place place;       ///< where it begins
  PlacedRecord placed;     ///< what could be read of it
  base::Problems remarks;  ///< of this inspection; with an error among them it was not read whole
  TextLayout layout;       ///< how it stands there; only of exchange text
};

/// How much of a file is looked at together. Tests read small files in smaller blocks.
struct Blocks {
  std::size_t bytes = std::size_t{256} << 10U;
  std::size_t head =
      std::size_t{1} << 20U;  ///< by which the file tells what it is, and its #A lines how written
};

/// Walks a file of JSON, exchange text or CSV. A file that is none of these, cannot be opened or whose
/// rows cannot be split gives no inspection and says why in `problems`.
///
/// Exchange text and CSV may be of any size, and so may a list of records as JSON; one inspection, or a
/// JSON file of another form, may have 64 MiB. At most 500 problems are kept of each inspection and of the
/// file as a whole.
class Inspections {
 public:
  explicit Inspections(const std::filesystem::path& file, Blocks blocks = {});
  Inspections(Inspections&&) noexcept;
  Inspections& operator=(Inspections&&) noexcept;
  ~Inspections();

  /// The next one, or nothing at the end.
  std::optional<Inspection> next();
  /// The same into memory that is used again; false at the end.
  bool next(Inspection& into);
  /// Problems of the file as a whole, with places; complete once `next` has given nothing.
  const base::Problems& problems() const;

  /// What the file is; nothing when it is none of them.
  std::optional<FileKind> kind() const;
  /// How exchange text is written; nothing for the others.
  std::optional<TextStyle> style() const;
  /// The language of the remarks that the file names: #A2 of exchange text, the key beside the records of
  /// JSON (in a list of records only when it stands before them); nothing where it names none.
  std::optional<std::string> language() const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace haunch::exchange
