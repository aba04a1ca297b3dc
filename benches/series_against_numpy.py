"""Times reading a log of 1,000,000 rows against numpy.loadtxt of the same file.

Both sides read two columns parted by a comma below a heading. This program also looks at every
row for marks, order, repeats, gaps and the displayed step, and keeps at most 4096 readings; numpy
keeps all rows. The sides take turns; the medians of all turns are compared.

Run from the top of the project, with numpy installed:

    python benches/series_against_numpy.py

Ends with status 1 if the last row differs or this program takes more than three times as long.
"""

import pathlib
import platform
import statistics
import subprocess
import sys
import tempfile
import time

import numpy

ROWS, TURNS, ALLOWED = 1_000_000, 3, 3.0


def write_log(path):
    with open(path, "w", encoding="ascii") as log:
        log.write("time_s,pressure_pa\n")
        for i in range(ROWS):
            log.write(f"{0.5 * i:.1f},{40 + 1e-4 * i + i % 7 * 0.01:.2f}\n")


def this_program(path):
    command = ["cargo", "bench", "--quiet", "--bench", "series", "--", str(path)]
    lines = subprocess.run(command, check=True, capture_output=True, text=True).stdout.split("\n")
    turns = [line.split() for line in lines if line.strip()]
    return [float(turn[0]) for turn in turns], int(turns[0][1]), [float(x) for x in turns[0][3:]]


def with_numpy(path):
    begun = time.perf_counter()
    table = numpy.loadtxt(path, delimiter=",", skiprows=1)
    return (time.perf_counter() - begun) * 1e3, table[-1] - [table[0, 0], 0.0]


def main():
    ours, theirs = [], []
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "log.csv"
        write_log(path)
        for _ in range(TURNS):
            times, rows, last = this_program(path)
            ours += times
            for _ in range(len(times)):
                milliseconds, their_last = with_numpy(path)
                theirs.append(milliseconds)
            if rows != ROWS or not numpy.allclose(last, their_last, rtol=1e-12):
                sys.exit(f"the answers differ: {rows} rows, {last}, {their_last}")
    ours, theirs = statistics.median(ours), statistics.median(theirs)
    print(f"Python {platform.python_version()}, numpy {numpy.__version__}; {ROWS} rows; milliseconds, medians")
    print(f"this | numpy.loadtxt | ratio\n{ours:.0f} | {theirs:.0f} | {ours / theirs:.2f}")
    sys.exit(ours > ALLOWED * theirs)


if __name__ == "__main__":
    main()
