// SPDX-License-Identifier: Apache-2.0
// What the site of a pipe is like. No inspection file carries it, so it comes from the command line or from
// a site file (schema: content/schemas/site.schema.json). Which fields count, and what they may be, the
// scheme's file says.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "coding/record.hpp"

namespace haunch::grading {

class Scheme;

/// Field -> value, as the scheme names them ("soil" -> "loam, clay"). What is absent is not known: it counts
/// nothing and is listed as missing. A number is written with '.' as its decimal sign.
struct Site {
  std::map<std::string, std::string, std::less<>> values;
  const std::string& value(std::string_view field) const;  ///< empty when not known
  /// Takes over what `other` knows; the rest stays.
  void take(const Site& other);
  bool operator==(const Site&) const = default;
};

/// A field that a scheme asks for.
struct SiteField {
  std::string name;                 ///< "protection_zone"
  std::string what;                 ///< for people: "water protection zone"
  std::vector<std::string> values;  ///< what it may be; empty where it is a number
  std::string unit;                 ///< of a number greater than 0, else empty
  bool operator==(const SiteField&) const = default;
};

/// Site conditions that a Record's header tells (use of sewer); the rest stay unknown.
Site site_from(const coding::Record& record);

/// A site file: what holds for every pipe, and what a pipe has of its own.
struct Sites {
  Site everywhere;
  std::map<std::string, Site, std::less<>> by_pipe;  ///< by the pipe's reference (header AAA)
  /// What the header tells, then what holds everywhere, then the pipe's own: the later takes over.
  Site of(const coding::Record& record) const;
  /// What to say of pipes that are named here and are none of `references` (header AAA), one sentence each,
  /// with the nearest: what such a pipe has of its own counts for nothing.
  std::vector<std::string> never_met(const std::set<std::string>& references) const;
  bool operator==(const Sites&) const = default;
};

/// Fields and values are held against the scheme. A field that it does not ask for is a warning: a file may
/// serve more than one scheme.
base::Result<Sites> read_sites(const std::filesystem::path& path, const Scheme& scheme);
/// The same against all shipped schemes: a value has to fit one that asks for the field.
base::Result<Sites> read_sites(const std::filesystem::path& path);

}  // namespace haunch::grading
