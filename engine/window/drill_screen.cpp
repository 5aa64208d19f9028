// SPDX-License-Identifier: Apache-2.0
#include "window/drill_screen.hpp"

#include <imgui.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <future>
#include <numbers>

#include "base/words.hpp"
#include "drills/make.hpp"
#include "window/card.hpp"
#include "window/drilling.hpp"

namespace haunch::window {
namespace {

using drills::Kind;
using State = Drilling::State;

/// A question with its picture, ready to be shown.
struct Prepared {
  std::shared_ptr<const drills::Item> item;
  std::unique_ptr<Picture> picture;
  std::string problem;
};

Prepared prepare(const drills::Wanted& wanted, int threads) {
  Prepared prepared;
  auto item = drills::make(wanted, {grading::Scheme::shipped(), threads});
  if (!item) {
    prepared.problem = base::to_line(item.problems().front());
    return prepared;
  }
  prepared.item = std::make_shared<const drills::Item>(std::move(item).value());
  prepared.picture = std::make_unique<Picture>(prepared.item->scene, threads);
  return prepared;
}

std::string seconds_words(double seconds) {
  const int whole = static_cast<int>(std::ceil(seconds));
  const std::string rest = std::to_string(whole % 60);
  return std::to_string(whole / 60) + ":" + (rest.size() < 2 ? "0" : "") + rest;
}

/// The panel at the left: nothing of the pipe lies under it.
float panel_width() {
  const float whole = ImGui::GetIO().DisplaySize.x;
  return std::min(whole - em(1.2F), std::max(em(20), whole * 0.34F));
}
float panel_left() {
  const float whole = ImGui::GetIO().DisplaySize.x, left = panel_width() + em(1.2F);
  return whole - left < 0.2F * whole ? 0 : left;
}

void head_line(Drilling& drilling) {
  const auto& p = palette();
  const auto& set = drilling.set();
  text_in(type().strong, p.ink, set.plan().title);
  const int done = static_cast<int>(set.answered().size());
  std::string words;
  if (!set.plan().form.empty())
    words = tr("{0} of {1}", {std::to_string(done), std::to_string(set.plan().form.size())});
  else if (set.plan().seconds > 0)
    words = tr("{0} left, {1} right of {2}",
               {seconds_words(set.seconds_left()), std::to_string(set.right()), std::to_string(done)});
  else
    words = tr("{0} right of {1}", {std::to_string(set.right()), std::to_string(done)});
  ImGui::AlignTextToFramePadding();
  text_in(type().text, p.soft_ink, words, false);
  ImGui::SameLine();
  if (quiet_button(tr("Stop here"), "Esc")) drilling.stop();
  ImGui::Separator();
}

/// Where the mark for the bottom is drawn, and where it is put with the pointer.
void bottom_mark(Drilling& drilling) {
  const auto* item = drilling.item();
  if (item == nullptr || item->wanted.kind != Kind::find_bottom || !drilling.answer().bottom_h) return;
  const auto& io = ImGui::GetIO();
  const ImVec2 middle{panel_left() + (io.DisplaySize.x - panel_left()) / 2, io.DisplaySize.y / 2};
  const float radius = std::min(io.DisplaySize.y, io.DisplaySize.x - panel_left()) * 0.34F;
  const auto at = [&](double hour, float share) {
    const auto angle = static_cast<float>(hour / 6 * std::numbers::pi);
    return ImVec2{middle.x + share * radius * std::sin(angle), middle.y - share * radius * std::cos(angle)};
  };
  auto& list = *ImGui::GetBackgroundDrawList();
  const auto draw = [&](double hour, ImU32 colour) {
    const float thin = std::max(2.0F, em(0.12F));
    list.AddLine(at(hour, 0.3F), at(hour, 1), IM_COL32(0, 0, 0, 160), thin + 3);
    list.AddLine(at(hour, 0.3F), at(hour, 1), colour, thin);
    list.AddTriangleFilled(at(hour, 1.12F), at(hour - 0.18, 0.96F), at(hour + 0.18, 0.96F), colour);
  };
  const bool answered = drilling.state() == State::answered && drilling.set().plan().feedback;
  draw(*drilling.answer().bottom_h, palette().accent);
  if (answered) draw(base::on_screen_hour(6, item->clip.roll_deg), palette().ink);
  if (drilling.state() == State::asking && io.MouseDown[0] && !io.WantCaptureMouse)
    drilling.set_bottom(std::atan2(io.MousePos.x - middle.x, middle.y - io.MousePos.y) / std::numbers::pi *
                        6);
}

void options_part(Drilling& drilling) {
  const auto* item = drilling.item();
  for (int i = 0; i < static_cast<int>(item->options.size()); ++i) {
    const auto& option = item->options[static_cast<std::size_t>(i)];
    const std::string label = std::to_string(i + 1) + "  " + option.value +
                              (option.words.empty() ? std::string() : "  " + option.words);
    if (quiet_button(label, std::to_string(i + 1))) drilling.choose(i);
    if (drilling.state() != State::asking) return;  // it was answered: what follows is of the next
  }
}

void hours_part(Drilling& drilling) {
  for (int hour = 1; hour <= 12; ++hour) {
    const std::string label = std::to_string(hour);
    if (hour > 1) beside_if_it_fits(label);
    const auto& answer = drilling.answer();
    if (quiet_button(label, {}, answer.clock_from == hour || answer.clock_to == hour))
      drilling.set_hour(hour);
  }
}

void number_part(Drilling& drilling) {
  for (const double by : {-10.0, -1.0, 1.0, 10.0}) {
    const std::string label = (by > 0 ? "+" : "") + base::show_number(by) + " " + drilling.item()->unit;
    if (by != -10.0) beside_if_it_fits(label);
    if (quiet_button(label, by == 1 ? "Up" : by == -1 ? "Down" : "")) drilling.step_number(by);
  }
}

void classes_part(Drilling& drilling) {
  for (const std::string& goal : drilling.item()->goals) {
    ImGui::AlignTextToFramePadding();
    text_in(type().text, palette().soft_ink, tr(goal), false);
    const auto found = drilling.answer().classes.find(goal);
    for (int grade = 1; grade <= drilling.item()->worst_class; ++grade) {
      ImGui::SameLine();
      ImGui::PushID((goal + std::to_string(grade)).c_str());
      if (quiet_button(std::to_string(grade), {},
                       found != drilling.answer().classes.end() && found->second == grade))
        drilling.give_class(goal, grade);
      ImGui::PopID();
    }
  }
}

void asking_part(Drilling& drilling) {
  const auto& p = palette();
  const auto* item = drilling.item();
  text_in(type().strong, p.ink, tr(item->question));
  const Kind kind = item->wanted.kind;
  if (!item->options.empty()) options_part(drilling);
  if (drilling.state() != State::asking) return;
  if (kind == Kind::clock) hours_part(drilling);
  if (kind == Kind::size_it || kind == Kind::water_depth) number_part(drilling);
  if (kind == Kind::grade_it) classes_part(drilling);
  if (kind == Kind::find_bottom)
    text_in(type().text, p.soft_ink, tr("Left and Right turn the mark, or put it there with the pointer."));
  const bool typed =
      kind == Kind::clock || kind == Kind::size_it || kind == Kind::water_depth || kind == Kind::name_it;
  if (typed) {
    typed_field(drilling.line.text, 10);
    ImGui::SameLine();
  }
  if (kind == Kind::which_of_two || kind == Kind::clean_or_not || kind == Kind::next_step) return;
  if (drilling.ready_to_answer()) {
    if (filled_button(tr("Answer   Enter"))) drilling.confirm();
  } else if (typed) {
    ImGui::AlignTextToFramePadding();
    text_in(type().text, p.faint_ink,
            kind == Kind::name_it ? tr("or type its code, then Enter") : tr("type it, then Enter"), false);
  }
}

void answered_part(Drilling& drilling) {
  const auto& p = palette();
  const auto* item = drilling.item();
  const double credit = drilling.credit();
  text_in(type().strong, credit > 0.999 ? p.accent : p.ink,
          credit > 0.999 ? tr("Right")
          : credit > 0   ? tr("Partly right")
                         : tr("Not right"));
  text_in(type().text, p.ink, drilling.sentence());
  if (!item->why.empty()) text_in(type().text, p.soft_ink, item->why);
  if (!drilling.message().empty()) text_in(type().strong, p.accent, drilling.message());
  if (filled_button(tr("Next   Enter"))) drilling.confirm();
  if (item->clip.seconds > 0 && drilling.state() == State::answered) {
    ImGui::SameLine();
    if (quiet_button(tr("Again"), "F8")) drilling.show_again();
  }
}

void over_part(Drilling& drilling) {
  const auto& p = palette();
  const auto& answered = drilling.set().answered();
  centre_card(40, 0.9F);
  if (ImGui::Begin("drill over", nullptr, card)) {
    text_in(type().large, p.ink,
            tr("{0} of {1}", {std::to_string(drilling.set().right()), std::to_string(answered.size())}),
            false);
    if (!drilling.message().empty()) text_in(type().strong, p.accent, drilling.message());
    if (drilling.set().plan().feedback) {
      ImGui::BeginChild("list", {0, ImGui::GetIO().DisplaySize.y * 0.5F});
      for (const auto& one : answered) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        draw_mark(*ImGui::GetWindowDrawList(), {at.x + em(0.5F), at.y + em(0.6F)}, em(0.36F),
                  one.credit > 0.999 ? ItemKind::right
                  : one.credit > 0   ? ItemKind::partly
                                     : ItemKind::missed,
                  p.ink);
        ImGui::Indent(em(1.4F));
        text_in(type().text, one.credit > 0.999 ? p.soft_ink : p.ink, one.sentence);
        ImGui::Unindent(em(1.4F));
      }
      ImGui::EndChild();
    } else {
      text_in(type().text, p.soft_ink,
              drilling.set().over()
                  ? tr("Handed in. What came of it is told when the whole exam is.")
                  : tr("Not all is answered: it goes on from here when you open it again."));
    }
    if (filled_button(tr("Done   Enter"))) drilling.left = true;
  }
  ImGui::End();
}

void draw_drill(Drilling& drilling) {
  if (drilling.state() == State::over) return over_part(drilling);
  bottom_mark(drilling);
  const auto& io = ImGui::GetIO();
  ImGui::SetNextWindowPos({em(0.6F), em(0.6F)});
  ImGui::SetNextWindowSize({panel_width(), io.DisplaySize.y - em(1.2F)});
  if (ImGui::Begin("drill", nullptr, card)) {
    head_line(drilling);
    if (drilling.state() == State::waiting) text_in(type().text, palette().soft_ink, tr("One moment."));
    if (drilling.state() == State::asking)
      asking_part(drilling);
    else if (drilling.state() == State::answered)
      answered_part(drilling);
  }
  ImGui::End();
}

std::string keep_answer(const scores::Answer& answer) {
  try {
    auto store = own_store();
    std::string clock;
    scores::Answer row = answer;
    row.answered_at = time_to_keep(store, answer.answered_at, clock);
    store.add(row);
    return clock;
  } catch (const std::exception& error) {
    return tr("This answer could not be kept: {0}", {error.what()});
  }
}

/// Makes questions beside the one that is shown.
class Maker {
 public:
  explicit Maker(int threads) : threads_(threads) {}
  bool busy() const { return coming_.valid(); }
  void begin(const drills::Wanted& wanted) {
    coming_ =
        std::async(std::launch::async, [wanted, threads = threads_] { return prepare(wanted, threads); });
  }
  bool ready() const {
    return coming_.valid() && coming_.wait_for(std::chrono::seconds(0)) == std::future_status::ready;
  }
  Prepared take() { return coming_.get(); }

