"""Every speed that is stated, measured in one run on one machine, beside what else would do the work.

Builds the benchmarks, runs them one after the other, and prints a table in Markdown: what this program
takes, what stands beside it, the stated bar, and how much of the bar is used. What uses more than twice
its bar is marked. Writes nothing.

Run from the top of the project, with numpy, scipy, pyAgrum and iapws installed:

    python benches/table.py

Ends with status 1 if something uses more than twice its bar. A row whose other side isn't installed is
left out, and said so.
"""

import importlib.util
import os
import platform
import re
import statistics
import subprocess
import sys
import tempfile
import time

UNITS = {"ns": 1e-6, "µs": 1e-3, "ms": 1.0, "s": 1e3}
PROGRAM = "target/release/dryhold"


def text_of(*command):
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def bench(name):
    """The medians of a benchmark in milliseconds, by the names of its rows."""
    medians, group = {}, ""
    for line in text_of("cargo", "bench", "--quiet", "--bench", name).splitlines():
        row = re.match(r"[│ ]*[├╰]─ (\S+)(.*)", line)
        if not row:
            continue
        times = re.findall(r"([\d.]+) (ns|µs|ms|s)\b", row.group(2))
        is_argument = line.startswith(("│  ", "   "))
        if not is_argument:
            group = row.group(1)
        if len(times) >= 3:
            key = f"{group} {row.group(1)}" if is_argument else group
            medians[key] = float(times[2][0]) * UNITS[times[2][1]]
    return medians


def script(name, needs):
    """What a script of this folder prints; none where what it needs isn't installed."""
    missing = [module for module in needs if importlib.util.find_spec(module) is None]
    if missing:
        print(f"{name} is left out: {', '.join(missing)} not installed", file=sys.stderr)
        return None
    # A missed bar is its own row here.
    done = subprocess.run([sys.executable, f"benches/{name}"], capture_output=True, text=True)
    if not done.stdout:
        sys.exit(f"{name}: {done.stderr}")
    return done.stdout


def cells(text, begins):
    """The numbers of the first row that begins so."""
    line = next(line for line in text.splitlines() if line.lstrip("| ").startswith(begins))
    return [float(number) for number in re.findall(r"(?<![\w.])\d+(?:\.\d+)?(?:e-?\d+)?(?![\w.])",
                                                   line.split(begins, 1)[1])]


class Table:
    def __init__(self):
        self.rows, self.is_kept = [], True

    def row(self, what, this, beside, named, bar, unit="ms"):
        """`bar` in the same unit as `this`, with how it is stated."""
        used = this / bar[0]
        self.is_kept &= used <= 2.0
        mark = "" if used <= 1.0 else (" missed" if used <= 2.0 else " **more than twice**")
        other = "" if beside is None else f"{beside:.4g} {unit}"
        self.rows.append(f"| {what} | {this:.3g} {unit} | {named} | {other} | {bar[1]} | {used:.2f}{mark} |")

    def print(self):
        print("| what | this | beside it | takes | bar | of the bar |\n| --- | --- | --- | --- | --- | --- |")
        print("\n".join(self.rows))


def start_up(table):
    text = text_of("cargo", "bench", "--quiet", "--bench", "start_up")
    hello, ours = cells(text, "hello")[1], cells(text, "diagnose, book on the disk")[1]
    table.row("start to the first prompt", ours, hello, "a bare process", (10 * hello, "10 times"))


def check(table):
    text = text_of("cargo", "bench", "--quiet", "--bench", "check")
    for trees in ("10", "100"):
        reading, sound, ways, _ = cells(text, f"{trees} |")
        what = f"check of 10,000 steps in {trees} trees"
        table.row(what, sound + ways, reading, "reading the YAML", (4 * reading, "4 times"))


def answers(table):
    medians = bench("answers")
    for name, what in [("reading_after_an_oil_change", "an oil change"),
                       ("reading_after_three_oil_changes", "three oil changes")]:
        table.row(f"an answer, after {what}", medians[name], None, "", (5.0, "5 ms"))


