// SPDX-License-Identifier: Apache-2.0
// Site conditions: what a header tells, what a file says, and whether a scheme can make anything of it.
#include "grading/site.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/json_document.hpp"
#include "base/words.hpp"
#include "grading/scheme_inside.hpp"

namespace haunch::grading {
namespace {

using Json = nlohmann::json;

/// Why the value cannot be, and what it may be; nothing when it can.
struct WrongValue {
  std::string expected, nearest;
};
std::optional<WrongValue> wrong_value(const SiteField& field, std::string_view value) {
  if (field.values.empty()) {
    double number = 0;
    if (base::read_number(value, number) && number > 0) return {};
    return WrongValue{"a number of " + field.unit + " greater than 0", ""};
  }
  if (std::find(field.values.begin(), field.values.end(), value) != field.values.end()) return {};
  return WrongValue{"one of \"" + base::join(field.values, "\", \"") + "\"",
                    base::nearest_word(value, field.values)};
}

/// Reads a site file; `fields` are all that may be asked for, with what each scheme lets them be.
class Reader {
 public:
  Reader(const base::JsonDocument& document, const std::vector<const Scheme*>& schemes)
      : document_(document), schemes_(schemes) {}

  Sites read() {
    const Json& root = document_.root();
    Sites sites;
    if (root.contains("everywhere")) sites.everywhere = site_at("/everywhere", root.at("everywhere"));
    if (root.contains("pipes"))
      for (const auto& [pipe, values] : root.at("pipes").items())
        sites.by_pipe[pipe] = site_at((Json::json_pointer("/pipes") / pipe).to_string(), values);
    return sites;
  }

  base::Problems problems;

 private:
  Site site_at(const std::string& pointer, const Json& values) {
    Site site;
    for (const auto& [name, json] : values.items()) {
      const std::string value =
          json.is_string() ? json.get<std::string>() : base::show_number(json.get<double>());
      check(pointer, name, value);
      site.values[name] = value;
    }
    return site;
  }

  void check(const std::string& parent, const std::string& name, const std::string& value) {
    std::optional<WrongValue> wrong;
    std::vector<std::string> known;
    bool asked = false;
    for (const Scheme* scheme : schemes_) {
      for (const SiteField& field : scheme->site_fields()) known.push_back(field.name);
      const SiteField* field = scheme->inside().field(name);
      if (field == nullptr) continue;
      asked = true;
      wrong = wrong_value(*field, value);
      if (!wrong) return;
    }
    const std::string pointer = (Json::json_pointer(parent) / name).to_string();
    if (asked) {
      problems.push_back(document_.problem(pointer, "\"" + value + "\" is not known for " + name,
                                           wrong->expected, wrong->nearest));
      return;
    }
    base::Problem problem = document_.problem(
        pointer, "\"" + name + "\" is not asked for" + (schemes_.size() == 1 ? " by this scheme" : ""),
        known.empty() ? "nothing: the scheme asks for no site condition" : base::join(known, ", "),
        base::nearest_word(name, known));
    problem.severity = base::Severity::warning;
    problem.place = document_.key_place(parent, name);
    problems.push_back(std::move(problem));
  }

  const base::JsonDocument& document_;
  const std::vector<const Scheme*>& schemes_;
};

base::Result<Sites> read_for(const std::filesystem::path& path, const std::vector<const Scheme*>& schemes) {
  const auto document = base::JsonDocument::read(path, "site");
  if (!document) return document.problems();
  Reader reader(document.value(), schemes);
  Sites sites = reader.read();
  if (base::has_errors(reader.problems)) return reader.problems;
  return {std::move(sites), reader.problems};
}

}  // namespace

const std::string& Site::value(std::string_view field) const {
  static const std::string none;
  const auto found = values.find(field);
  return found == values.end() ? none : found->second;
}

void Site::take(const Site& other) {
  for (const auto& [field, value] : other.values) values[field] = value;
}

Site site_from(const coding::Record& record) {
  Site site;
  // Letters of ACK from memory; what has no row in the table stays unknown.
  const std::string use = base::trim(record.header_value("ACK").value_or(""));
  if (use == "A") site.values["system"] = "foul water";
  if (use == "B") site.values["system"] = "surface water";
  if (use == "C") site.values["system"] = "combined";
  if (use == "E") site.values["system"] = "culverted watercourse";
  return site;
}

Site Sites::of(const coding::Record& record) const {
  Site site = site_from(record);
  site.take(everywhere);
  if (by_pipe.empty()) return site;
  const auto own = by_pipe.find(base::trim(record.header_value("AAA").value_or("")));
  if (own != by_pipe.end()) site.take(own->second);
  return site;
}

std::vector<std::string> Sites::never_met(const std::set<std::string>& references) const {
  std::vector<std::string> said;
  for (const auto& [pipe, own] : by_pipe) {
    if (references.contains(pipe)) continue;
    const std::string near = base::nearest_word(pipe, {references.begin(), references.end()});
    said.push_back("the site file's \"pipes\" names \"" + pipe +
                   "\", but no inspection that was graded has that reference (AAA), so nothing of it counts" +
                   (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
  }
  return said;
}

base::Result<Sites> read_sites(const std::filesystem::path& path, const Scheme& scheme) {
  return read_for(path, {&scheme});
}

base::Result<Sites> read_sites(const std::filesystem::path& path) {
  std::vector<Scheme> shipped;
  std::vector<const Scheme*> schemes;
  for (const std::string& id : Scheme::shipped_ids())
    if (auto scheme = Scheme::shipped_named(id)) shipped.push_back(std::move(scheme).value());
  schemes.reserve(shipped.size());
  for (const Scheme& scheme : shipped) schemes.push_back(&scheme);
  return read_for(path, schemes);
}

std::vector<std::string> Scheme::site_values(std::string_view field) const {
  const SiteField* known = inside_->field(field);
  return known == nullptr ? std::vector<std::string>() : known->values;
}

std::string Scheme::wrong_site_value(std::string_view field, std::string_view value) const {
  const SiteField* known = inside_->field(field);
  if (known == nullptr) {
    std::vector<std::string> names;
    for (const SiteField& one : site_fields()) names.push_back(one.name);
    const std::string near = base::nearest_word(field, names);
    return "the scheme does not ask for \"" + std::string(field) + "\"" +
           (names.empty() ? "" : "; it asks for " + base::join(names, ", ")) +
           (near.empty() ? "" : "; did you mean \"" + near + "\"?");
  }
  const auto wrong = wrong_value(*known, value);
  if (!wrong) return {};
  return known->what + " is " + wrong->expected +
         (wrong->nearest.empty() ? "" : "; did you mean \"" + wrong->nearest + "\"?");
}

}  // namespace haunch::grading
