// SPDX-License-Identifier: Apache-2.0
#include "scene/fault.hpp"

#include <algorithm>

namespace haunch::scene {
namespace {

struct StretchOf {
  Stretch operator()(const JointGap& f) const { return {f.at_m, f.at_m}; }
  Stretch operator()(const JointShift& f) const { return {f.at_m, f.at_m}; }
  Stretch operator()(const JointBend& f) const { return {f.at_m, f.at_m}; }
  Stretch operator()(const Connection& f) const { return {f.at_m, f.at_m}; }
  Stretch operator()(const Hole& f) const {
    return {f.at_m - f.length_mm / 2000.0, f.at_m + f.length_mm / 2000.0};
  }
  // Roots may trail upstream of the place where they come in.
  template <class T>
  Stretch operator()(const T& f) const {
    return {std::min(f.from_m, f.to_m), std::max(f.from_m, f.to_m)};
  }
};

struct WordOf {
  std::string operator()(const JointGap&) const { return "joint gap"; }
  std::string operator()(const JointShift&) const { return "joint shift"; }
  std::string operator()(const JointBend&) const { return "joint bend"; }
  std::string operator()(const Crack&) const { return "crack"; }
  std::string operator()(const Hole&) const { return "hole"; }
  std::string operator()(const Roots&) const { return "roots"; }
  std::string operator()(const Settled&) const { return "deposit"; }
  std::string operator()(const Attached& f) const {
    switch (f.kind) {
      case AttachedKind::grease:
        return "grease";
      case AttachedKind::scale:
        return "scale";
      case AttachedKind::fouling:
        return "fouling";
    }
    return {};
  }
  std::string operator()(const Connection&) const { return "connection"; }
};

}  // namespace

Stretch stretch_of(const Fault& fault) { return std::visit(StretchOf{}, fault.kind); }

std::string kind_word(const Fault& fault) { return std::visit(WordOf{}, fault.kind); }

}  // namespace haunch::scene
