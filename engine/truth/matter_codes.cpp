// SPDX-License-Identifier: Apache-2.0
// What is in the bore that should not be.
#include "scene/water.hpp"
#include "truth/codes.hpp"

namespace haunch::truth {

void Codes::code(const scene::Roots& roots) {
  const char* form =
      roots.form == scene::RootForm::tap ? "A" : (roots.form == scene::RootForm::fine ? "B" : "C");
  const std::string what = roots.form == scene::RootForm::tap    ? "one thick root"
                           : roots.form == scene::RootForm::fine ? "single fine roots"
                                                                 : "a dense mass of roots";
  auto made = line("BBA", form);
  made.q1 = whole(roots.blocks_percent);
  set_arc(made, roots.arc);
  made.at_joint = near_joint(roots.from_m);
  add_long(made, what + " -> BBA " + form + "; takes " + show_percent(roots.blocks_percent) +
                     " % of the bore's area" + (made.at_joint ? "; comes in at a joint" : ""));
}

void Codes::code(const scene::Settled& settled) {
  const char* form = settled.kind == scene::SettledKind::fine     ? "A"
                     : settled.kind == scene::SettledKind::coarse ? "B"
                                                                  : "C";
  const std::string what = settled.kind == scene::SettledKind::fine     ? "fine"
                           : settled.kind == scene::SettledKind::coarse ? "coarse"
                                                                        : "hard";
  auto made = line("BBC", form);
  made.q1 = whole(settled.depth_percent);
  add_long(made, what + " deposit on the invert -> BBC " + form + "; " + show_percent(settled.depth_percent) +
                     " % of the bore's height at its deepest (" +
                     show(100.0 * scene::area_share(whole(settled.depth_percent) / 100.0)) +
                     " % of its area)");
}

void Codes::code(const scene::Attached& attached) {
  const char* form = attached.kind == scene::AttachedKind::scale    ? "A"
                     : attached.kind == scene::AttachedKind::grease ? "B"
                                                                    : "C";
  auto made = line("BBB", form);
  made.q1 = whole(attached.covers_percent);
  set_arc(made, attached.arc);
  add_long(made, scene::kind_word(fault()) + " on the wall -> BBB " + form + "; takes " +
                     show_percent(attached.covers_percent) + " % of the bore's area at its thickest");
}

}  // namespace haunch::truth
