// SPDX-License-Identifier: Apache-2.0
// A walk over value and schema together. valijson decides whether a file is right; this finds the words.
#include "base/schema_words.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

// GCC 12 takes the standard's regex for uninitialised when it builds with a sanitizer.
#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"
#endif
#include <regex>

#include "base/json_scan.hpp"
#include "base/utf8.hpp"
#include "base/words.hpp"

namespace haunch::base {
namespace {

using Json = nlohmann::json;

std::string show(const Json& value) {
  if (value.is_object()) return "an object { ... }";
  if (value.is_array()) return "a list [ ... ]";
  if (value.is_null()) return "null";
  if (value.is_number_float()) return show_number(value.get<double>());
  if (value.is_string() && value.get_ref<const std::string&>().size() > 60)
    return '"' + value.get_ref<const std::string&>().substr(0, 57) + "...\"";
  return value.dump(-1, ' ', false, Json::error_handler_t::replace);
}

/// Text without its quotes, for lists of words.
std::string bare(const Json& value) { return value.is_string() ? value.get<std::string>() : show(value); }

std::string type_words(const std::string& type) {
  if (type == "string") return "text in double quotes";
  if (type == "number") return "a number";
  if (type == "integer") return "a whole number";
  if (type == "boolean") return "true or false";
  if (type == "array") return "a list [ ... ]";
  if (type == "object") return "an object { ... }";
  return type;
}

bool is_type(const Json& value, const std::string& type) {
  if (type == "string") return value.is_string();
  if (type == "number") return value.is_number();
  if (type == "integer") return value.is_number_integer();
  if (type == "boolean") return value.is_boolean();
  if (type == "array") return value.is_array();
  if (type == "object") return value.is_object();
  return type == "null" && value.is_null();
}

std::vector<std::string> words_of(const Json& schema, const char* key) {
  std::vector<std::string> words;
  const auto found = schema.find(key);
  if (found == schema.end()) return words;
  if (!found->is_array()) return {bare(*found)};
  for (const Json& one : *found) words.push_back(bare(one));
  return words;
}

class Walk {
 public:
  explicit Walk(const Json& root) : root_(root) {}

  std::vector<Breach> check(const Json& value, const Json& schema, const std::string& at) const {
    std::vector<Breach> out;
    if (schema.is_boolean()) {
      if (!schema.get<bool>()) out.push_back({at, false, "nothing may stand here", "it taken out", {}});
      return out;
    }
    if (!schema.is_object()) return out;
    if (const auto ref = schema.find("$ref"); ref != schema.end()) return check(value, resolve(*ref), at);
    if (!type_fits(value, schema, at, out)) return out;
    listed(value, schema, at, out);
    if (value.is_number()) range(value, schema, at, out);
    if (value.is_string()) text(value.get_ref<const std::string&>(), schema, at, out);
    if (value.is_array()) list(value, schema, at, out);
    if (value.is_object()) object(value, schema, at, out);
    combined(value, schema, at, out);
    return out;
  }

 private:
  const Json& resolve(const Json& ref) const {
    static const Json anything = true;
    if (!ref.is_string()) return anything;
    const std::string target = ref.get<std::string>();
    if (target == "#") return root_;
    if (target.rfind("#/", 0) != 0) return anything;
    const Json::json_pointer pointer(target.substr(1));
    return root_.contains(pointer) ? root_.at(pointer) : anything;
  }
  const Json& plain(const Json& schema) const {
    const Json* now = &schema;
    for (int hops = 0; hops < 8 && now->is_object() && now->contains("$ref"); ++hops)
      now = &resolve((*now)["$ref"]);
    return *now;
  }

  static std::string range_words(const Json& schema) {
    const auto bound = [&schema](const char* key) {
      return schema.contains(key) && schema[key].is_number() ? show(schema[key]) : std::string();
    };
    const std::string low = bound("minimum"), high = bound("maximum");
    const std::string above = bound("exclusiveMinimum"), below = bound("exclusiveMaximum");
    if (!low.empty() && !high.empty()) return "from " + low + " to " + high;
    std::vector<std::string> parts;
    if (!low.empty()) parts.push_back("of at least " + low);
    if (!above.empty()) parts.push_back("above " + above);
    if (!high.empty()) parts.push_back("of at most " + high);
    if (!below.empty()) parts.push_back("below " + below);
    return join(parts, " and ");
  }

