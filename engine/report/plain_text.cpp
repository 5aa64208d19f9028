// SPDX-License-Identifier: Apache-2.0
#include "report/plain_text.hpp"

#include <algorithm>
#include <cmath>

#include "base/words.hpp"
#include "report/lines.hpp"
#include "report/standing.hpp"

namespace haunch::report {
namespace {

/// Letters a person sees: bytes that go on with a letter of UTF-8 do not count.
std::size_t seen_length(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char byte) {
    return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U;
  }));
}

std::string place_of(const std::vector<Line>& lines, const std::string& id) {
  const Line* line = find_line(lines, id);
  return line == nullptr ? id : line->where + "  " + line->code;
}

std::string words_of(const std::vector<Line>& lines, const std::string& id) {
  const Line* line = find_line(lines, id);
  return line == nullptr ? std::string() : line->words;
}

std::string heading(const std::string& text) {
  return "\n" + text + "\n" + std::string(seen_length(text), '-') + "\n";
}

std::string hits_text(const marking::Marking& marking, const std::vector<Line>& truths) {
  std::string text = heading("Found: " + std::to_string(marking.summary.found));
  for (const marking::Hit& hit : marking.hits) {
    text += wrapped(place_of(truths, hit.truth) + "  " + words_of(truths, hit.truth), 0);
    text += hit.neutral ? "  could not have been seen: neither earns nor costs\n"
                        : "  earned " + one_decimal(hit.earned) + " of " + one_decimal(hit.weight) + "\n";
    std::vector<Row> rows;
    for (const marking::Verdict& verdict : hit.verdicts) {
      if (verdict.standing == marking::Standing::not_asked) continue;
      rows.push_back({marking::show(verdict.standing), marking::show(verdict.aspect), verdict.sentence});
    }
    text += columns(rows, 4);
  }
  return text;
}

std::string rest_text(const marking::Marking& marking, const std::vector<Line>& truths,
                      const std::vector<Line>& attempts) {
  std::string text = heading("Missed: " + std::to_string(marking.missed.size()));
  for (const marking::Missed& missed : marking.missed) {
    text += wrapped(place_of(truths, missed.truth) + "  " + words_of(truths, missed.truth), 0);
    text += wrapped((missed.dangerous ? "DANGEROUS: " : "") + missed.sentence + " (weight " +
                        one_decimal(missed.weight) + ")",
                    4);
    const Line* line = find_line(truths, missed.truth);
    if (line != nullptr && !line->reason.empty()) text += wrapped("why it is there: " + line->reason, 4);
  }
  text += heading("Invented: " + std::to_string(marking.invented.size()));
  for (const marking::Invented& invented : marking.invented) {
    text += wrapped(place_of(attempts, invented.attempt) + "  " + words_of(attempts, invented.attempt), 0);
    text += wrapped(
        invented.sentence + (invented.penalty > 0 ? " (costs " + one_decimal(invented.penalty) + ")" : ""),
        4);
  }
  if (!marking.not_visible.empty()) {
    text +=
        heading("There, but no careful drive could show it: " + std::to_string(marking.not_visible.size()));
    for (const marking::NotVisible& hidden : marking.not_visible) {
      text += wrapped(place_of(truths, hidden.truth) + "  " + words_of(truths, hidden.truth), 0);
      text += wrapped(hidden.why, 4);
    }
  }
  return text;
}

std::string costs_text(const marking::Marking& marking) {
  if (marking.costs.empty()) return {};
  std::string text = heading("What it cost, of 100");
  std::vector<Row> rows;
  for (const marking::Cost& cost : marking.costs) rows.push_back({two_decimals(cost.points), cost.what});
  return text + columns(rows, 2);
}

std::string skills_text(const marking::Marking& marking) {
  std::string text = heading("Skill by skill");
  text += wrapped(marking.summary.sentence, 0);
  std::vector<Row> rows;
  for (const marking::Skill& skill : marking.skills) rows.push_back({skill.name, skill.sentence});
  text += columns(rows, 2);
  return marking.help.empty() ? text : text + wrapped(marking.help, 0);
}

