"""Follows one simulated rig by the equations written out here, solved by scipy.

A pump with damp oil, a hose, a valve core, and a system with wet walls, refrigerant in its oil, a
puddle and a small leak, pulled for an hour in a room that warms. `tests/suite/bench/cross_check.rs`
builds the same rig and holds it against what is recorded.

    python tests/cross_check/rig.py                                   compares with the record
    python tests/cross_check/rig.py tests/data/bench/cross-check.csv  records it
    python tests/cross_check/rig.py --time                            how long scipy takes

Needs numpy and scipy.
"""

import csv
import sys
import time
from math import exp, pi, sqrt
from pathlib import Path

import numpy
import scipy
from scipy.integrate import solve_ivp

RECORD = Path(__file__).parents[1] / "data/bench/cross-check.csv"
R, T0, ATMOSPHERE = 8.314462618, 293.15, 101325.0
MASS = numpy.array([28.9647e-3, 18.015268e-3, 72.585e-3])  # air, water, R-410A in kg/mol
# The viscosity of thin water vapour by IAPWS R12-08, equation 11.
REDUCED = T0 / 647.096
WATER_VISCOSITY = 100e-6 * sqrt(REDUCED) / sum(
    a / REDUCED**n for n, a in enumerate([1.67752, 2.20462, 0.6366564, -0.241605])
)
VISCOSITY = numpy.array([1.82e-5, WATER_VISCOSITY, 13.0e-6])
SPEED = numpy.sqrt(8 * R * T0 / (pi * MASS))
PER_KG = R * T0 / MASS  # Pa m3 at 20 degC

# The rig.
VOLUMES = [1e-4, 1.2e-4, 8e-3]
HOSE, CORE, LEAK = (9.5e-3, 1.5), 1.5e-3, 3e-4
WALL = (2e-3, 800.0, [30.0, 150.0, 750.0, 3750.0, 18750.0, 93750.0], 50e3)
OIL_STORES, OIL_LEVEL, OIL_BINDING = [(0.01 * 2 / 3, 300.0), (0.01 / 3, 3600.0)], 1500.0, 25e3
PUDDLE = dict(mass=2e-3, offset=-6.0, openness=0.02, capacity=80.0, inflow=0.8)
PUMP = dict(speed=2.36e-3 * 0.9, ultimate=3.0, worn=2.0, cold=15.0, warm_up=240.0)
AMBIENT, DRIFT, HUMIDITY = 295.15, 5.0 / 3600, 0.5
START = [1e5, 1000.0, 0.0]
OIL_WATER, OIL_REFRIGERANT = 3e-4, 1e-4
TIMES = [20, 60, 120, 300, 600, 900, 1500, 2100, 2700, 3600]


def saturation(t):
    if t < 273.16:
        terms = [(-21.2144006, 0.00333333333), (27.3203819, 1.20666667), (-6.1059813, 1.70333333)]
        theta = t / 273.16
        return 611.657 * exp(sum(a * theta**b for a, b in terms) / theta)
    n = [0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5,
         -0.32325550322333e7, 0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6,
         -0.23855557567849, 0.65017534844798e3]
    v = t + n[8] / (t - n[9])
    a, b, c = v * v + n[0] * v + n[1], n[2] * v * v + n[3] * v + n[4], n[5] * v * v + n[6] * v + n[7]
    return 1e6 * (2 * c / (-b + sqrt(b * b - 4 * a * c))) ** 4


WATER_OUTSIDE = HUMIDITY * saturation(AMBIENT)
OUTSIDE = numpy.array([ATMOSPHERE - WATER_OUTSIDE, WATER_OUTSIDE, 0.0])
EVAPORATION = 2.5010e6 - 2.37e3 * (273.16 - 273.15)
FUSION = 2.834e6 - EVAPORATION


def passage(near, far, bore, length):
    """Flow of each gas in Pa m3/s; a hole where there is no length."""
    mean, difference = (near + far) / 2, near.sum() - far.sum()
    pressure, positive = mean.sum(), mean.clip(0)
    share_of = positive / positive.sum()
    weight = share_of * numpy.sqrt(MASS)
    viscosity = (weight * VISCOSITY).sum() / weight.sum()
    x = pressure * bore * sqrt((share_of * MASS).sum() / (R * T0)) / viscosity
    if length:
        dense = pi * bore**4 * pressure / (128 * viscosity * length)
        thin = pi * bore**3 * SPEED / (12 * length) / (1 + 4 * bore / (3 * length))
        thin = thin * (1 + x) / (1 + 1.24 * x)
    else:
        area = pi * bore**2 / 4
        choked = sqrt(1.4 * R * T0 / MASS[0]) * (2 / 2.4) ** 3
        dense, thin = area * choked * x / (1 + x), area * SPEED / 4 / (1 + x)
    own, stirred = 1 / (1 + x / 3), 1e-5 * dense
    mixes, along = thin * own + stirred, thin * (1 - own) + dense - stirred
    # How much faster the mixture flows than it mixes, and what it then carries from near.
    faster = along[0] * difference / (mixes.min() * pressure)
    from_near = (1 + faster / sqrt(faster**2 + 36)) / 2
    near_share, far_share = (side.clip(0) / side.clip(0).sum() for side in (near, far))
    carried = from_near * near_share + (1 - from_near) * far_share
    return along * difference * carried + mixes * (near - far)