  /// "a number from 0 to 500", "one of: clay, PVC".
  std::string describe(const Json& given) const {
    const Json& schema = plain(given);
    if (!schema.is_object()) return "a value";
    if (schema.contains("const")) return show(schema["const"]);
    if (schema.contains("enum")) return "one of: " + join(words_of(schema, "enum"), ", ");
    std::vector<std::string> parts;
    for (const std::string& type : words_of(schema, "type"))
      if (type != "null" || words_of(schema, "type").size() == 1) parts.push_back(type_words(type));
    for (const char* key : {"oneOf", "anyOf"})
      if (parts.empty() && schema.contains(key))
        for (const Json& branch : schema[key]) {
          const std::string words = describe(branch);
          if (std::find(parts.begin(), parts.end(), words) == parts.end()) parts.push_back(words);
        }
    std::string words = parts.empty() ? "a value" : join(parts, " or ");
    const std::string range = range_words(schema);
    if (!range.empty()) words += " " + range;
    return words;
  }

  bool type_fits(const Json& value, const Json& schema, const std::string& at,
                 std::vector<Breach>& out) const {
    const auto types = words_of(schema, "type");
    if (types.empty()) return true;
    for (const std::string& type : types)
      if (is_type(value, type)) return true;
    out.push_back({at, false, named(at) + "is " + show(value), describe(schema), {}});
    return false;
  }

  void listed(const Json& value, const Json& schema, const std::string& at, std::vector<Breach>& out) const {
    if (schema.contains("const") && value != schema["const"])
      out.push_back({at, false, named(at) + "is " + show(value), show(schema["const"]), {}});
    if (!schema.contains("enum")) return;
    const Json& allowed = schema["enum"];
    if (std::find(allowed.begin(), allowed.end(), value) != allowed.end()) return;
    const auto words = words_of(schema, "enum");
    out.push_back({at, false, named(at) + "is " + show(value) + ", which is not known here", describe(schema),
                   value.is_string() ? nearest_word(value.get<std::string>(), words) : std::string()});
  }

  void range(const Json& value, const Json& schema, const std::string& at, std::vector<Breach>& out) const {
    const double x = value.get<double>();
    const auto breaks = [&](const char* key, auto fails) {
      return schema.contains(key) && schema[key].is_number() && fails(schema[key].get<double>());
    };
    const bool low = breaks("minimum", [x](double b) { return x < b; }) ||
                     breaks("exclusiveMinimum", [x](double b) { return x <= b; });
    const bool high = breaks("maximum", [x](double b) { return x > b; }) ||
                      breaks("exclusiveMaximum", [x](double b) { return x >= b; });
    if (low || high)
      out.push_back(
          {at,
           false,
           named(at) + "is " + show(value) + (low ? ", which is too small" : ", which is too large"),
           describe(schema),
           {}});
    if (schema.contains("multipleOf")) {
      const double steps = x / schema["multipleOf"].get<double>();
      if (std::abs(steps - std::round(steps)) > 1e-9)
        out.push_back(
            {at, false, named(at) + "is " + show(value), "a multiple of " + show(schema["multipleOf"]), {}});
    }
  }

  void text(const std::string& value, const Json& schema, const std::string& at,
            std::vector<Breach>& out) const {
    const auto letters = static_cast<std::size_t>(characters(value));
    if (schema.contains("minLength") && letters < schema["minLength"].get<std::size_t>())
      out.push_back({at,
                     false,
                     named(at) + (value.empty() ? "is empty" : "is too short: " + show(value)),
                     "text of at least " + show(schema["minLength"]) + " characters",
                     {}});
    if (schema.contains("maxLength") && letters > schema["maxLength"].get<std::size_t>())
      out.push_back({at,
                     false,
                     named(at) + "is too long (" + std::to_string(letters) + " characters)",
                     "text of at most " + show(schema["maxLength"]) + " characters",
                     {}});
    if (schema.contains("pattern") && value.size() < 2000 &&
        !std::regex_search(value, std::regex(schema["pattern"].get<std::string>(), std::regex::ECMAScript)))
      out.push_back({at,
                     false,
                     named(at) + "is " + show(value),
                     schema.contains("description")
                         ? schema["description"].get<std::string>()
                         : "text of the form " + schema["pattern"].get<std::string>(),
                     {}});
  }

