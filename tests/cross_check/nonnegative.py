"""Records what scipy's non-negative least squares gives, for `tests/suite/rise/nonnegative.rs`.

    python tests/cross_check/nonnegative.py > tests/data/rise/nonnegative.json
"""

import json

import numpy
import scipy
from scipy.optimize import nnls

draws = numpy.random.default_rng(7)
cases = []
for rows, columns in [(6, 3), (10, 5), (12, 8), (20, 12), (15, 15)]:
    matrix = draws.normal(size=(rows, columns)).round(3)
    target = draws.normal(size=rows).round(3)
    cases.append(("random", matrix, target))
times = numpy.arange(0, 31.0)
settling = 1 - numpy.exp(-times[:, None] / numpy.geomspace(0.3, 24, 10)[None, :])
for target in [100 * (1 - numpy.exp(-times / 5)), 20 * numpy.log1p(times), 3 * times, -times]:
    cases.append(("settling", settling.round(9), target.round(0)))
recorded = []
for name, matrix, target in cases:
    amounts, norm = nnls(matrix, target)
    recorded.append({
        "name": name,
        "columns": matrix.T.tolist(),
        "target": target.tolist(),
        "amounts": amounts.tolist(),
        "norm": float(norm),
    })
versions = {"numpy": numpy.__version__, "scipy": scipy.__version__}
print(json.dumps({"versions": versions, "cases": recorded}))