def rates(t, y):
    ambient = AMBIENT + DRIFT * t
    gas = y[:9].reshape(3, 3) * (ambient / T0)
    walls, oil_stores = y[9:15], y[15:17]
    puddle, heat, in_oil, warmth = y[17], y[18], y[19:21], y[21]
    out = numpy.zeros_like(y)
    flow = numpy.zeros((3, 3))

    floor = numpy.array([PUMP["ultimate"] + PUMP["worn"] + PUMP["cold"] * (1 - warmth),
                         1e5 * in_oil[0] / PER_KG[1], 5e4 * in_oil[1] / PER_KG[2]])
    intake = PUMP["speed"] * (gas[0] - floor)
    flow[0] -= intake
    for n, clears in enumerate([1500.0, 400.0]):
        taken = intake[n + 1]
        captured = 0.3 * taken if taken > 0 else taken
        out[19 + n] = captured - in_oil[n] * warmth / (12 * clears)
    out[21] = (1 - warmth) / PUMP["warm_up"]

    for near, far, bore, length in [(0, 1, *HOSE), (1, 2, CORE, None)]:
        passed = passage(gas[near], gas[far], bore, length)
        flow[near] -= passed
        flow[far] += passed

    ratio = gas[2].sum() / OUTSIDE.sum()
    flow[2] += LEAK * (1 - ratio**2) * OUTSIDE / OUTSIDE.sum()

    capacity, _, times, binding = WALL
    haste = exp(binding / R * (1 / T0 - 1 / ambient))
    leaves = (haste * walls - capacity / 6 * gas[2][1]) / numpy.array(times)
    out[9:15] = -leaves
    flow[2][1] += leaves.sum()
    haste = exp(OIL_BINDING / R * (1 / T0 - 1 / ambient))
    for n, (capacity, slow) in enumerate(OIL_STORES):
        leaves = (haste * oil_stores[n] - capacity * gas[2][2]) / slow
        out[15 + n] = -leaves
        flow[2][2] += leaves

    mass = max(puddle / PER_KG[1], 0.0)
    frozen = -FUSION * mass
    above = heat if heat >= 0 else (0.0 if heat >= frozen else heat - frozen)
    temperature = 273.16 + above / PUDDLE["capacity"]
    drive = saturation(temperature) - gas[2][1]
    covered = mass / (mass + 2e-6) if drive > 0 else 1.0
    others = gas[2][0] + gas[2][2]
    evaporated = PUDDLE["openness"] / (1 + others / 1000.0) * drive * covered
    taken = 2.5010e6 - 2.37e3 * (max(temperature, 273.16) - 273.15)
    inflow = PUDDLE["inflow"] * (ambient + PUDDLE["offset"] - temperature)
    flow[2][1] += evaporated
    out[17] = -evaporated
    out[18] = inflow - evaporated / PER_KG[1] * taken

    for chamber in range(3):
        out[3 * chamber:3 * chamber + 3] = flow[chamber] / VOLUMES[chamber]
    return out


def start():
    walls = [WALL[0] / 6 * WALL[1]] * 6
    stores = [capacity * OIL_LEVEL for capacity, _ in OIL_STORES]
    heat = PUDDLE["capacity"] * (AMBIENT + PUDDLE["offset"] - 273.16)
    oil = [OIL_WATER * PER_KG[1], OIL_REFRIGERANT * PER_KG[2]]
    return numpy.array(START * 3 + walls + stores + [PUDDLE["mass"] * PER_KG[1], heat] + oil + [0.0])


def solve(relative, absolute):
    return solve_ivp(rates, (0, TIMES[-1]), start(), "BDF", t_eval=TIMES, rtol=relative, atol=absolute)


def rows():
    solution = solve(1e-8, 1e-9)
    assert solution.success, solution.message
    source = f"scipy {scipy.__version__}, numpy {numpy.__version__}, solve_ivp BDF, rtol 1e-8"
    for at, y in zip(solution.t, solution.y.T):
        scale = (AMBIENT + DRIFT * at) / T0
        system = y[6:9] * scale
        pump_end = y[:3].sum() * scale
        yield [f"{at:.0f}", *(f"{p:.10g}" for p in [*system, pump_end]), "computed", source]


def main():
    if sys.argv[1:] == ["--time"]:
        for relative in (1e-3, 1e-4, 1e-6):
            clock = time.perf_counter()
            solution = solve(relative, 1.5e-3)
            took = time.perf_counter() - clock
            print(f"rtol {relative:g}: {1e3 * took:.1f} ms, {solution.nfev} rates, {solution.nlu} factorings")
        return
    found = list(rows())
    header = ["time_s", "air_Pa", "water_Pa", "refrigerant_Pa", "pump_end_Pa", "mark", "source"]
    if len(sys.argv) > 1:
        with open(sys.argv[1], "w", newline="") as file:
            csv.writer(file, lineterminator="\n").writerows([header, *found])
        return
    with open(RECORD, newline="") as file:
        recorded = list(csv.reader(file))[1:]
    worst = max(abs(float(a) / float(b) - 1) for new, old in zip(found, recorded, strict=True)
                for a, b in zip(new[1:5], old[1:5]))
    print(f"{len(found)} rows, worst relative difference {worst:.1e}")
    sys.exit(worst > 1e-6)


if __name__ == "__main__":
    main()
