// SPDX-License-Identifier: Apache-2.0
// What follows what: the run that was asked for, the start page, and whatever is chosen there.
#include "window/window.hpp"

#include "base/words.hpp"
#include "courses/exam.hpp"
#include "learning/kept.hpp"
#include "play/attempt.hpp"
#include "scenario/read.hpp"
#include "window/drill_screen.hpp"
#include "window/home_pages.hpp"
#include "window/home_screen.hpp"
#include "window/keeping.hpp"
#include "window/language.hpp"
#include "window/run_exercise.hpp"
#include "window/stage.hpp"

namespace haunch::window {
namespace {

class Program {
 public:
  Program(std::optional<scene::Scene> first, const Options& options)
      : options_(options),
        who_(options.trainee.empty() ? last_person() : options.trainee),
        settings_(settings_at_first()),
        first_(std::move(first)),
        stage_(options, first_ ? first_->scenario.title + " - Haunch" : "Haunch", settings_) {}

  void run() {
    if (first_ && run_exercise(stage_, std::move(*first_), options_, who_) == After::leave) return;
    options_.log.reset();
    HomeScreen home(stage_, options_.threads);
    while (stage_.open()) {
      const Chosen chosen = home.choose(who_, said_);
      said_.clear();
      const After after = std::visit([this](const auto& one) { return visit(one); }, chosen);
      if (after == After::leave) return;
    }
  }

 private:
  Settings settings_at_first() const {
    Settings settings = settings_of(who_);
    if (options_.unit) settings.unit = *options_.unit;
    speak(settings.language);
    return settings;
  }

  After visit(const Leave&) { return After::leave; }

  After visit(const RunChosen& run) { return drive(run.file, run.mode, {}); }

  After drive(const std::filesystem::path& file, play::Mode mode, const std::string& sitting) {
    auto scenario = scenario::read_scenario(file);
    if (!scenario) {
      said_ = base::to_line(scenario.problems().front());
      return After::start_page;
    }
    Options options = options_;
    options.mode = mode;
    options.sitting = sitting;
    return run_exercise(stage_, scene::build_scene(std::move(scenario).value()), options, who_);
  }

  After visit(const DrillChosen& drill) { return ask(drill.plan, nullptr); }

  After ask(const play::DrillPlan& plan, bool* finished) {
    std::string problem;
    const KeptOf kept = kept_of(who_, problem);
    const auto& model = learning::shipped_model();
    return run_drills(
        stage_,
        play::DrillSet(plan, who_,
                       learning::person_of(learning::evidence_of(kept.answers, kept.attempts, model), model),
                       now_days()),
        who_, options_.threads, finished);
  }

  /// Questions first, then the runs, each from where it was left.
  After visit(const ExamChosen& chosen) {
    const auto exam = courses::read_exam(chosen.file);
    if (!exam) {
      said_ = base::to_line(exam.problems().front());
      return After::start_page;
    }
    std::string problem;
    auto sitting = open_sitting(exam.value(), kept_of(who_, problem));
    if (!sitting) {
      sitting = scores::Sitting{play::new_attempt_id(), who_,
                                play::utc_now(),        exam.value().title,
                                exam.value().hash,      exam.value().seed};
      try {
        auto store = own_store();
        sitting->started_at = time_to_keep(store, sitting->started_at, said_);
        store.add(*sitting);
      } catch (const std::exception& error) {
        said_ = error.what();  // an exam that nothing is kept of is none
        return After::start_page;
      }
    }
    return sit(exam.value(), sitting->id);
  }

  After sit(const courses::Exam& exam, const std::string& sitting) {
    std::string problem;
    KeptOf kept = kept_of(who_, problem);
    const play::DrillPlan plan = rest_of(exam, sitting, kept);
    if (!plan.form.empty()) {
      bool finished = false;
      if (ask(plan, &finished) == After::leave) return After::leave;
      if (!finished) return After::start_page;
      kept = kept_of(who_, problem);
    }
    for (const std::string& name : exam.runs) {
      const auto file = courses::run_file(name);
      if (!file) continue;  // it was there when the exam was read
      const auto scenario = scenario::read_scenario(*file);
      if (!scenario || handed_in(kept, sitting, scenario.value().hash)) continue;
      if (drive(*file, play::Mode::exam, sitting) == After::leave) return After::leave;
      kept = kept_of(who_, problem);
      if (!handed_in(kept, sitting, scenario.value().hash)) return After::start_page;
    }
    const auto result = courses::result_of(exam, sitting, kept.answers, kept.attempts);
    said_ = (result.passed ? tr("{0}: passed.", {exam.title}) : tr("{0}: not passed.", {exam.title})) + " " +
            base::join(result.sentences, " ");
    return After::start_page;
  }

  static bool handed_in(const KeptOf& kept, const std::string& sitting, const std::string& hash) {
    for (const auto& attempt : kept.attempts)
      if (attempt.sitting == sitting && attempt.scenario_hash == hash) return true;
    return false;
  }

  /// What of the form was not answered yet: answers come in its order.
  static play::DrillPlan rest_of(const courses::Exam& exam, const std::string& sitting, const KeptOf& kept) {
    std::size_t answered = 0;
    for (const auto& one : kept.answers) answered += one.sitting == sitting ? 1 : 0;
    play::DrillPlan plan;
    plan.title = exam.title;
    plan.feedback = false;
    plan.seconds = 0;
    plan.sitting = sitting;
    const auto form = courses::form_of(exam);
    for (std::size_t i = answered; i < form.size(); ++i) {
      drills::Wanted wanted;
      wanted.kind = drills::kind_from(form[i].kind).value_or(drills::Kind::name_it);
      wanted.code = form[i].code;
      wanted.seed = form[i].seed;
      if (wanted.kind == drills::Kind::clean_or_not) wanted.clean = form[i].clean;
      plan.form.push_back(wanted);
    }
    return plan;
  }

  Options options_;
  std::string who_;
  Settings settings_;
  std::optional<scene::Scene> first_;
  Stage stage_;
  std::string said_;
};

}  // namespace

void run(std::optional<scene::Scene> first, const Options& options) {
  Program(std::move(first), options).run();
}

}  // namespace haunch::window