 private:
  int threads_;
  std::future<Prepared> coming_;
};

}  // namespace

After run_drills(Stage& stage, play::DrillSet set, const std::string& who, int threads, bool* finished) {
  stage.title(set.plan().title + " - Haunch");
  Drilling drilling(std::move(set), settings_of(who), keep_answer);
  drilling.full_screen_wanted = stage.is_full_screen();
  Maker maker(threads);
  Prepared shown;
  Picture::Image image;
  PictureTexture texture;
  Size size;
  Settings written = drilling.settings;
  stage.seconds();
  while (stage.open()) {
    stage.pump(drilling);
    if (drilling.quit_wanted || !stage.open()) break;
    if (drilling.left) {
      if (finished != nullptr) *finished = drilling.set().over();
      return After::start_page;
    }
    drilling.tick(stage.seconds());
    if (const auto wanted = drilling.wanted()) maker.begin(*wanted);
    if (drilling.state() == State::waiting && maker.ready()) {
      Prepared next = maker.take();
      if (next.item) {
        shown.picture.reset();  // before the run that it draws
        shown = std::move(next);
        image.width = 0;
        drilling.ask(shown.item);
      } else {
        drilling.none_came(next.problem);
      }
      stage.pace.stir();
    }
    const auto want = [&] {
      if (shown.picture && size.width > 16) shown.picture->want(drilling.look(), size.width, size.height);
    };
    if (drilling.moving()) want();
    const bool fresh = shown.picture && shown.picture->take(image);
    if (drilling.moving() || stage.glue().busy()) stage.pace.stir();
    if (!fresh && !stage.pace.due(drilling.moving())) {
      Pace::rest();
      continue;
    }
    if (fresh) texture.update(image);
    stage.begin_frame(drilling.settings);
    const auto& io = ImGui::GetIO();
    // Beside the panel the room is tall; a tall picture would show the dark rim of the lens.
    const float wide = std::max(io.DisplaySize.x - panel_left(), io.DisplaySize.y * 4 / 3);
    size = picture_size(static_cast<int>(wide), static_cast<int>(io.DisplaySize.y));
    want();
    if (image.width > 0 && shown.item)
      draw_picture(texture.id(), image, panel_left(),
                   {ring_in_picture(shown.item->scene, image.look, image.width, image.height), {}});
    draw_drill(drilling);
    stage.end_frame();
    stage.full_screen(drilling.full_screen_wanted);
    if (!(drilling.settings == written)) {
      write_settings(settings_file(who), drilling.settings);
      written = drilling.settings;
    }
  }
  return After::leave;
}

}  // namespace haunch::window