  void list(const Json& value, const Json& schema, const std::string& at, std::vector<Breach>& out) const {
    const auto count = [&schema](const char* key) { return schema[key].get<std::size_t>(); };
    if (schema.contains("minItems") && value.size() < count("minItems"))
      out.push_back({at,
                     false,
                     named(at) + "holds " + std::to_string(value.size()) + " values",
                     "at least " + show(schema["minItems"]),
                     {}});
    if (schema.contains("maxItems") && value.size() > count("maxItems"))
      out.push_back({at,
                     false,
                     named(at) + "holds " + std::to_string(value.size()) + " values",
                     "at most " + show(schema["maxItems"]),
                     {}});
    if (schema.value("uniqueItems", false))
      for (std::size_t i = 0; i < value.size(); ++i)
        if (std::find(value.begin(), value.begin() + static_cast<std::ptrdiff_t>(i), value[i]) !=
            value.begin() + static_cast<std::ptrdiff_t>(i))
          out.push_back({pointer_to(at, std::to_string(i)),
                         false,
                         show(value[i]) + " is in the list twice",
                         "each value once",
                         {}});
    const auto items = schema.find("items");
    if (items == schema.end()) return;
    for (std::size_t i = 0; i < value.size(); ++i) {
      const Json* rule = nullptr;
      if (!items->is_array())
        rule = &*items;
      else if (i < items->size())
        rule = &(*items)[i];
      else if (schema.contains("additionalItems"))
        rule = &schema["additionalItems"];
      if (rule != nullptr) append(out, check(value[i], *rule, pointer_to(at, std::to_string(i))));
    }
  }

  void object(const Json& value, const Json& schema, const std::string& at, std::vector<Breach>& out) const {
    static const Json none = Json::object();
    const Json& known = schema.contains("properties") ? schema["properties"] : none;
    const Json& patterns = schema.contains("patternProperties") ? schema["patternProperties"] : none;
    for (const std::string& key : words_of(schema, "required"))
      if (!value.contains(key))
        out.push_back({at,
                       false,
                       "\"" + key + "\" is missing" + (at.empty() ? "" : " in " + trim(named(at))),
                       "\"" + key + "\": " + (known.contains(key) ? describe(known[key]) : "a value"),
                       {}});
    for (const auto& [key, inner] : value.items()) {
      const std::string here = pointer_to(at, key);
      bool matched = false;
      if (known.contains(key)) {
        matched = true;
        append(out, check(inner, known[key], here));
      }
      for (const auto& [pattern, rule] : patterns.items())
        if (std::regex_search(key, std::regex(pattern, std::regex::ECMAScript))) {
          matched = true;
          append(out, check(inner, rule, here));
        }
      if (matched || !schema.contains("additionalProperties")) continue;
      const Json& rest = schema["additionalProperties"];
      if (rest.is_boolean() && !rest.get<bool>())
        unknown(key, value, known, here, out);
      else
        append(out, check(inner, rest, here));
      if (schema.contains("propertyNames") && !check(Json(key), schema["propertyNames"], here).empty())
        out.push_back({here, true, "unknown key \"" + key + "\"", describe(schema["propertyNames"]), {}});
    }
    if (schema.contains("minProperties") && value.size() < schema["minProperties"].get<std::size_t>())
      out.push_back({at,
                     false,
                     named(at) + "holds too little",
                     "at least " + show(schema["minProperties"]) + " keys",
                     {}});
  }

