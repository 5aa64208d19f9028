// SPDX-License-Identifier: Apache-2.0
// Numbers as written, and an observation's code for people.
#include "coding/observation.hpp"

#include "base/words.hpp"

namespace haunch::coding {

Number Number::from_text(std::string text) {
  Number number;
  double value = 0;
  if (base::read_number(base::trim(text), value)) number.value = value;
  number.text = std::move(text);
  return number;
}

std::string Number::show() const {
  if (!text.empty()) return text;
  return value ? base::show_number(*value) : std::string();
}

bool Number::operator==(const Number& other) const {
  if (value && other.value) return *value == *other.value;
  if (value.has_value() != other.value.has_value()) return false;
  return text == other.text;
}

std::string show_code(const Observation& observation) {
  std::string shown = observation.code;
  if (!observation.ch1.empty() || !observation.ch2.empty())
    shown += ' ' + (observation.ch1.empty() ? "-" : observation.ch1);
  if (!observation.ch2.empty()) shown += ' ' + observation.ch2;
  return shown;
}

}  // namespace haunch::coding
