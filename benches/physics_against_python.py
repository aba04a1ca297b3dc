"""Times pump-down and saturation pressure against scipy and iapws.

Pump-down: 14 L from the atmosphere to 500 micron through a hose, with and without a load, by
`solve_ivp` with a relative tolerance of 1e-6. Python solves it in two ways and the faster one
counts: over the pressure at the system, with the pressure at the pump found at every step, and
over the mean pressure in the hose, where everything is explicit. Saturation: one call of the
iapws package for liquid water and for ice. The sides take turns, so that a machine that changes
its pace does so for both; the medians of all turns are compared.

Run from the top of the project, with scipy and iapws installed:

    python benches/physics_against_python.py

Ends with status 1 if the answers differ or Python is less than twenty times as slow; for ice no
bar is set.
"""

import platform
import re
import statistics
import subprocess
import sys
import time
from importlib.metadata import version
from math import exp, log, pi, sqrt

from iapws._iapws import _Sublimation_Pressure
from iapws.iapws97 import _PSat_T
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

TURNS, NEEDED, TOLERANCE, APART = 7, 20.0, 1e-6, 1e-4
WITHOUT_BAR = ("saturation_ice",)
VOLUME, SPEED, FLOOR, START, TARGET = 0.014, 2.8e-3, 2.666, 101325.0, 66.661
BORE, LENGTH = 9.525e-3, 1.5
GAS_CONSTANT, MOLAR_MASS, TEMPERATURE, VISCOSITY = 8.314462618, 28.9647e-3, 293.15, 1.82e-5
LAMINAR = pi * BORE**4 / (128 * VISCOSITY * LENGTH)
MOLECULAR = (
    pi * BORE**3 * sqrt(8 * GAS_CONSTANT * TEMPERATURE / (pi * MOLAR_MASS)) / (12 * LENGTH)
    / (1 + 4 * BORE / (3 * LENGTH))
)
CROWDING = BORE * sqrt(MOLAR_MASS / (GAS_CONSTANT * TEMPERATURE)) / VISCOSITY
METHODS = ("RK45", "DOP853", "LSODA", "Radau")


def conductance(mean):
    x = CROWDING * mean
    return LAMINAR * mean + MOLECULAR * (1 + x) / (1 + 1.24 * x)


def by_pressure(load, method):
    """Over the logarithm of the pressure at the system."""

    def slope(_, logarithm):
        system = exp(logarithm[0])
        end = brentq(
            lambda end: SPEED * (end - FLOOR) - conductance((system + end) / 2) * (system - end),
            FLOOR, system, rtol=1e-10,
        )
        return [(load - SPEED * (end - FLOOR)) / VOLUME / system]

    return until(slope, START, TARGET, method)


def at_mean(mean):
    """Pressure at the system, its slope and the throughput, from the mean in the hose."""
    whole = conductance(mean)
    bend = 1 + 1.24 * CROWDING * mean
    whole_slope = LAMINAR - 0.24 * MOLECULAR * CROWDING / bend**2
    over = SPEED + 2 * whole
    share = 2 * whole / over
    end = share * (mean - FLOOR)
    end_slope = share + 2 * whole_slope * SPEED / over**2 * (mean - FLOOR)
    return FLOOR + 2 * (mean - FLOOR) - end, 2 - end_slope, SPEED * end


def by_mean(load, method):
    """Over the logarithm of the mean pressure in the hose."""

    def slope(_, logarithm):
        mean = exp(logarithm[0])
        _, system_slope, flow = at_mean(mean)
        return [(load - flow) / VOLUME / system_slope / mean]

    def mean_at(system):
        return brentq(lambda mean: at_mean(mean)[0] - system, FLOOR, system, rtol=1e-14)

    return until(slope, mean_at(START), mean_at(TARGET), method)


def until(slope, start, target, method):
    def is_there(_, logarithm):
        return logarithm[0] - log(target)

    is_there.terminal = True
    solved = solve_ivp(
        slope, (0, 1e5), [log(start)], method=method, events=is_there, rtol=TOLERANCE, atol=1e-9
    )
    return solved.t_events[0][0]


def median_of(run, rounds):
    for _ in range(3):
        run()
    times = []
    for _ in range(rounds):
        start = time.perf_counter_ns()
        run()
        times.append(time.perf_counter_ns() - start)
    return statistics.median(times) / 1000


def rust_side():
    """The values and the median microseconds by name."""
    command = ["cargo", "bench", "--quiet", "--bench", "physics", "--", "pump_down|saturation"]
    text = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    values, medians = {}, {}
    units = {"ns": 1e-3, "µs": 1.0, "ms": 1e3}
    for line in text.splitlines():
        if line.startswith("value "):
            _, name, number = line.split()
            values[name] = float(number)
        row = re.search(r"[├╰]─ (\w+) +(.*)", line)
        if row and "│" in row.group(2):
            number, unit = row.group(2).split("│")[2].split()
            medians[row.group(1)] = float(number) * units[unit]
    return values, medians


def python_side():
    """By name, the ways to get the value, the fastest of which counts, and how often to time."""
    integrals = lambda load: [
        lambda way=way, method=method: way(load, method)
        for way in (by_pressure, by_mean)
        for method in METHODS
    ]
    return {
        "pump_down_hose": (integrals(0.0), 7),
        "pump_down_hose_and_load": (integrals(0.01), 7),
        "saturation_liquid": ([lambda: 1e6 * _PSat_T(293.15)], 2000),
        "saturation_ice": ([lambda: 1e6 * _Sublimation_Pressure(253.15)], 2000),
    }


def main():
    cases = python_side()
    ours = {name: [] for name in cases}
    theirs = {name: [[] for _ in ways] for name, (ways, _) in cases.items()}
    for _ in range(TURNS):
        values, medians = rust_side()
        for name, (ways, rounds) in cases.items():
            ours[name].append(medians[name])
            for way, times in zip(ways, theirs[name]):
                times.append(median_of(way, rounds))
    packages = ", ".join(f"{name} {version(name)}" for name in ("scipy", "iapws"))
    print(f"python {platform.python_version()}, {packages}; microseconds, median of {TURNS} turns")
    print("law | this | python | times faster | answers differ by")
    is_met = True
    for name, (ways, _) in cases.items():
        this = statistics.median(ours[name])
        fastest, way = min((statistics.median(t), w) for w, t in enumerate(theirs[name]))
        apart = abs(ways[way]() / values[name] - 1)
        ratio = fastest / this
        is_fast = ratio >= NEEDED or name in WITHOUT_BAR
        is_met = is_met and is_fast and apart < APART
        print(f"{name} | {this:.3f} | {fastest:.2f} | {ratio:.0f} | {apart:.0e}")
    sys.exit(0 if is_met else 1)


if __name__ == "__main__":
    main()
