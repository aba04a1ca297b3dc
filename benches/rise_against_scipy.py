"""Times a whole reading of 60 readings against scipy's profile of the same log.

The profile is 121 non-negative least-squares fits (`scipy.optimize.nnls`) of 18 settling parts,
one for each slope on a grid; the reading does more (two passes, noise, probability, interval,
parts). The sides take turns; medians are compared.

Run from the top of the project, with numpy and scipy installed:

    python benches/rise_against_scipy.py

Ends with status 1 if the reading takes more than twice as long or the rates differ.
"""

import ast
import platform
import re
import statistics
import subprocess
import sys
import time

import numpy
import scipy
from scipy.optimize import nnls

TURNS, MOST = 5, 2.0
UNITS = {"ns": 1e-6, "µs": 1e-3, "ms": 1.0, "s": 1e3}


def ours():
    """Values printed and the median time of a reading in ms."""
    command = ["cargo", "bench", "-q", "--bench", "rise"]
    text = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    values = {
        name: ast.literal_eval(value)
        for name, value in re.findall(r"^(times|pressures|rate) (.*)$", text, re.M)
    }
    row = next(line for line in text.splitlines() if "sixty_readings" in line)
    median = re.findall(r"([\d.]+) (ns|µs|ms|s)\b", row)[2]
    return values, float(median[0]) * UNITS[median[1]]


def profile(times, pressures):
    """The slope of least misfit over 121 slopes, in Pa/s."""
    duration = times[-1]
    taus = numpy.geomspace(15.0, 0.8 * duration, 18)
    ones = numpy.ones_like(times)
    columns = [ones] + [1 - numpy.exp(-times / tau) for tau in taus]
    matrix = numpy.stack(columns, axis=1)
    slopes = numpy.linspace(0.0, 0.12, 121)
    norms = [nnls(matrix, pressures - slope * times)[1] for slope in slopes]
    return slopes[int(numpy.argmin(norms))]


def main():
    rust, python = [], []
    for _ in range(TURNS):
        values, spent = ours()
        rust.append(spent)
        times, pressures = numpy.array(values["times"]), numpy.array(values["pressures"])
        for _ in range(5):
            start = time.perf_counter()
            slope = profile(times, pressures)
            python.append(1e3 * (time.perf_counter() - start))
    ratio = statistics.median(rust) / statistics.median(python)
    print(f"{platform.machine()}, numpy {numpy.__version__}, scipy {scipy.__version__}")
    print(f"reading {statistics.median(rust):.3f} ms, profile {statistics.median(python):.3f} ms")
    print(f"ratio {ratio:.2f}; rates {values['rate']:.4f} and {slope:.4f} Pa/s")
    differ = abs(values["rate"] - slope) > 0.005
    return 1 if differ or ratio > MOST else 0


if __name__ == "__main__":
    sys.exit(main())
