// SPDX-License-Identifier: Apache-2.0
#include <iostream>

int goals_of_the_shipped_scheme();

int main() { std::cout << goals_of_the_shipped_scheme() << " goals\n"; }
