// SPDX-License-Identifier: Apache-2.0
#include "report/owner_page.hpp"

#include <algorithm>
#include <kainjow/mustache.hpp>
#include <map>
#include <set>
#include <stdexcept>

#include "base/files.hpp"
#include "base/words.hpp"
#include "report/advice.hpp"
#include "report/owner_section.hpp"
#include "report/pipe_pieces.hpp"
#include "report/standing.hpp"
#include "report/svg.hpp"

namespace haunch::report {
namespace {

using Data = kainjow::mustache::data;
using List = kainjow::mustache::list;

constexpr std::size_t most_places = 25, most_parts = 40, most_missing = 12;

struct Desk {
  const OwnerPage& page;
  const coding::CodeList& list;
  const Meanings& meanings;
  const std::vector<Caution>& cautions;
  Advice advice;
  Measure measure;
  std::string id;
  std::map<std::string, std::vector<std::string>> missing_pictures;  ///< by why
};

std::string content_file(const char* name) {
  const auto text = base::read_file(base::content_dir() / "report" / name);
  if (!text)
    throw std::runtime_error("the content folder is damaged: " + base::to_line(text.problems().front()));
  return text.value();
}

/// Control characters have no place on a page; the template escapes the rest.
std::string plain(std::string text) {
  std::erase_if(text,
                [](char letter) { return static_cast<unsigned char>(letter) < 0x20 || letter == 0x7F; });
  return text;
}

List texts(const std::vector<std::string>& sentences) {
  List list;
  for (const std::string& text : sentences) list.push_back(Data("text", plain(text)));
  return list;
}

Data step_data(const OwnerStep& step) {
  Data entry;
  entry.set("mark", step_mark_svg(step.next, ""));
  entry.set("heading", plain(step.heading));
  entry.set("text", plain(step.text));
  entry.set("who", step.numbers.size() == 1 ? "Finding" : "Findings");
  if (!step.numbers.empty()) entry.set("numbers", number_list(step.numbers));
  return entry;
}

std::string named_value(const Desk& desk, const char* field) {
  const std::string value = base::trim(desk.page.record->header_value(field).value_or(""));
  const coding::Named* named = desk.list.header_field(field);
  if (named != nullptr)
    if (const auto found = named->values.find(value); found != named->values.end()) return found->second;
  return value;
}

List facts_data(const Desk& desk) {
  const coding::Record& record = *desk.page.record;
  const auto value = [&](const char* code) { return base::trim(record.header_value(code).value_or("")); };
  List facts;
  const auto add = [&](const char* name, const std::string& text) {
    if (text.empty()) return;
    Data fact;
    fact.set("name", std::string(name));
    fact.set("value", plain(text));
    facts.push_back(fact);
  };
  const Ends ends = ends_of(record);
  add("Inspected on", value("ABF"));
  add("Length", ends.length_m() > 0 ? base::show_distance(ends.length_m(), desk.page.unit) : "not recorded");
  std::vector<std::string> materials, bores;
  for (const PipePiece& piece : pipe_pieces(record, desk.list)) {
    const std::string material = material_words(piece.material, desk.list);
    if (std::count(materials.begin(), materials.end(), material) == 0) materials.push_back(material);
    const std::string bore = piece.bore_mm ? show_mm(*piece.bore_mm, desk.page.unit) : "not recorded";
    if (std::count(bores.begin(), bores.end(), bore) == 0) bores.push_back(bore);
  }
  add("Made of", base::join(materials, ", then "));
  add("Inside size", base::join(bores, ", then "));
  add("Carries", named_value(desk, "ACK"));
  const std::string way = value("AAK");
  if (way == "A" || way == "B") add("Camera went", named_value(desk, "AAK"));
  add("Record",
      desk.page.file + (desk.page.inspection > 1 ? ", inspection " + std::to_string(desk.page.inspection)
                                                 : std::string()));
  return facts;
}

/// A number stays with its unit.
std::string unbroken(std::string text) {
  for (const char* unit : {" m", " ft"})
    for (auto at = text.find(unit); at != std::string::npos; at = text.find(unit, at + 1))
      text.replace(at, 1, "\u00A0");
  return text;
}

/// `said`: that classes are provisional stands above them all.
Data place_data(const Desk& desk, const RankedFinding& one, bool said) {
  Data row;
  row.set("number", std::to_string(one.number));
  row.set("fid", desk.id + "-f" + std::to_string(one.number));
  row.set("where", unbroken(where_words(one, desk.measure)));
  row.set("round", round_the_pipe(*one.seen));
  row.set("size", size_words(one, desk.list, desk.page.unit));
  row.set("class", show_class(one.worst_class, one.provisional && !said, "none"));
  row.set("code", plain(coding::show_code(*one.seen)));
  coding::Observation spoken = *one.seen;
  spoken.stretch.clear();  // both ends stand in `where`
  row.set("words", plain(coding::in_words(spoken, desk.list)));
  if (!one.hidden.empty()) row.set("hidden", plain(one.hidden));
  return row;
}

/// Each picture once, at the most urgent finding of the group that names it.
List pictures_data(Desk& desk, const FindingGroup& group) {
  List list;
  if (desk.page.pictures == nullptr) return list;
  std::set<std::string> named;
  for (const RankedFinding& one : group.findings)
    for (const std::size_t row : one.rows) {
      const std::string& field = desk.page.record->observations[row].photo;
      if (field.empty() || !named.insert(field).second) continue;
      for (const RecordPicture& picture : desk.page.pictures->named(field)) {
        const std::string whose = "finding " + std::to_string(one.number);
        if (!picture.missing.empty()) {
          desk.missing_pictures[picture.missing].push_back("\"" + picture.name + "\" (" + whose + ")");
          continue;
        }
        Data entry;
        entry.set("address", picture.address);
        entry.set("caption", plain("F" + whose.substr(1) + ", " + where_words(one, desk.measure) + " · " +
                                   picture.name));
        entry.set("alt", plain("Picture of " + whose + ": " + group.meaning->title));
        list.push_back(entry);
      }
    }
  return list;
}

List groups_data(Desk& desk) {
  List groups;
  const std::size_t jet = desk.meanings.next_for(coding::Action::clean_again);
  for (std::size_t i = 0; i < desk.advice.groups.size(); ++i) {
    const FindingGroup& group = desk.advice.groups[i];
    const RankedFinding& first = group.findings.front();
    Data entry;
    entry.set("gid", desk.id + "-g" + std::to_string(i + 1));
    entry.set("mark",
              step_mark_svg(group.next, group.findings.size() == 1 ? std::to_string(first.number) : ""));
    entry.set("title", group.meaning->title);
    if (group.findings.size() > 1) entry.set("many", std::to_string(group.findings.size()));
    entry.set("what", group.meaning->what);
    entry.set("leads_to", group.meaning->leads_to);
    const bool waits = group.next == jet && desk.advice.no_jet;
    entry.set("next", step_heading(group.next, desk.advice, desk.meanings));
    std::string then = waits ? "Other findings say that this pipe may not bear it." : group.meaning->then;
    const coding::CodeEntry* code = desk.list.find(first.seen->code);
    // What is in the way is no reason to clean or cut before a pipe that may not bear it is judged.
    if (desk.advice.no_jet && !waits && group.next < desk.meanings.no_jet_from() && code != nullptr &&
        code->group == "operation")
      then += " No cleaning or cutting before what is more urgent is settled.";
    entry.set("then", then);
    if (!first.cause.empty() && !waits) entry.set("cause", plain(first.cause));
    const bool provisional =
        std::all_of(group.findings.begin(), group.findings.end(),
                    [](const RankedFinding& one) { return one.provisional || !one.worst_class; }) &&
        first.provisional;
    const std::string class_name = provisional ? "Provisional class" : "Class";
    entry.set("class_name", class_name);
    entry.set("class_head", class_name + " (" + std::to_string(desk.page.grade->worst_class) + " is worst)");
    List places;
    for (std::size_t k = 0; k < group.findings.size() && k < most_places; ++k)
      places.push_back(place_data(desk, group.findings[k], provisional));
    entry.set("places", places);
    if (group.findings.size() > most_places)
      entry.set("more_places", std::to_string(group.findings.size() - most_places));
    List pictures = pictures_data(desk, group);
    entry.set("has_pictures", !pictures.empty());
    entry.set("pictures", pictures);
    groups.push_back(entry);
  }
  return groups;
}

void put_parts(Desk& desk, Data& page) {
  std::vector<const RankedFinding*> all;
  for (const RankedFinding& part : desk.advice.parts) all.push_back(&part);
  for (const RankedFinding& note : desk.advice.notes) all.push_back(&note);
  std::stable_sort(all.begin(), all.end(), [](const RankedFinding* a, const RankedFinding* b) {
    return a->from_m.value_or(0) < b->from_m.value_or(0);
  });
  List parts;
  for (std::size_t i = 0; i < all.size() && i < most_parts; ++i) {
    Data row = place_data(desk, *all[i], false);
    row.set("title", all[i]->meaning->title);
    parts.push_back(row);
  }
  page.set("has_parts", !parts.empty());
  page.set("parts", parts);
  if (all.size() > most_parts) page.set("more_parts", std::to_string(all.size() - most_parts));
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

void put_small_print(const Desk& desk, Data& page) {
  const grading::Grade& grade = *desk.page.grade;
  std::string text = "Classes by the scheme \"" + grade.scheme + "\", 1 slightest, " +
                     std::to_string(grade.worst_class) + " worst; each finding shows its worst one.";
  if (grade.provisional) text += " Provisional: " + provisional_words(grade);
  page.set("grading", plain(text));
  std::vector<std::string> notes = other_notes(grade);
  // That a part of the pipe has no class ("BCA: not graded") is nothing to its owner.
  for (const auto* list : {&desk.advice.parts, &desk.advice.notes})
    for (const RankedFinding& one : *list)
      std::erase_if(notes, [&](const std::string& note) { return note.starts_with(one.seen->code + ": "); });
  if (!grade.object_reason.empty()) notes.push_back(grade.object_reason);
  if (!notes.empty()) page.set("grade_notes", plain(base::join(notes, ". ") + "."));
  page.set("source", plain(desk.page.file + ", inspection " + std::to_string(desk.page.inspection)));
}

std::string joined_limited(const std::vector<std::string>& parts, std::size_t most) {
  std::vector<std::string> shown(parts.begin(),
                                 parts.begin() + static_cast<std::ptrdiff_t>(std::min(most, parts.size())));
  if (parts.size() > most) shown.push_back("and " + std::to_string(parts.size() - most) + " more");
  return base::join(shown, ", ");
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

  const std::vector<OwnerStep> steps = next_steps(desk.advice, *page.grade, meanings);
  List headline{step_data(steps.front())}, more;
  for (std::size_t i = 1; i < steps.size(); ++i) more.push_back(step_data(steps[i]));
  data.set("headline", headline);
  data.set("more_steps", !more.empty());
  data.set("steps", more);
  data.set("found", texts(found_sentences(*page.record, desk.advice, *page.grade, desk.measure)));
  data.set("sure", texts(sure_sentences(*page.record, *page.grade, page.remarks)));

  put_section(desk, data);
  data.set("any", desk.advice.finding_count > 0);
  data.set("groups", groups_data(desk));
  std::vector<std::string> missing;
  for (const auto& [why, names] : desk.missing_pictures)
    missing.push_back(joined_limited(names, most_missing) + ": " + why);
  if (!missing.empty()) data.set("missing_pictures", plain(base::join(missing, ". ")));
  put_parts(desk, data);
  data.set("has_unseen", !page.grade->not_inspected.empty());
  data.set("unseen", texts(page.grade->not_inspected));
  List warned;
  for (const Caution& caution : cautions_for(*page.record, action_of(desk.advice.next, meanings), cautions)) {
    Data entry;
    entry.set("heading", caution.heading);
    entry.set("text", caution.text);
    warned.push_back(entry);
  }
  data.set("cautions", warned);
  put_small_print(desk, data);

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
