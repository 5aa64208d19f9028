// SPDX-License-Identifier: Apache-2.0
// The records of a JSON file one after another.
#include "exchange/text_marks.hpp"
#include "exchange/walk.hpp"

namespace haunch::exchange {
namespace {

constexpr std::size_t largest_json = std::size_t{64} << 20U;

class JsonWalk final : public Walk {
 public:
  JsonWalk(Bytes bytes, const std::string& file_name) {
    bytes.fill(largest_json + 1);
    if (bytes.window().size() > largest_json) {
      problems.push_back({{file_name, 1, 1},
                          base::Severity::error,
                          "the file is larger than 64 MiB",
                          "a smaller file, or exchange text",
                          {}});
      return;
    }
    auto read = records_from_json(std::string(bytes.window()), file_name);
    problems = read.problems();
    if (read) records_ = std::move(read).value();
  }

  bool next(Inspection& into) override {
    if (at_ >= records_.size()) return false;
    into = {};
    into.placed = std::move(records_[at_]);
    into.number = static_cast<int>(++at_);
    return true;
  }

 private:
  std::vector<PlacedRecord> records_;
  std::size_t at_ = 0;
};

}  // namespace

std::unique_ptr<Walk> walk_json(Bytes bytes, const std::string& file_name) {
  return std::make_unique<JsonWalk>(std::move(bytes), file_name);
}

}  // namespace haunch::exchange
