// SPDX-License-Identifier: Apache-2.0
#include "window/home_pages.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/files.hpp"
#include "base/random.hpp"
#include "base/words.hpp"
#include "courses/progress.hpp"
#include "drills/make.hpp"
#include "learning/kept.hpp"
#include "play/attempt.hpp"
#include "progress/overview.hpp"
#include "scenario/read.hpp"
#include "scores/store.hpp"
#include "window/language.hpp"

namespace haunch::window {
namespace {

namespace fs = std::filesystem;
using drills::Kind;

/// What a person has made of a run.
struct Made {
  int times = 0;
  double best = 0;
};

std::string made_words(const Made& made) {
  if (made.times == 0) return tr("not driven yet");
  // Cut rather than rounded: only a faultless attempt reads 100.
  const std::string best = base::show_number(std::floor(made.best));
  return made.times == 1 ? tr("driven once, {0} of 100", {best})
                         : tr("driven {0} times, best {1} of 100", {std::to_string(made.times), best});
}

std::map<std::string, Made> made_of(const KeptOf& kept) {
  std::map<std::string, Made> made;
  for (const auto& attempt : kept.attempts) {
    Made& one = made[attempt.scenario_hash];
    ++one.times;
    one.best = std::max(one.best, attempt.score);
  }
  return made;
}

/// A run of the content, read once: the page is made anew at every turn.
struct Run {
  fs::path file;
  scene::Scenario scenario;
};
const std::vector<Run>& all_runs(std::string& message) {
  static std::vector<Run> runs;
  static std::string problem;
  if (runs.empty()) {
    std::error_code none;
    for (const auto& entry : fs::directory_iterator(base::content_dir() / "scenarios", none)) {
      if (entry.path().extension() != ".json") continue;
      if (auto scenario = scenario::read_scenario(entry.path()))
        runs.push_back({entry.path(), std::move(scenario).value()});
      else
        problem = base::to_line(scenario.problems().front());
    }
    // The guided one first, then the shorter before the longer.
    std::sort(runs.begin(), runs.end(), [](const Run& a, const Run& b) {
      const auto rank = [](const Run& run) {
        return std::pair(run.file.stem() == "first-drive" ? 0.0 : run.scenario.length_m,
                         run.file.stem().string());
      };
      return rank(a) < rank(b);
    });
  }
  if (!problem.empty()) message = problem;
  return runs;
}

HomeRow run_row(const Run& run, const std::map<std::string, Made>& made, bool guided) {
  const auto found = made.find(run.scenario.hash);
  const Made one = found == made.end() ? Made{} : found->second;
  return {run.scenario.title, run.scenario.job, made_words(one),
          Chosen(RunChosen{run.file, guided ? play::Mode::guided : play::Mode::practice})};
}

HomeSection runs_section(const KeptOf& kept, std::string& message) {
  HomeSection section{tr("Runs to drive"), {}};
  const auto made = made_of(kept);
  for (const Run& run : all_runs(message))
    section.rows.push_back(run_row(run, made, run.file.stem() == "first-drive"));
  return section;
}

std::vector<std::pair<std::string, std::string>> run_hashes(std::string& message) {
  std::vector<std::pair<std::string, std::string>> hashes;
  for (const Run& run : all_runs(message)) hashes.emplace_back(run.file.stem().string(), run.scenario.hash);
  return hashes;
}

std::vector<courses::Course> all_courses(std::string& message) {
  std::vector<courses::Course> all;
  for (const auto& file : courses::shipped_courses()) {
    if (auto course = courses::read_course(file))
      all.push_back(std::move(course).value());
    else
      message = base::to_line(course.problems().front());
  }
  return all;
}

std::vector<courses::LessonState> states_of(const courses::Course& course, const KeptOf& kept,
                                            std::string& message) {
  return courses::progress_in(course, kept.steps, kept.answers, kept.attempts, run_hashes(message));
}

/// Another set each time it is chosen.
std::uint64_t fresh_seed(const KeptOf& kept) {
  return base::mix(kept.answers.size() * 2654435761U +
                   static_cast<std::uint64_t>(std::llround(now_days() * 86400)));
}

play::DrillPlan plan_of(const std::string& title, std::vector<Kind> kinds, std::vector<std::string> codes,
                        const KeptOf& kept) {
  play::DrillPlan plan;
  plan.title = title;
  plan.kinds = std::move(kinds);
  plan.codes = std::move(codes);
  plan.seed = fresh_seed(kept);
  return plan;
}

std::string answered_words(const KeptOf& kept, const std::vector<Kind>& kinds) {
  int right = 0, of = 0;
  for (auto one = kept.answers.rbegin(); one != kept.answers.rend() && of < 20; ++one) {
    const auto kind = drills::kind_from(one->kind);
    if (!kind || std::find(kinds.begin(), kinds.end(), *kind) == kinds.end()) continue;
    ++of;
    right += one->credit > 0.999 ? 1 : 0;
  }
  return of == 0 ? tr("not tried yet")
                 : tr("{0} of the last {1} right", {std::to_string(right), std::to_string(of)});
}

HomeSection next_section(const KeptOf& kept, const std::vector<courses::Course>& all, std::string& message) {
  HomeSection section{tr("Next"), {}};
  for (const courses::Course& course : all) {
    if (course.id != "beginner") continue;
    const auto states = states_of(course, kept, message);
    for (std::size_t i = 0; i < states.size(); ++i) {
      if (!states[i].open || states[i].done) continue;
      section.rows.push_back({tr("Lesson: {0}", {course.lessons[i].title}), course.title, states[i].words,
                              Page{Page::Kind::lesson, course.id, course.lessons[i].id}});
      break;
    }
  }
  const std::vector<Kind> mixed = {Kind::name_it, Kind::name_it, Kind::which_of_two, Kind::size_it,
                                   Kind::clock};
  section.rows.push_back(
      {tr("Two minutes of what you need most"),
       tr("Questions on what you miss, mix up or have not seen for long. Each picture is drawn "
          "afresh."),
       answered_words(kept, drills::all_kinds()),
       Chosen(DrillChosen{plan_of(tr("What you need most"), mixed, {}, kept)})});
  return section;
}

HomeSection courses_section(const KeptOf& kept, const std::vector<courses::Course>& all,
                            std::string& message) {
  HomeSection section{tr("Courses"), {}};
  for (const courses::Course& course : all) {
    const auto states = states_of(course, kept, message);
    const auto done = std::count_if(states.begin(), states.end(), [](const auto& one) { return one.done; });
    section.rows.push_back(
        {course.title, course.words,
         tr("{0} of {1} lessons done", {std::to_string(done), std::to_string(course.lessons.size())}),
         Page{Page::Kind::course, course.id, {}}});
  }
  return section;
}

HomeSection drills_section(const KeptOf& kept) {
  HomeSection section{tr("Two-minute drills"), {}};
  const struct {
    Kind kind;
    std::string title, words;
  } all[] = {
      {Kind::name_it, tr("Name it"), tr("What is it? By its code.")},
      {Kind::which_of_two, tr("Which of the two"), tr("Codes that are easily taken for one another.")},
      {Kind::clean_or_not, tr("Clean or not"), tr("Is anything wrong at all?")},
      {Kind::find_bottom, tr("Find the bottom"), tr("With the camera rolled over.")},
      {Kind::clock, tr("The clock under roll"), tr("Where round the pipe it is.")},
      {Kind::size_it, tr("Size it"), tr("Millimetres, degrees and per cent by eye.")},
      {Kind::water_depth, tr("Water depth"), tr("In per cent of the bore's height.")},
      {Kind::grade_it, tr("Grade it"), tr("A class for each goal, with the row of the table that decides.")},
      {Kind::next_step, tr("What next"), tr("Carry on, clean again, stop, refer.")}};
  for (const auto& one : all)
    section.rows.push_back({one.title, one.words, answered_words(kept, {one.kind}),
                            Chosen(DrillChosen{plan_of(one.title, {one.kind}, {}, kept)})});
  return section;
}

HomeSection exams_section(const KeptOf& kept, std::string& message) {
  HomeSection section{tr("Exams"), {}};
  for (const auto& file : courses::shipped_exams()) {
    const auto exam = courses::read_exam(file);
    if (!exam) {
      message = base::to_line(exam.problems().front());
      continue;
    }
    std::string state = tr("not sat yet");
    for (const auto& sitting : kept.sittings) {
      if (sitting.exam_hash != exam.value().hash) continue;
      const auto result = courses::result_of(exam.value(), sitting.id, kept.answers, kept.attempts);
      state = !result.complete
                  ? tr("begun, {0} of {1} questions answered; it goes on from there",
                       {std::to_string(result.answered), std::to_string(exam.value().question_count())})
              : result.passed ? tr("passed")
                              : tr("not passed");
    }
    section.rows.push_back({exam.value().title, exam.value().words, state, Chosen(ExamChosen{file})});
  }
  return section;
}

HomePage start_page(const KeptOf& kept, std::string& message) {
  HomePage page;
  const auto all = all_courses(message);
  page.sections = {next_section(kept, all, message), courses_section(kept, all, message),
                   drills_section(kept), runs_section(kept, message), exams_section(kept, message)};
  page.sections.push_back({tr("Scores"),
                           {{tr("What you can do so far"),
                             tr("Code by code, and what to practise next."),
                             {},
                             Page{Page::Kind::scores, {}, {}}}}});
  return page;
}

HomePage course_page(const courses::Course& course, const KeptOf& kept, std::string& message) {
  HomePage page{course.title, {course.words}, {{tr("Lessons"), {}}}};
  const auto states = states_of(course, kept, message);
  for (std::size_t i = 0; i < states.size(); ++i) {
    HomeRow row{course.lessons[i].title,
                {},
                states[i].done ? tr("done") : states[i].words,
                Page{Page::Kind::lesson, course.id, course.lessons[i].id}};
    row.done = states[i].done;
    if (!states[i].open) row.why_not = tr("opens when the lessons before it are done");
    page.sections[0].rows.push_back(std::move(row));
  }
  return page;
}

HomePage lesson_page(const courses::Course& course, std::size_t number, const KeptOf& kept,
                     std::string& message) {
  const courses::Lesson& lesson = course.lessons[number];
  const auto state = states_of(course, kept, message)[number];
  HomePage page{lesson.title, lesson.text, {}};
  if (!lesson.pictures.empty()) {
    HomeSection pictures{tr("Look at these"), {}};
    for (const auto& picture : lesson.pictures)
      pictures.rows.push_back({picture.code, picture.words, {}, Look_at{picture}});
    page.sections.push_back(std::move(pictures));
  }
  HomeSection to_do{tr("To do"), {}};
  if (!lesson.text.empty()) {
    HomeRow read{tr("I have read this"),
                 {},
                 state.read ? tr("done") : std::string(),
                 LessonRead{course.id, lesson.id}};
    read.done = state.read;
    to_do.rows.push_back(std::move(read));
  }
  for (std::size_t i = 0; i < lesson.drills.size(); ++i) {
    const auto& drill = lesson.drills[i];
    const auto kind = drills::kind_from(drill.kind);
    if (!kind) continue;
    const auto tally = courses::tally_of(drill, kept.answers);
    HomeRow row{tr("Drill: {0}", {tr(drill.kind)}), base::join(drill.codes, ", "),
                state.drills[i] ? tr("done")
                                : tr("{0} of the last {1} right; {2} are asked for",
                                     {std::to_string(tally.right), std::to_string(tally.of),
                                      std::to_string(drill.right)}),
                Chosen(DrillChosen{plan_of(lesson.title, {*kind}, drill.codes, kept)})};
    row.done = state.drills[i];
    to_do.rows.push_back(std::move(row));
  }
  const auto made = made_of(kept);
  for (std::size_t i = 0; i < lesson.runs.size(); ++i)
    for (const Run& run : all_runs(message)) {
      if (run.file.stem() != lesson.runs[i].scenario) continue;
      HomeRow row = run_row(run, made, lesson.runs[i].guided);
      row.state += "; " + tr("{0} are asked for", {base::show_number(lesson.runs[i].at_least)});
      row.done = state.runs[i];
      to_do.rows.push_back(std::move(row));
    }
  page.sections.push_back(std::move(to_do));
  return page;
}

std::string percent(double share) { return base::show_number(std::round(share * 100)) + " %"; }

HomePage scores_page(const std::string& who, const KeptOf& kept) {
  const auto overview =
      progress::overview_of(who, {kept.answers, kept.attempts, kept.sittings}, {}, learning::shipped_model(),
                            coding::CodeList::shipped(), now_days());
  HomePage page{tr("What you can do so far"), {}, {}};
  page.text.push_back(tr("{0} codes mastered, {1} shaky, {2} not yet, {3} never tried.",
                         {std::to_string(overview.mastered), std::to_string(overview.shaky),
                          std::to_string(overview.not_yet), std::to_string(overview.never)}));
  page.text.push_back(tr("A page with charts to print: haunch scores --html scores.html"));
  HomeSection practise{tr("To practise next"), {}};
  for (const auto& one : overview.practise)
    practise.rows.push_back(
        {one.code,
         {},
         one.sentence,
         Chosen(DrillChosen{plan_of(one.code, {Kind::name_it, Kind::which_of_two}, {one.code}, kept)})});
  if (!practise.rows.empty()) page.sections.push_back(std::move(practise));
  HomeSection codes{tr("Code by code"), {}};
  for (const auto& line : overview.codes)
    codes.rows.push_back(
        {line.code + "  " + line.name,
         {},
         line.mastery.sentence + " " +
             tr("Named {0} of {1}; next time {2} to {3}.",
                {std::to_string(line.named.right), std::to_string(line.named.of),
                 percent(line.now.success.low), percent(line.now.success.high)}),
         Chosen(DrillChosen{plan_of(line.code, {Kind::name_it, Kind::which_of_two}, {line.code}, kept)})});
  if (!codes.rows.empty()) page.sections.push_back(std::move(codes));
  return page;
}

}  // namespace

double now_days() { return learning::days_of(play::utc_now()).value_or(0); }

KeptOf kept_of(const std::string& who, std::string& message) {
  std::error_code none;
  if (who.empty() || !fs::exists(scores::default_store(), none)) return {};
  try {
    const auto store = scores::Store::open(scores::default_store());
    return {store.attempts(who), store.answers(who), store.sittings(who), store.steps(who)};
  } catch (const std::exception& error) {
    message = error.what();
    return {};
  }
}

std::optional<scores::Sitting> open_sitting(const courses::Exam& exam, const KeptOf& kept) {
  for (auto one = kept.sittings.rbegin(); one != kept.sittings.rend(); ++one)
    if (one->exam_hash == exam.hash &&
        !courses::result_of(exam, one->id, kept.answers, kept.attempts).complete)
      return *one;
  return std::nullopt;
}

HomePage page_of(const Page& page, const std::string& who, const KeptOf& kept, std::string& message) {
  if (page.kind == Page::Kind::scores) return scores_page(who, kept);
  if (page.kind != Page::Kind::start)
    for (const courses::Course& course : all_courses(message)) {
      if (course.id != page.course) continue;
      if (page.kind == Page::Kind::course) return course_page(course, kept, message);
      for (std::size_t i = 0; i < course.lessons.size(); ++i)
        if (course.lessons[i].id == page.lesson) return lesson_page(course, i, kept, message);
    }
  return start_page(kept, message);
}

}  // namespace haunch::window
