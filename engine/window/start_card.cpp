// SPDX-License-Identifier: Apache-2.0
// The card at the start: the job, the few keys that are needed, whose scores they are, how much help there
// is, and what was left unfinished.
#include <cmath>

#include "base/words.hpp"
#include "window/card.hpp"

namespace haunch::window {
namespace {

std::string node_words(const scene::Node& node, const std::string& otherwise) {
  return node.name.empty() ? otherwise : node.name;
}

/// The rule of this job, as a person reads it off a meter.
std::string speed_words(const Session& session) {
  const double most_m_s = session.exercise().scene().scenario.camera.speed_m_s;
  const bool feet = session.settings.unit == base::LengthUnit::feet;
  const double a_minute = 60 * most_m_s / (feet ? base::metres_per_foot : 1);
  return tr("At most {0} a minute: this job's rule.",
            {base::show_number(std::round(a_minute * 10) / 10) + (feet ? " ft" : " m")});
}

/// Whose scores they are, typed or said already.
void name_part(Session& session) {
  const auto& p = palette();
  if (!session.asking_name) {
    if (session.who.empty()) return;
    ImGui::AlignTextToFramePadding();
    text_in(type().text, p.soft_ink, tr("Scores are kept under {0}.", {session.who}), false);
    ImGui::SameLine();
    if (quiet_button(tr("Somebody else"), tr("asks for another name or code"))) {
      session.asking_name = true;
      session.unfinished.reset();  // it is not theirs
    }
    return;
  }
  text_in(type().strong, p.ink, tr("Your name, or a code such as coder-07"));
  typed_field(session.name.text, 16);
  text_in(type().text, p.soft_ink, tr("Scores are kept under it on this machine, and nowhere else."));
}

/// How much help there is; an exam is not chosen but set.
void kind_part(Session& session) {
  if (session.mode == play::Mode::exam) {
    text_in(type().strong, palette().ink,
            tr("An exam: no hints, nothing to look up, and no way back once the drive is finished."));
    return;
  }
  const bool guided = session.mode == play::Mode::guided;
  ImGui::AlignTextToFramePadding();
  text_in(type().text, palette().soft_ink, tr("Help on the way:"), false);
  ImGui::SameLine();
  if (quiet_button(tr("Guided"), tr("says what to do next, all the way"), guided))
    session.mode = play::Mode::guided;
  ImGui::SameLine();
  if (quiet_button(tr("Practice"), tr("hints when you ask for them"), !guided))
    session.mode = play::Mode::practice;
}

void buttons_part(Session& session) {
  const std::string message = session.message();
  if (!message.empty()) text_in(type().strong, palette().accent, message);
  if (session.unfinished) {
    text_in(type().text, palette().ink,
            tr("You left this run unfinished: {0}. Beginning afresh puts that aside; it is kept.",
               {session.unfinished->words}));
    if (filled_button(tr("Go on   F9"))) session.go_on();
    ImGui::SameLine();
    if (ImGui::Button(tr("Begin afresh   Enter").c_str(), {0, em(2)})) session.begin();
    return;
  }
  if (filled_button(tr("Begin   Enter"))) session.begin();
  ImGui::SameLine();
  if (ImGui::Button(tr("Start page   Ctrl Home").c_str(), {0, em(2)})) session.command(Command::start_page);
}

}  // namespace

void draw_start_card(Session& session) {
  const auto& p = palette();
  const auto& scenario = session.exercise().scene().scenario;
  centre_card(34, 0.96F);
  if (ImGui::Begin("start", nullptr, card | ImGuiWindowFlags_AlwaysAutoResize)) {
    text_in(type().strong, p.ink, scenario.title);
    // The purpose may name what there is to be found: that is for the review.
    if (!scenario.job.empty()) text_in(type().text, p.ink, scenario.job);
    const bool downstream = scene::travel(scenario) > 0;
    const std::string up = node_words(scenario.start, tr("the upstream end"));
    const std::string down = node_words(scenario.finish, tr("the downstream end"));
    const std::string bore =
        base::show_number(scenario.sections.empty() ? 0 : scenario.sections.front().bore_mm);
    std::string facts = tr(downstream ? "{0}, bore {1} mm, from {2} to {3}, looking downstream."
                                      : "{0}, bore {1} mm, from {2} to {3}, looking upstream.",
                           {base::show_distance(scenario.length_m, session.settings.unit), bore,
                            downstream ? up : down, downstream ? down : up}) +
                        " " + session.counter_words();
    facts += " " + speed_words(session);
    text_in(type().text, p.soft_ink, facts);
    // Nothing of the drive's own has happened yet: this is what is known before it.
    for (const auto& told : session.exercise().told())
      text_in(type().text, p.ink,
              base::show_distance(told.distance_m, session.settings.unit) + ": " + told.words);
    ImGui::Dummy({0, em(0.2F)});
    ImGui::Separator();
    ImGui::Dummy({0, em(0.2F)});
    key_table("card keys", false);
    if (!session.asking_name)
      text_in(
          type().text, p.soft_ink,
          tr("Type at any time, now as well: a code such as BAJ B 14 mm 10-2, or words such as offset joint "
             "14 mm 10 to 2. It is logged where the faint ring lies on the wall. The buttons at the foot do "
             "the "
             "same with the mouse."));
    ImGui::Dummy({0, em(0.2F)});
    name_part(session);
    kind_part(session);
    buttons_part(session);
    ImGui::Dummy({0, em(0.2F)});
    text_in(type().text, p.soft_ink,
            tr("This trains people; it does not replace local codes, a qualified assessment or a permit."));
  }
  ImGui::End();
}

}  // namespace haunch::window
