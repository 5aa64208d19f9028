// SPDX-License-Identifier: Apache-2.0
// haunch convert: records between exchange text, JSON and CSV, one inspection in memory at a time.
#include <iostream>

#include "base/words.hpp"
#include "check_words.hpp"
#include "exchange/inspection_writer.hpp"
#include "outputs.hpp"
#include "records.hpp"
#include "verbs.hpp"

namespace haunch::cli {
namespace fs = std::filesystem;
namespace {

/// Ours: problems of a file that is given up.
constexpr std::size_t most_unread = 500;
const char* const style_options[] = {"separator", "decimal", "quote", "charset", "language", "line-end"};

void add_style(Command& command) {
  const auto word = [](const char* name) { return po::value<std::string>()->value_name(name); };
  command.options.add_options()("separator", word("SIGN"),
                                "between fields: ; , | or another sign, tab, space")(
      "decimal", word("SIGN"), "decimal sign: . or ,")("quote", word("SIGN"),
                                                       "round text that needs it: \" or another sign, none")(
      "charset", word("NAME"), "UTF-8, ISO-8859-1, ISO-8859-15, Windows-1252 or ASCII")(
      "language", word("CODE"), "of the remarks, two letters; they are not translated")(
      "line-end", word("KIND"), "lf, crlf or cr");
}

/// One sign, or a word for one that cannot be seen.
char sign_of(const po::variables_map& given, const char* name) {
  const std::string text = text_of(given, name);
  if (base::lower(text) == "tab") return '\t';
  if (base::lower(text) == "space") return ' ';
  if (text.size() != 1)
    throw UsageError(std::string("--") + name + " is \"" + text + "\"; it takes one sign");
  return text[0];
}

exchange::TextStyle style_of(const po::variables_map& given, exchange::TextStyle style) {
  using exchange::LineEnd;
  if (has(given, "separator")) {
    style.separator = sign_of(given, "separator");
    style.separator_name.clear();
  }
  if (has(given, "decimal")) style.decimal = sign_of(given, "decimal");
  if (has(given, "quote")) {
    style.quote = base::lower(text_of(given, "quote")) == "none" ? '\0' : sign_of(given, "quote");
    if (style.quote == 0) std::erase(style.keys, '5');
  }
  if (has(given, "charset")) {
    style.charset = text_of(given, "charset");
    style.byte_order_mark = style.byte_order_mark && base::lower(style.charset) == "utf-8";
  }
  if (has(given, "language")) style.language = text_of(given, "language");
  if (has(given, "line-end")) {
    const std::string end = base::lower(text_of(given, "line-end"));
    if (end != "lf" && end != "crlf" && end != "cr")
      throw UsageError("--line-end is \"" + end + "\"; it is lf, crlf or cr");
    style.line_end = end == "lf" ? LineEnd::lf : end == "cr" ? LineEnd::cr : LineEnd::crlf;
  }
  for (const base::Problem& wrong : exchange::problems_of_style(style))
    throw UsageError(wrong.what + "; expected " + wrong.expected);
  return style;
}

/// Problems that leave nothing to write: told, and the end of it.
void stop_at(base::Problems problems, const fs::path& in) {
  if (!base::has_errors(problems)) return;
  say_what_to_do(problems, in);
  Tally tally(Tally::few);
  tally.add(problems, 0);
  std::cerr << remarks_in_words(tally, in, 0);
  throw InputProblems({});
}

/// A CSV names its columns in its first line, so the file is walked through for them first.
std::vector<std::string> extra_columns_of(const fs::path& in) {
  std::vector<std::string> names;
  exchange::Inspections walk(in);
  for (exchange::Inspection one; walk.next(one);) exchange::gather_extra_columns(names, one.placed.record);
  return names;
}

}  // namespace

int convert(const Arguments& arguments) {
  Command command{
      "convert IN OUT [options]",
      "Reads inspections (exchange text, JSON or CSV, told apart by what stands in the file) and\n"
      "writes them: .json as JSON, .csv as CSV, any other name as EN 13508-2 exchange text.\n"
      "What `haunch check` would say of them is said, and copied all the same; nothing is written when\n"
      "something could not be read, or when the new file has no way to hold it.\n"
      "Exchange text from exchange text keeps the way it was written but for the options given; from\n"
      "other files it is UTF-8 with ; between fields. A file of any size needs little memory."};
  command.place("IN").place("OUT");
  add_style(command);
  add_force(command);
  const auto given = read_arguments(command, arguments);
  if (!given) return done;
  const fs::path in = text_of(*given, "IN"), out = text_of(*given, "OUT");
  if (same_file(in, out)) throw UsageError("IN and OUT are the same file");
  exchange::WriteAs as;
  as.kind = exchange::kind_for_writing(out);
  for (const char* option : style_options)
    if (has(*given, option) && as.kind != exchange::FileKind::exchange_text)
      throw UsageError(std::string("--") + option + " is for exchange text, which " + out.string() +
                       " is not by its name");
  as.style = style_of(*given, {});  // a wrong option is told before anything is read

  exchange::Inspections walk(in);
  if (!walk.kind()) stop_at(walk.problems(), in);
  exchange::TextStyle style = walk.style().value_or(exchange::TextStyle{});
  if (walk.language()) style.language = *walk.language();
  as.style = style_of(*given, std::move(style));
  as.language = walk.language();
  if (as.kind == exchange::FileKind::csv) as.extra_columns = extra_columns_of(in);
  keep_others({{"OUT", out}}, *given);

  exchange::InspectionWriter writer(out, as, base::Overwrite::yes);
  Tally tally(Tally::few);
  base::Problems unread;
  std::size_t inspections = 0, observations = 0;
  for (exchange::Inspection one; walk.next(one);) {
    if (base::has_errors(one.remarks)) unread.insert(unread.end(), one.remarks.begin(), one.remarks.end());
    if (unread.size() > most_unread) break;
    if (!unread.empty()) continue;
    tally.add(one.remarks, one.number);
    std::vector<coding::Remark> remarks = remarks_of(one.placed, in);
    as_warnings(remarks);
    for (coding::Remark& remark : remarks) tally.add(std::move(remark), one.number);
    writer.add(one);
    ++inspections;
    observations += one.placed.record.observations.size();
  }
  unread.insert(unread.end(), walk.problems().begin(), walk.problems().end());
  stop_at(unread, in);
  tally.add(unread, 0);
  base::Problems written = writer.finish();
  stop_at(written, in);
  tally.add(written, 0);
  std::cerr << remarks_in_words(tally, in, inspections);
  std::cout << out.string() << ": " << counted(inspections, "inspection") << ", "
            << counted(observations, "observation") << '\n';
  return done;
}

}  // namespace haunch::cli
