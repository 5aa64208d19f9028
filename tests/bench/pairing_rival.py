# SPDX-License-Identifier: Apache-2.0
"""The gated pairing problem that pairing_bench wrote, solved by SciPy: as a whole matrix, and by its sparse
solver with a place for nobody beside every finding. Only the solving is timed."""
import sys
import time

import numpy
from scipy.optimize import linear_sum_assignment
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import min_weight_full_bipartite_matching

with open(sys.argv[1]) as file:
    count = int(file.readline())
    pairs = numpy.loadtxt(file, dtype=numpy.int64)
gain = numpy.zeros((count, count))
gain[pairs[:, 0], pairs[:, 1]] = pairs[:, 2]
start = time.perf_counter()
rows, columns = linear_sum_assignment(gain, maximize=True)
whole_s = time.perf_counter() - start
found = gain[rows, columns]
print(f"matrix_s {whole_s:.6f} pairs {int((found > 0).sum())} total {int(found.sum())}")

own = numpy.arange(count)
nobody = int(pairs[:, 2].max()) + 1
graph = coo_matrix(
    (numpy.concatenate([nobody - pairs[:, 2], numpy.full(count, nobody)]).astype(float),
     (numpy.concatenate([pairs[:, 0], own]), numpy.concatenate([pairs[:, 1], count + own]))),
    shape=(count, 2 * count)).tocsr()
start = time.perf_counter()
rows, columns = min_weight_full_bipartite_matching(graph)
sparse_s = time.perf_counter() - start
real = columns < count
print(f"sparse_s {sparse_s:.6f} pairs {int(real.sum())} total {int(gain[rows[real], columns[real]].sum())}")
