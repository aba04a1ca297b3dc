"""Times the posterior of the network against numpy's enumeration of the same network.

Both are exact: every set of 12 causes, 40 yes/no findings all answered. The network is drawn
here by the same seeded generator as in `posterior.rs`. Both sides have their tables ready and
give the marginals, the probability of no cause and the probability of the evidence. The numpy
side is measured in two ways and the faster one counts. The sides take turns, so that a machine
that changes its pace does so for both; the medians of all turns are compared.

Run from the top of the project, with numpy installed:

    python benches/posterior_against_numpy.py

Ends with status 1 if the answers differ or numpy is less than five times as slow.
"""

import ast
import platform
import re
import statistics
import subprocess
import sys
import time

import numpy

CAUSES, FINDINGS, TURNS, NEEDED = 12, 40, 7, 5.0
MASK = (1 << 64) - 1


class Draws:
    """The generator of `posterior.rs` (splitmix64)."""

    def __init__(self, seed):
        self.state = seed

    def chance(self):
        self.state = (self.state + 0x9E3779B97F4A7C15) & MASK
        z = self.state
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & MASK
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & MASK
        return ((z ^ (z >> 31)) >> 11) / (1 << 53)


class Case:
    """A network with its tables: the chance of no and of yes in every state."""

    def __init__(self, parents):
        draws = Draws(1)
        priors = [0.02 + 0.28 * draws.chance() for _ in range(CAUSES)]
        states = numpy.arange(1 << CAUSES)
        self.is_there = ((states[:, None] >> numpy.arange(CAUSES)) & 1).astype(bool)
        self.prior = numpy.where(self.is_there, priors, 1 - numpy.array(priors)).prod(axis=1)
        self.tables = numpy.empty((FINDINGS, 2, 1 << CAUSES))
        for finding in range(FINDINGS):
            away = 1.0 - (0.01 + 0.09 * draws.chance())
            first = int(draws.chance() * CAUSES)
            stays = numpy.ones(CAUSES)
            for place in range(parents):
                stays[(first + place) % CAUSES] = 1.0 - (0.05 + 0.9 * draws.chance())
            no = away * numpy.where(self.is_there, stays, 1.0).prod(axis=1)
            self.tables[finding] = no, 1.0 - no
        self.outcomes = [int(draws.chance() < 0.5) for _ in range(FINDINGS)]
        self.places = numpy.arange(FINDINGS)
        self.membership = numpy.ascontiguousarray(self.is_there.T.astype(float))

    def one_by_one(self):
        weights = self.prior.copy()
        for table, outcome in zip(self.tables, self.outcomes):
            weights *= table[outcome]
        return self.answers(weights)

    def all_at_once(self):
        seen = self.tables[self.places, self.outcomes]
        return self.answers(self.prior * numpy.multiply.reduce(seen, axis=0))

    def answers(self, weights):
        total = weights.sum()
        weights /= total
        return self.membership @ weights, weights[0], total


def median_of(run, rounds=1000):
    for _ in range(50):
        run()
    times = []
    for _ in range(rounds):
        start = time.perf_counter_ns()
        run()
        times.append(time.perf_counter_ns() - start)
    return statistics.median(times) / 1000


def rust_side():
    """The marginals and the median microseconds by the number of parents."""
    command = ["cargo", "bench", "--quiet", "--bench", "posterior", "--", "posterior_of_12"]
    text = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    marginals, medians, is_ours = {}, {}, False
    units = {"ns": 1e-3, "µs": 1.0, "ms": 1e3}
    for line in text.splitlines():
        if line.startswith("marginals "):
            _, name, numbers = line.split(" ", 2)
            marginals[{"all_parents": 12, "four_parents": 4}[name]] = ast.literal_eval(numbers)
        if re.search(r"[├╰]─ posterior_", line):
            is_ours = "posterior_of_12" in line
        row = re.search(r"[├╰]─ (\d+) +(.*)", line)
        if row and is_ours:
            number, unit = row.group(2).split("│")[2].split()
            medians[int(row.group(1))] = float(number) * units[unit]
    return marginals, medians


def version(command):
    return subprocess.run(command, capture_output=True, text=True).stdout.strip()


def main():
    cases = {parents: Case(parents) for parents in (12, 4)}
    ours, loops, wholes = ({parents: [] for parents in cases} for _ in range(3))
    for _ in range(TURNS):
        marginals, medians = rust_side()
        for parents, case in cases.items():
            ours[parents].append(medians[parents])
            loops[parents].append(median_of(case.one_by_one))
            wholes[parents].append(median_of(case.all_at_once))
    print(f"python {platform.python_version()}, numpy {numpy.__version__}, {version(['rustc', '-V'])}")
    print(f"{CAUSES} causes, {FINDINGS} findings all answered; microseconds, median of {TURNS} turns")
    print("parents | this | numpy one by one | numpy all at once | times faster | answers differ by")
    is_met = True
    for parents, case in cases.items():
        this, loop, whole = (statistics.median(t[parents]) for t in (ours, loops, wholes))
        apart = float(numpy.abs(case.one_by_one()[0] - numpy.array(marginals[parents])).max())
        ratio = min(loop, whole) / this
        is_met = is_met and ratio >= NEEDED and apart < 1e-12
        print(f"{parents} | {this:.1f} | {loop:.1f} | {whole:.1f} | {ratio:.1f} | {apart:.0e}")
    sys.exit(0 if is_met else 1)


if __name__ == "__main__":
    main()
