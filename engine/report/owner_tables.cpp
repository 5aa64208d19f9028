// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <kainjow/mustache.hpp>
#include <set>

#include "base/words.hpp"
#include "report/owner_desk.hpp"
#include "report/owner_section.hpp"
#include "report/standing.hpp"

namespace haunch::report {
namespace {

using Data = PageData;
using List = PageList;

constexpr std::size_t most_places = 25, most_parts = 40, most_missing = 12;

/// That classes are provisional is said once, above them all.
Data place_data(const Desk& desk, const RankedFinding& one) {
  Data row;
  row.set("number", std::to_string(one.number));
  row.set("fid", desk.id + "-f" + std::to_string(one.number));
  row.set("where", unbroken(where_words(one, desk.measure)));
  row.set("round", round_the_pipe(*one.seen));
  row.set("size", unbroken(size_words(one, desk.list, desk.page.unit)));
  row.set("class", show_class(one.worst_class, one.provisional && !desk.page.grade->provisional, "none"));
  row.set("code", plain(coding::show_code(*one.seen)));
  coding::Observation spoken = *one.seen;
  spoken.stretch.clear();  // both ends stand in `where`
  // A number is said as one, not as a form has it ("015").
  for (coding::Number* number : {&spoken.q1, &spoken.q2})
    if (number->value) *number = *number->value;
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

std::string joined_limited(const std::vector<std::string>& parts, std::size_t most) {
  std::vector<std::string> shown(parts.begin(),
                                 parts.begin() + static_cast<std::ptrdiff_t>(std::min(most, parts.size())));
  if (parts.size() > most) shown.push_back("and " + std::to_string(parts.size() - most) + " more");
  return base::join(shown, ", ");
}

/// The marking rules speak to the trade.
std::string without_jargon(std::string text) {
  for (const auto& [trade, plain_words] : std::initializer_list<std::pair<const char*, const char*>>{
           {"of the bore", "of the inside of the pipe"},
           {"in the bore", "in the pipe"},
           {"crosses the bore", "crosses the pipe"},
           {"on the invert", "on the bottom"},
           {"the invert", "the bottom"},
           {"a fracture", "a crack"},
           {"a void", "a hollow"}})
    for (auto at = text.find(trade); at != std::string::npos; at = text.find(trade, at + 1))
      text.replace(at, std::string(trade).size(), plain_words);
  return text;
}

}  // namespace

List groups_data(Desk& desk) {
  List groups;
  std::map<std::string, int> told_at;  ///< what it can lead to, by the first finding that says so
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
    const auto [told, fresh] = told_at.try_emplace(group.meaning->leads_to, first.number);
    entry.set("leads_to", fresh ? group.meaning->leads_to
                                : "The same as for finding " + std::to_string(told->second) + ".");
    const bool waits = group.next == jet && desk.advice.no_jet;
    entry.set("next", step_heading(group.next, desk.advice, desk.meanings));
    entry.set("then", then_words(group, desk.advice, desk.meanings, desk.list));
    if (!first.cause.empty() && !waits) entry.set("cause", plain(without_jargon(first.cause)));
    List places;
    for (std::size_t k = 0; k < group.findings.size() && k < most_places; ++k)
      places.push_back(place_data(desk, group.findings[k]));
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

void put_missing_pictures(const Desk& desk, Data& page) {
  std::vector<std::string> missing;
  for (const auto& [why, names] : desk.missing_pictures)
    missing.push_back(joined_limited(names, most_missing) + ": " + why);
  if (!missing.empty()) page.set("missing_pictures", plain(base::join(missing, ". ")));
}

void put_parts(const Desk& desk, Data& page) {
  std::vector<const RankedFinding*> all;
  for (const RankedFinding& part : desk.advice.parts) all.push_back(&part);
  for (const RankedFinding& note : desk.advice.notes) all.push_back(&note);
  std::stable_sort(all.begin(), all.end(), [](const RankedFinding* a, const RankedFinding* b) {
    return a->from_m.value_or(0) < b->from_m.value_or(0);
  });
  List parts;
  for (std::size_t i = 0; i < all.size() && i < most_parts; ++i) {
    Data row = place_data(desk, *all[i]);
    row.set("title", all[i]->meaning->title);
    parts.push_back(row);
  }
  page.set("has_parts", !parts.empty());
  page.set("parts", parts);
  if (all.size() > most_parts) page.set("more_parts", std::to_string(all.size() - most_parts));
}

}  // namespace haunch::report
