// SPDX-License-Identifier: Apache-2.0
// Linings and what is wrong with them.
#include <cmath>

#include "truth/codes.hpp"

namespace haunch::truth {
namespace {

Letter of_form(scene::LiningForm form) {
  using scene::LiningForm;
  switch (form) {
    case LiningForm::come_away:
      return {"A", "the lining has come away from the pipe and hangs in"};
    case LiningForm::discoloured:
      return {"B", "the lining is discoloured"};
    case LiningForm::poor_end:
      return {"C", "the lining is ragged where it ends"};
    case LiningForm::wrinkled:
      return {"D", "the lining has folds"};
    case LiningForm::bulging_in:
      return {"E", "the lining bulges into the bore"};
    case LiningForm::bulging_out:
      return {"F", "the lining bulges out, where the pipe behind it is gone"};
    case LiningForm::film_off:
      return {"G", "the innermost film of the lining is coming off"};
    case LiningForm::seam_off:
      return {"H", "the strip over the seam of the lining is coming off"};
    case LiningForm::cracked:
      return {"I", "the lining is cracked"};
    case LiningForm::holed:
      return {"J", "there is a hole in the lining"};
    case LiningForm::poor_joint:
      return {"K", "two pieces of lining do not join"};
    case LiningForm::soft:
      return {"L", "the lining looks as if it had not set"};
    case LiningForm::resin_missing:
      return {"M", "the fibre of the lining is dry: there is no resin in it"};
    case LiningForm::end_open:
      return {"N", "the lining stands off the pipe where it ends"};
  }
  return {"Z", ""};
}

}  // namespace

Letter of_way(scene::FoldWay way) {
  switch (way) {
    case scene::FoldWay::along:
      return {"A", "along the pipe"};
    case scene::FoldWay::around:
      return {"B", "round the pipe"};
    case scene::FoldWay::several:
      return {"C", "in several directions"};
    case scene::FoldWay::spiral:
      return {"D", "in a spiral"};
  }
  return {"", ""};
}

void Codes::code(const scene::ShortLining& lining) {
  add_long(line("BCB", "B"),
           "a stretch of lining " + show(lining.thickness_mm) +
               " mm thick within the pipe, with an edge at both ends: mended there -> BCB B");
}

void Codes::code(const scene::LiningDefect& defect) {
  using scene::LiningForm;
  const Letter form = of_form(defect.form);
  const bool folds = defect.form == LiningForm::wrinkled;
  const Letter way = of_way(defect.way);
  auto made = line("BAK", form.letter, folds ? way.letter : "");
  std::string reason = std::string(form.says) + " -> BAK " + form.letter;
  if (folds) reason += std::string(", ") + way.says + " -> " + way.letter;
  if (scene::takes_area(defect.form)) {
    made.q1 = whole(defect.percent);
    reason += "; takes " + show_percent(defect.percent) + " % of the lined bore's area where it is worst";
  }
  if (defect.form == LiningForm::cracked || defect.form == LiningForm::end_open) {
    made.q1 = whole(defect.width_mm);
    reason += "; open " + show(whole(defect.width_mm)) + " mm";
  }
  set_arc(made, defect.arc);
  if (defect.form == LiningForm::holed) reason += "; what lies behind it can be told only through the hole";
  if (defect.form == LiningForm::holed || defect.form == LiningForm::poor_joint) {
    reach_.from_m = reach_.to_m = (defect.from_m + defect.to_m) / 2;
    add(made, reason);
    return;
  }
  add_long(made, reason);
}

}  // namespace haunch::truth
