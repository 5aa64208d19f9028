// SPDX-License-Identifier: Apache-2.0
// The kinds of simulated learners, each in a file of its own.
#pragma once

#include <cstdint>
#include <memory>

#include "learners/learner.hpp"

namespace haunch::learners {

std::unique_ptr<Learner> make_tracing(std::size_t codes, std::uint64_t seed);
std::unique_ptr<Learner> make_traces(std::size_t codes, std::uint64_t seed);
std::unique_ptr<Learner> make_half_life(std::size_t codes, std::uint64_t seed);
std::unique_ptr<Learner> make_neighbours(std::size_t codes, std::uint64_t seed);
std::unique_ptr<Learner> make_skill_world(std::size_t codes, std::uint64_t seed);

}  // namespace haunch::learners
