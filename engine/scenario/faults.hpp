// SPDX-License-Identifier: Apache-2.0
// How a file says each family of faults; nothing where the kind is none of the family. And what is no fault
// but belongs in the record. Inside this room.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

#include "scene/fault.hpp"
#include "scene/note.hpp"

namespace haunch::scenario {

std::optional<scene::FaultKind> joint_fault(const std::string& kind, const nlohmann::json& in);
std::optional<scene::FaultKind> wall_fault(const std::string& kind, const nlohmann::json& in);
std::optional<scene::FaultKind> matter_fault(const std::string& kind, const nlohmann::json& in);
std::optional<scene::FaultKind> fitting_fault(const std::string& kind, const nlohmann::json& in);
std::optional<scene::FaultKind> brick_fault(const std::string& kind, const nlohmann::json& in);
std::optional<scene::FaultKind> lining_fault(const std::string& kind, const nlohmann::json& in);
std::optional<scene::FaultKind> repair_fault(const std::string& kind, const nlohmann::json& in);
std::optional<scene::FaultKind> bore_fault(const std::string& kind, const nlohmann::json& in);
std::optional<scene::FaultKind> sight_fault(const std::string& kind, const nlohmann::json& in);

scene::Note note_from(const nlohmann::json& in, std::string pointer);

}  // namespace haunch::scenario
