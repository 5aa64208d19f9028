// SPDX-License-Identifier: Apache-2.0
// What a fuzzer does with its bytes; tests/fuzz/replay_test.cpp does the same with the inputs that were
// found. Each reads them, and what could be read is validated, graded, written and read again. A promise that
// does not hold throws std::logic_error.
#pragma once

#include <string>
#include <vector>

namespace haunch::fuzz {

void exchange_text(const std::string& bytes);
void record_json(const std::string& bytes);
void csv(const std::string& bytes);
void inspections(const std::string& bytes);
void scheme(const std::string& bytes);
void site(const std::string& bytes);

struct Entry {
  const char* name;
  void (*run)(const std::string& bytes);
};
const std::vector<Entry>& entries();

/// Inputs to begin with, of our own making: small files of every kind, and the shipped schemes.
std::vector<std::string> seeds(const std::string& name);

}  // namespace haunch::fuzz
