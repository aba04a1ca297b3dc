"""Times a formula over 2048 draws against numpy: four values in doubt, a difference, a product, a quotient.

Both sides draw every value anew each time, numpy by its `standard_normal`, and take the middle and the
bounds of nineteen in twenty. The formula's text is ready on this side. It also carries the units, whether a
draw could be worked out at all, and gives the same draws on every machine.

Run from the top of the project, with numpy installed:

    python benches/draws_against_numpy.py

Ends with status 1 if this program takes more than ten times as long.
"""

import platform
import re
import statistics
import subprocess
import sys
import time

import numpy

DRAWS, TURNS, ALLOWED = 2048, 7, 10.0
VALUES = [(2500, 50), (300, 10), (14, 1), (30, 1)]


def ours():
    command = ["cargo", "bench", "--quiet", "--bench", "physics", "--", "arithmetic_over_all_draws"]
    text = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    row = next(line for line in text.splitlines() if "arithmetic_over_all_draws" in line)
    number, unit = re.findall(r"([0-9.]+) (ns|µs|ms)", row)[2]
    return float(number) * {"ns": 1e-3, "µs": 1.0, "ms": 1e3}[unit]


def theirs(random):
    start = time.perf_counter()
    for _ in range(200):
        end, first, volume, minutes = (m + s * random.standard_normal(DRAWS) for m, s in VALUES)
        rate = (end - first) * volume / minutes
        numpy.quantile(rate, [0.025, 0.5, 0.975])
    return (time.perf_counter() - start) / 200 * 1e6


def main():
    random = numpy.random.default_rng(1)
    this, numpys = zip(*[(ours(), theirs(random)) for _ in range(TURNS)])
    this, other = statistics.median(this), statistics.median(numpys)
    print(f"Python {platform.python_version()}, numpy {numpy.__version__}; microseconds, median of {TURNS} turns")
    print("draws | this | numpy | ratio")
    print(f"{DRAWS} | {this:.0f} | {other:.0f} | {this / other:.2f}")
    sys.exit(0 if this <= ALLOWED * other else 1)


main()