def network(table):
    medians = bench("posterior")
    worth = medians["worth_of_40_findings_by_parents 12"]
    table.row("worth of 40 next questions", 1e3 * worth, None, "", (300.0, "300 µs"), "µs")
    if text := script("posterior_against_numpy.py", ["numpy"]):
        this, loop, whole, *_ = cells(text, "12 |")
        other = min(loop, whole)
        table.row("posterior, 12 causes, 40 findings", this, other, "numpy", (other / 5, "5 times faster"), "µs")
    if text := script("posterior_against_pyagrum.py", ["pyagrum"]):
        line = next(line for line in text.splitlines() if line.startswith("12 | ") and "lazy" in line)
        _, this, _, other, *_ = [cell.strip() for cell in line.split("|")]
        table.row("the same", float(this), float(other), "pyAgrum, lazy propagation",
                  (float(other), "not slower"), "µs")


def draws(table):
    medians = bench("physics")
    table.row("a pump-down over 2048 draws", medians["formula_over_all_draws"], None, "", (10.0, "10 ms"))
    if text := script("draws_against_numpy.py", ["numpy"]):
        this, other, _ = cells(text, "2048 |")
        table.row("arithmetic over 2048 draws", this, other, "numpy", (10 * other, "10 times"), "µs")
    if text := script("physics_against_python.py", ["scipy", "iapws"]):
        line = next(line for line in text.splitlines() if line.startswith("pump_down_hose_and_load"))
        this, other = (float(cell) for cell in line.split("|")[1:3])
        table.row("pump-down with a load, once", this, other, "scipy", (other / 20, "20 times faster"), "µs")


def rise(table):
    if text := script("rise_against_scipy.py", ["numpy", "scipy"]):
        this, other = (float(number) for number in re.findall(r"([\d.]+) ms", text))
        table.row("reading of a rise of 60 readings", this, other, "scipy nnls", (2 * other, "twice"))
    if text := script("series_against_numpy.py", ["numpy"]):
        this, other, _ = [float(cell) for cell in text.splitlines()[-1].split("|")]
        table.row("a log of 1,000,000 rows", this, other, "numpy.loadtxt", (3 * other, "3 times"))
        took = million()
        table.row("the whole of `dryhold rise` on such a log", took, other, "numpy.loadtxt alone",
                  (3 * other, "3 times"))


def million():
    """A rise of a million readings, as a process, in ms; the middle of three."""
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "million.csv")
        with open(path, "w") as log:
            log.write("time s,pressure micron\n")
            log.writelines(f"{place / 100:.2f},{300 + place * 2e-4:.3f}\n" for place in range(1_000_000))
        times = []
        for _ in range(3):
            begun = time.perf_counter()
            subprocess.run([PROGRAM, "rise", path], check=True, capture_output=True)
            times.append(1e3 * (time.perf_counter() - begun))
    return statistics.median(times)


def rig(table):
    if text := script("rig_against_scipy.py", ["numpy", "scipy"]):
        this, other, _ = [float(number) for number in re.findall(r"[\d.]+", text.splitlines()[-1])]
        table.row("an hour of a simulated rig", this, other, "scipy BDF", (other / 20, "20 times faster"))


def report(table):
    medians = bench("reports")
    table.row("report of a judged case of 200 answers", medians["text"], None, "", (20.0, "20 ms"))
    before = sum(took for name, took in medians.items() if name.startswith("before_"))
    table.row("the same from its events", before + medians["text"], None, "", (20.0, "20 ms"))


def main():
    subprocess.run(["cargo", "build", "--release", "--quiet"], check=True)
    subprocess.run(["cargo", "bench", "--no-run", "--quiet"], check=True)
    table = Table()
    for part in (start_up, check, answers, network, draws, rise, rig, report):
        print(f"{part.__name__} ...", file=sys.stderr, flush=True)
        part(table)
    rust = text_of("rustc", "-V").strip()
    load = " ".join(f"{load:.1f}" for load in os.getloadavg())
    print(f"{rust}, Python {platform.python_version()}, {os.cpu_count()} cores, load {load}\n")
    table.print()
    sys.exit(0 if table.is_kept else 1)


main()