std::string grading_text(const marking::Marking& marking) {
  std::string text = heading("Your grading");
  if (!marking.grading.given) {
    text += "no classes were given\n";
  } else {
    text += wrapped("classes, for what was coded: " + marking::show_right(marking.grading), 0);
    for (const marking::ClassVerdict& verdict : marking.grading.classes) text += wrapped(verdict.sentence, 2);
    text += wrapped(marking.grading.object.sentence, 2);
  }
  text += wrapped(marking.action.sentence, 0);
  text += heading("What the difference does to the grade");
  if (marking.consequence.sentences.empty()) text += "nothing: both records are graded alike\n";
  for (const std::string& sentence : marking.consequence.sentences) text += wrapped(sentence, 0);
  const grading::Grade& is = marking.consequence.truth;
  const grading::Grade& coded = marking.consequence.attempt;
  text += "object class as it is: " + show_object_class(is, "not given") +
          ", as coded: " + show_object_class(coded, "not given") + '\n';
  if (marking.consequence.truth.provisional || marking.consequence.attempt.provisional) {
    text += "the classes are provisional: some rows of the scheme are not from a source that was read\n";
  }
  return text;
}

}  // namespace

std::string columns(const std::vector<Row>& rows, std::size_t indent) {
  std::vector<std::size_t> widths;
  for (const Row& row : rows) {
    widths.resize(std::max(widths.size(), row.size()));
    for (std::size_t i = 0; i + 1 < row.size(); ++i) widths[i] = std::max(widths[i], seen_length(row[i]));
  }
  std::string text;
  for (const Row& row : rows) {
    std::string line(indent, ' ');
    for (std::size_t i = 0; i < row.size(); ++i) {
      line += row[i];
      if (i + 1 < row.size()) line += std::string(widths[i] - seen_length(row[i]) + 2, ' ');
    }
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + '\n';
  }
  return text;
}

std::string wrapped(const std::string& text, std::size_t indent, std::size_t width) {
  if (text.empty()) return {};
  std::string result, line(indent, ' ');
  bool started = false;
  for (const std::string& word : base::split(text, ' ')) {
    if (started && seen_length(line) + 1 + seen_length(word) > width) {
      result += line + '\n';
      line = std::string(indent + 2, ' ');
      started = false;
    }
    if (started) line += ' ';
    line += word;
    started = true;
  }
  return result + line + '\n';
}

namespace {

/// The length of an inspection is a distance like those of its lines; pipe measures stay as they are
/// written, in mm.
std::string header_words(const coding::HeaderField& field, base::LengthUnit unit) {
  if (field.code != "ABQ") return field.value;
  double metres = 0;
  return base::read_number(base::trim(field.value), metres) ? base::show_distance(metres, unit) : field.value;
}

}  // namespace

std::string truth_text(const coding::Record& record, const coding::CodeList& list, base::LengthUnit unit) {
  std::string text;
  for (const coding::HeaderField& field : record.header) {
    std::string name;
    for (const coding::Named& known : list.header_fields()) {
      if (known.code == field.code) name = known.name;
    }
    text += field.code + (name.empty() ? "" : " (" + name + ")") + ": " + header_words(field, unit) + '\n';
  }
  for (const Line& line : lines_of(record, list, unit)) {
    text += '\n' + wrapped(line.where + "  " + line.code + "  " + line.words, 0);
    if (!line.reason.empty()) text += wrapped("because " + line.reason, 4);
    for (const coding::NotVisible& hidden : record.not_visible) {
      if (hidden.observation == line.id) text += wrapped("not visible: " + hidden.why, 4);
    }
  }
  if (record.observations.empty()) text += "\nno observations\n";
  return text;
}

std::string marking_text(const marking::Marking& marking, const coding::Record& truth,
                         const coding::Record& attempt, const coding::CodeList& list, base::LengthUnit unit) {
  const std::vector<Line> truths = lines_of(truth, list, unit);
  const std::vector<Line> attempts = lines_of(attempt, list, unit, Labels::letters);
  std::string text;
  for (const std::string& warning : marking.warnings) text += wrapped("WARNING: " + warning, 0);
  text += "Coding score: " + show_score(marking.score) + " of 100\n";
  if (marking.counter) {
    for (const std::string& sentence : marking.counter->sentences) text += wrapped(sentence, 0);
    if (marking.counter->penalty > 0)
      text += "It costs " + one_decimal(marking.counter->penalty) + ", once.\n";
  }
  return text + costs_text(marking) + skills_text(marking) + hits_text(marking, truths) +
         rest_text(marking, truths, attempts) + grading_text(marking);
}

