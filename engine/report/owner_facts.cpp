// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cctype>
#include <kainjow/mustache.hpp>

#include "base/words.hpp"
#include "report/owner_desk.hpp"
#include "report/pipe_pieces.hpp"

namespace haunch::report {

std::string plain(std::string text) {
  std::erase_if(text,
                [](char letter) { return static_cast<unsigned char>(letter) < 0x20 || letter == 0x7F; });
  return text;
}

PageList texts(const std::vector<std::string>& sentences) {
  PageList list;
  for (const std::string& text : sentences) list.push_back(PageData("text", unbroken(plain(text))));
  return list;
}

std::string unbroken(std::string text) {
  const auto letter = [&](std::size_t at) {
    return at < text.size() && std::isalpha(static_cast<unsigned char>(text[at])) != 0;
  };
  for (const std::string unit : {" mm", " m", " ft", " in", " %"})
    for (auto at = text.find(unit, 1); at != std::string::npos; at = text.find(unit, at + 1))
      if (std::isdigit(static_cast<unsigned char>(text[at - 1])) != 0 && !letter(at + unit.size()))
        text.replace(at, 1, "\u00A0");
  return text;
}

PageList facts_data(const Desk& desk) {
  const coding::Record& record = *desk.page.record;
  const auto value = [&](const char* code) { return base::trim(record.header_value(code).value_or("")); };
  PageList facts;
  const auto add = [&](const char* name, const std::string& text) {
    if (text.empty()) return;
    PageData fact;
    fact.set("name", std::string(name));
    fact.set("value", plain(text));
    facts.push_back(fact);
  };
  const Ends ends = ends_of(record);
  add("Inspected on", value("ABF").empty() ? "not recorded" : value("ABF"));
  add("Inspected by", value("ABH").empty() ? "not recorded" : value("ABH"));
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
  add("Carries", carries_words(record, desk.list));
  const std::string way = value("AAK");
  if (way == "A" || way == "B") add("Camera went", way == "A" ? "with the flow" : "against the flow");
  return facts;
}

}  // namespace haunch::report