  /// A known key that is already there is no likely slip.
  void unknown(const std::string& key, const Json& value, const Json& known, const std::string& here,
               std::vector<Breach>& out) const {
    std::vector<std::string> all, free;
    for (const auto& [name, rule] : known.items()) {
      all.push_back(name);
      if (!value.contains(name)) free.push_back(name);
    }
    const std::string near = nearest_word(key, free);
    out.push_back({here, true, "unknown key \"" + key + "\"",
                   all.empty() ? "no key here" : (all.size() == 1 ? "only: " : "one of: ") + join(all, ", "),
                   near.empty() ? nearest_word(key, all) : near});
  }

  void combined(const Json& value, const Json& schema, const std::string& at,
                std::vector<Breach>& out) const {
    if (schema.contains("allOf"))
      for (const Json& part : schema["allOf"]) append(out, check(value, part, at));
    if (schema.contains("if")) {
      const char* branch = check(value, schema["if"], at).empty() ? "then" : "else";
      if (schema.contains(branch)) append(out, check(value, schema[branch], at));
    }
    if (schema.contains("anyOf")) append(out, choice(value, schema["anyOf"], at, false));
    if (schema.contains("oneOf")) append(out, choice(value, schema["oneOf"], at, true));
    if (schema.contains("not") && check(value, schema["not"], at).empty())
      out.push_back({at,
                     false,
                     named(at) + "may not be " + show(value),
                     schema["not"].value("description", std::string("something else")),
                     {}});
  }

  /// Of several branches the one the writer most likely meant: of the right type, with the right
  /// constant (a "kind"), with the fewest breaches.
  std::vector<Breach> choice(const Json& value, const Json& branches, const std::string& at,
                             bool only_one) const {
    std::vector<Breach> best;
    long best_cost = -1;
    std::vector<std::string> forms;
    int fits = 0;
    for (const Json& branch : branches) {
      auto found = check(value, branch, at);
      fits += found.empty() ? 1 : 0;
      const std::string form = describe(branch);
      if (std::find(forms.begin(), forms.end(), form) == forms.end()) forms.push_back(form);
      long cost = static_cast<long>(found.size());
      for (const Breach& breach : found) {
        if (breach.pointer == at && !breach.at_key && breach.what.find("is missing") == std::string::npos)
          cost += 1000;
        if (constant_at(branch, at, breach.pointer)) cost += 100;
      }
      if (best_cost < 0 || cost < best_cost) {
        best_cost = cost;
        best = std::move(found);
      }
    }
    if (fits > 1 && only_one)
      return {{at, false, named(at) + "could be read in two ways", join(forms, " or "), {}}};
    if (fits > 0) return {};
    if (best_cost >= 1000) return {{at, false, named(at) + "is " + show(value), join(forms, " or "), {}}};
    return best;
  }

  bool constant_at(const Json& branch, const std::string& at, const std::string& pointer) const {
    const Json& schema = plain(branch);
    if (!schema.is_object() || !schema.contains("properties") || pointer.size() <= at.size()) return false;
    const std::string key = pointer.substr(at.size() + 1);
    return schema["properties"].contains(key) && schema["properties"][key].contains("const");
  }

  static std::string named(const std::string& pointer) {
    const auto slash = pointer.rfind('/');
    if (slash == std::string::npos) return "the file ";
    std::string name = pointer.substr(slash + 1);
    if (!name.empty() && name.find_first_not_of("0123456789") == std::string::npos) {
      const std::string number = std::to_string(std::stoul(name.substr(0, 9)) + 1);
      const std::string parent = named(pointer.substr(0, slash));
      return "value " + number + " of " + parent;
    }
    return '"' + name + "\" ";
  }

  static void append(std::vector<Breach>& out, std::vector<Breach> more) {
    for (Breach& breach : more)
      if (std::find(out.begin(), out.end(), breach) == out.end()) out.push_back(std::move(breach));
  }

  const Json& root_;
};

}  // namespace

std::vector<Breach> breaches(const Json& value, const Json& schema) {
  return Walk(schema).check(value, schema, "");
}

}  // namespace haunch::base
