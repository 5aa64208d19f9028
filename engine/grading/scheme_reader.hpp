// SPDX-License-Identifier: Apache-2.0
// Reads a scheme file: what is shared by all schemes. What a schema cannot say (bounds that fall, sources
// that exist, a row from memory that claims to be firm) is checked here. Inside this room.
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "base/json_document.hpp"
#include "grading/procedure.hpp"

namespace haunch::grading {

class SchemeReader {
 public:
  using Json = nlohmann::json;

  /// Whatever breaks the schema is left out, so that all other problems are told with it.
  SchemeReader(const base::JsonDocument& document, const std::vector<base::JsonDocument::Fault>& faults);
  void read();

  Scheme::Inside inside;
  base::Problems problems;

  // For the procedures.
  void problem(const std::string& pointer, std::string what, std::string expected,
               std::string suggestion = {});
  /// The value at a pointer; null where it is absent or breaks the schema anywhere inside.
  const Json* sound(const std::string& pointer) const;
  /// Calls `take(element, its pointer)` for each sound element of a list.
  template <class Take>
  void each(const std::string& pointer, Take take) const {
    for (std::size_t i = 0; i < size_of(pointer); ++i) {
      const std::string at = pointer + "/" + std::to_string(i);
      if (const Json* element = sound(at)) take(*element, at);
    }
  }
  /// "source" of an object in words. A key that the file does not explain is a problem. Memory, and what
  /// the file itself lists as provisional sources, make it provisional; where the file says "provisional"
  /// of the object, it may not deny that.
  Mark mark_of(const Json& value, const std::string& pointer, const char* key = "source");
  /// By class. Classes are ones of the scheme's; a worse one must start higher, else a larger size could get
  /// a better class.
  std::map<int, double> bounds(const Json& value, const std::string& pointer);
  std::map<int, std::string> meanings(const Json& value, const std::string& pointer);
  /// False, and a problem, where it is none of the scheme's.
  bool goal_known(const std::string& pointer, const std::string& goal);
  bool class_known(const std::string& pointer, int grade);
  /// The field of the site, or null and a problem.
  const SiteField* field_known(const std::string& pointer, const std::string& name);
  /// A problem where `id` was there before: "two rows are called "r"".
  void once(const std::string& pointer, const std::string& what, std::set<std::string>& seen,
            const std::string& id);
  /// The options of a condition are values of its field, each once.
  void option_known(const std::string& pointer, const SiteField* field, const std::string& when,
                    std::set<std::string>& seen);

  /// Where a row of `inside` stands.
  const std::string& row_pointer(std::size_t index) const { return row_pointers_.at(index); }

 private:
  std::size_t size_of(const std::string& pointer) const;
  void read_sources();
  void read_head();
  void read_site();
  void read_tables();
  void read_row(const Json& json, const std::string& pointer);
  void take_table(Row& row, const Json& json, const std::string& pointer);
  void check_row(const Row& row, const Json& json, const std::string& pointer);
  void check_letters(const Row& row, const std::string& pointer);
  void check_overlaps();

  const base::JsonDocument& document_;
  const Json& root_;
  std::vector<std::string> broken_;  ///< pointers at which the schema is broken
  /// One of the scheme's own tables of defects, by its key.
  struct Table {
    std::string kind, goal, unit;
    std::map<int, double> above, scores;
    std::map<int, Mark> marks;
    std::set<int> grades;
  };
  std::map<std::string, Table> tables_;
  std::set<std::string> provisional_sources_{"memory"};
  std::set<std::string> row_ids_;
  std::vector<std::string> row_pointers_;  ///< beside inside.rows
};

}  // namespace haunch::grading
