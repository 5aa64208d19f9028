# SPDX-License-Identifier: Apache-2.0
"""Totals of best assignments by SciPy: reads a JSON list of gain matrices, prints a JSON list of sums."""
import json
import sys

from scipy.optimize import linear_sum_assignment

totals = []
with open(sys.argv[1]) as cases:
    for gain in json.load(cases):
        rows, columns = linear_sum_assignment(gain, maximize=True)
        totals.append(sum(gain[row][column] for row, column in zip(rows, columns)))
print(json.dumps([int(total) for total in totals]))
