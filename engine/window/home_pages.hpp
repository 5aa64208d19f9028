// SPDX-License-Identifier: Apache-2.0
// What stands on the pages behind the start page, from the content and from what was kept. Inside this room.
#pragma once

#include <string>
#include <vector>

#include "courses/course.hpp"
#include "courses/exam.hpp"
#include "scores/kept.hpp"
#include "window/home.hpp"

namespace haunch::window {

/// Everything that was kept of one person, oldest first.
struct KeptOf {
  std::vector<scores::Attempt> attempts;
  std::vector<scores::Answer> answers;
  std::vector<scores::Sitting> sittings;
  std::vector<scores::Step> steps;
};
/// Nothing, with a message, where it cannot be read: there is no reason not to practise.
KeptOf kept_of(const std::string& who, std::string& message);

HomePage page_of(const Page& page, const std::string& who, const KeptOf& kept, std::string& message);

/// The sitting of this exam that the person began and did not end; nothing where there is none.
std::optional<scores::Sitting> open_sitting(const courses::Exam& exam, const KeptOf& kept);
/// Whole day-and-time as learning counts it.
double now_days();

}  // namespace haunch::window
