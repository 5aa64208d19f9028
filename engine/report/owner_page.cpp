// SPDX-License-Identifier: Apache-2.0
#include "report/owner_page.hpp"

#include <kainjow/mustache.hpp>
#include <set>
#include <stdexcept>

#include "base/files.hpp"
#include "base/words.hpp"
#include "report/owner_desk.hpp"
#include "report/owner_section.hpp"
#include "report/svg.hpp"
#include "report/unseen.hpp"

namespace haunch::report {
namespace {

using Data = PageData;
using List = PageList;

std::string content_file(const char* name) {
  const auto text = base::read_file(base::content_dir() / "report" / name);
  if (!text)
    throw std::runtime_error("the content folder is damaged: " + base::to_line(text.problems().front()));
  return text.value();
}

Data step_data(const OwnerStep& step) {
  Data entry;
  entry.set("mark", step_mark_svg(step.next, ""));
  entry.set("heading", plain(step.heading));
  entry.set("text", unbroken(plain(step.text)));
  entry.set("who", step.numbers.size() == 1 ? "Finding" : "Findings");
  if (!step.numbers.empty()) entry.set("numbers", number_list(step.numbers));
  return entry;
}

void put_section(Desk& desk, Data& page) {
  const DrawnSection drawn =
      draw_owner_section({desk.page.record, &desk.advice, &desk.measure, &desk.list, desk.id + "-"});
  page.set("section", drawn.svg);
  std::set<std::size_t> steps;
  for (const FindingGroup& group : desk.advice.groups) steps.insert(group.next);
  List legend;
  for (auto step = steps.rbegin(); step != steps.rend(); ++step) {
    Data entry;
    entry.set("mark", step_mark_svg(*step, ""));
    entry.set("heading", step_heading(*step, desk.advice, desk.meanings));
    legend.push_back(entry);
  }
  page.set("legend", legend);
  std::vector<std::string> notes = section_notes(*desk.page.record, desk.measure);
  if (drawn.unnumbered > 0)
    notes.push_back(std::to_string(drawn.unnumbered) +
                    " less urgent findings stand as short ticks without a number, "
                    "because their places are crowded.");
  if (drawn.unplaced > 0)
    notes.push_back(std::to_string(drawn.unplaced) +
                    " findings have no distance in the record and are not drawn.");
  page.set("notes", texts(notes));
  page.set("measure", plain(desk.measure.words));
  if (!desk.measure.refused.empty()) page.set("refused", desk.measure.refused);
}

}  // namespace

std::string owner_article(const OwnerPage& page, const coding::CodeList& list, const Meanings& meanings,
                          const std::vector<Caution>& cautions) {
  Desk desk{page,
            list,
            meanings,
            cautions,
            advice_for(*page.record, *page.grade, meanings),
            measure_of(*page.record, page.zero, page.unit),
            "p" + std::to_string(page.number),
            {}};
  Data data;
  data.set("id", desk.id);
  data.set("title", plain(pipe_title(*page.record)));
  std::vector<std::string> places;
  for (const char* code : {"AAJ", "AAN"})
    if (const std::string value = base::trim(page.record->header_value(code).value_or("")); !value.empty())
      places.push_back(value);
  if (!places.empty()) data.set("place", plain(base::join(places, ", ")));
  data.set("facts", facts_data(desk));

  const std::vector<OwnerStep> steps =
      next_steps(*page.record, desk.advice, *page.grade, desk.measure, meanings);
  List headline{step_data(steps.front())}, more;
  for (std::size_t i = 1; i < steps.size(); ++i) more.push_back(step_data(steps[i]));
  data.set("headline", headline);
  data.set("more_steps", !more.empty());
  data.set("steps", more);
  data.set("found", texts(found_sentences(*page.record, desk.advice, *page.grade, desk.measure)));
  data.set("sure", texts(sure_sentences(*page.record, *page.grade, page.remarks, desk.measure)));

  put_section(desk, data);
  data.set("any", desk.advice.finding_count > 0);
  data.set("class_name", std::string("Class"));
  data.set("class_head", "Class (" + std::to_string(page.grade->worst_class) + " is worst)");
  data.set("groups", groups_data(desk));
  put_missing_pictures(desk, data);
  put_parts(desk, data);
  data.set("has_unseen", !page.grade->not_inspected.empty());
  data.set("unseen", texts(unseen_words(*page.record, *page.grade, desk.measure)));
  List warned;
  for (const Caution& caution : cautions_for(*page.record, desk.advice.action, cautions)) {
    Data entry;
    entry.set("heading", caution.heading);
    entry.set("text", caution.text);
    warned.push_back(entry);
  }
  data.set("cautions", warned);
  List signs;
  for (const DangerSign& sign : meanings.signs()) {
    Data entry;
    entry.set("heading", sign.heading);
    entry.set("text", sign.text);
    signs.push_back(entry);
  }
  data.set("signs", signs);
  data.set("source", plain(page.file + ", inspection " + std::to_string(page.inspection)));
  data.set("scheme", plain(page.grade->scheme));

  static const std::string form_text = content_file("owner.mustache");
  kainjow::mustache::mustache form(form_text);
  if (!form.is_valid()) throw std::runtime_error("content/report/owner.mustache: " + form.error_message());
  return form.render(data);
}

std::string owner_head(const std::string& title) {
  return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
         "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
         "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; "
         "style-src "
         "'unsafe-inline'\">\n<title>" +
         escaped(title) + "</title>\n<style>\n" + content_file("owner.css") +
         "</style>\n</head>\n<body>\n<main>\n";
}

std::string owner_foot() { return "</main>\n</body>\n</html>\n"; }

}  // namespace haunch::report
