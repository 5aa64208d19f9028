// SPDX-License-Identifier: Apache-2.0
// A file read in blocks of a few bytes gives the same as one read at once.
#include "exchange/inspections.hpp"

#include <algorithm>

#include "base/utf8.hpp"
#include "exchange/text_marks.hpp"
#include "fuzz/entries.hpp"
#include "fuzz/in_memory.hpp"

namespace haunch::fuzz {
namespace {

using exchange::Inspection;
using exchange::Inspections;

struct Given {
  std::optional<exchange::FileKind> kind;
  std::vector<Inspection> all;
  base::Problems problems;
  std::optional<exchange::TextStyle> style;
};

Given given(const std::string& path, exchange::Blocks blocks) {
  Given given;
  Inspections walk(path, blocks);
  given.kind = walk.kind();
  while (auto one = walk.next()) given.all.push_back(std::move(*one));
  must(!walk.next(), "the end stays the end");
  given.problems = walk.problems();
  given.style = walk.style();
  return given;
}

bool sound(const Given& file) {
  bool sound = file.kind && !base::has_errors(file.problems);
  for (const Inspection& one : file.all) sound = sound && !base::has_errors(one.remarks);
  return sound;
}

/// Its #A lines and the first of columns, for which the reader looks there; of others, the first line.
std::size_t head_of(const std::string& bytes, std::optional<exchange::FileKind> kind) {
  const std::string_view text(bytes);
  for (std::size_t from = text.substr(0, 3) == base::byte_order_mark ? 3 : 0; from < text.size();) {
    const std::size_t end = std::min(text.find_first_of("\r\n", from), text.size());
    const std::string_view line = text.substr(from, end - from);
    from = end + 1;
    if (kind == exchange::FileKind::exchange_text ? exchange::tagged(line).tag == exchange::Tag::columns
                                                  : line.find_first_not_of(" \t") != std::string_view::npos)
      return from + 2;
  }
  return bytes.size();
}

/// A zero byte, or what tells the character set when #A1 does not, is found by what has been read of it so
/// far.
bool depends_on_the_head(const std::string& bytes, const Given& file) {
  if (file.kind != exchange::FileKind::exchange_text) return false;
  if (bytes.find('\0') != std::string::npos) return true;
  for (const base::Problem& problem : file.problems)
    if (problem.what.find("#A1") != std::string::npos) return true;
  return false;
}

}  // namespace

void inspections(const std::string& bytes) {
  const InMemory file(bytes);
  const Given whole = given(file.path(), {});
  const auto at_once = exchange::read_records(file.path());
  must(at_once.ok() == sound(whole), "read at once it is as good as one after another");
  for (std::size_t i = 0; at_once.ok() && i < whole.all.size(); ++i)
    must(at_once.value()[i].record == whole.all[i].placed.record &&
             at_once.value()[i].places == whole.all[i].placed.places,
         "each is the same at once and one after another");
  const Given blocks = given(file.path(), {1 + bytes.size() % 97, head_of(bytes, whole.kind)});
  if (blocks.kind != whole.kind) return;
  if (depends_on_the_head(bytes, whole)) return;
  must(blocks.problems == whole.problems, "blocks of any size: problems");
  must(blocks.style == whole.style, "blocks of any size: style");
  must(blocks.all.size() == whole.all.size(), "blocks of any size: how many");
  for (std::size_t i = 0; i < whole.all.size(); ++i) {
    const Inspection &one = blocks.all[i], &other = whole.all[i];
    must(one.number == other.number && one.place == other.place, "blocks of any size: where");
    must(one.placed.record == other.placed.record, "blocks of any size: the record");
    must(one.placed.places == other.placed.places, "blocks of any size: places");
    must(one.remarks == other.remarks, "blocks of any size: remarks");
    must(one.layout == other.layout, "blocks of any size: layout");
  }
}

}  // namespace haunch::fuzz