namespace {

/// What the procedure makes of the whole pipe beside its class.
std::string overall_text(const grading::Grade& grade) {
  std::string text;
  for (const grading::Overall& one : grade.overall) {
    if (one.reason == grade.object_reason) continue;
    text += one.name + ": " + (one.number ? base::show_number(std::round(*one.number * 1e4) / 1e4) : "none");
    if (one.grade)
      text += ", class " + std::to_string(*one.grade) +
              (one.complete || *one.grade >= grade.worst_class ? "" : " or worse");
    if (one.doubtful) text += ", doubtful";
    text += std::string(one.provisional ? " (provisional)" : "") +
            (one.meaning.empty() ? "" : ": " + one.meaning) + '\n' + wrapped(one.reason, 2);
  }
  return text;
}

}  // namespace

std::string grade_text(const grading::Grade& grade, const coding::Record& record,
                       const coding::CodeList& list, base::LengthUnit unit) {
  const std::vector<Line> lines = lines_of(record, list, unit);
  std::string text = grade.scheme + '\n';
  if (grade.provisional) text += wrapped("PROVISIONAL: " + provisional_words(grade), 0);
  for (const std::string& size : grade.doubtful)
    text += wrapped("DOUBTFUL: " + size + ", which can hardly be; a class was read from it", 0);
  for (const grading::ObservationGrade& one : grade.observations) {
    text += '\n' + wrapped(place_of(lines, one.observation) + "  " + words_of(lines, one.observation), 0);
    std::vector<Row> rows;
    for (const grading::GoalClass& goal : one.goals) {
      const std::string outcome =
          goal.grade ? "class " + std::to_string(*goal.grade) : grading::show(goal.outcome);
      const std::string marks = std::string(goal.provisional ? "provisional" : "") +
                                (goal.provisional && goal.doubtful ? ", " : "") +
                                (goal.doubtful ? "doubtful" : "");
      rows.push_back({goal.goal, outcome + (marks.empty() ? "" : " (" + marks + ")"),
                      goal.number ? base::show_number(*goal.number) : "-",
                      reason_alone(goal) + (goal.source.empty() ? "" : "; source: " + goal.source)});
    }
    text += columns(rows, 4);
  }
  text += '\n';
  if (grade.object_number) text += "preliminary object number: " + one_decimal(*grade.object_number) + '\n';
  if (grade.length_number)
    text += "damage length number: " + std::string(grade.lengths_complete ? "" : "at least ") +
            one_decimal(*grade.length_number) + '\n';
  text += overall_text(grade);
  text += "object class: " + show_object_class(grade, "not given") +
          (grade.object_class_doubtful ? ", doubtful" : "") + '\n';
  text += wrapped(grade.object_reason, 2);
  text += wrapped(not_known_words(grade), 0);
  for (const std::string& note : other_notes(grade)) text += wrapped("note: " + note, 0);
  return text;
}

namespace {

/// "3 of 5, practice": classes of provisional rows decide nothing. Where nobody counted them, all are.
std::string classes_text(const scores::Attempt& one) {
  if (!one.classes_right || !one.classes_asked) return "-";
  const std::string all = std::to_string(*one.classes_right) + " of " + std::to_string(*one.classes_asked);
  const int firm = one.classes_asked_firm.value_or(0);
  if (firm == *one.classes_asked) return all;
  return all + (firm == 0 ? ", practice"
                          : ", firm " + std::to_string(one.classes_right_firm.value_or(0)) + " of " +
                                std::to_string(firm));
}

}  // namespace

std::string scores_text(const std::vector<scores::Attempt>& attempts) {
  if (attempts.empty()) return "no attempts yet\n";
  std::vector<Row> rows{
      {"finished (UTC)", "who", "score", "found", "missed", "invented", "classes", "action", "run"}};
  for (const scores::Attempt& one : attempts) {
    rows.push_back({one.finished_at, one.trainee, show_score(one.score), std::to_string(one.hits),
                    std::to_string(one.missed), std::to_string(one.invented), classes_text(one),
                    one.action_right ? (*one.action_right ? "right" : "wrong") : "-", one.scenario});
  }
  return columns(rows);
}

}  // namespace haunch::report
