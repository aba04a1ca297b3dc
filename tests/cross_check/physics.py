"""Checks the laws of the program against general-purpose libraries.

Saturation against CoolProp and iapws; pump-down and the minimum of the conductance against
equations written out here and solved by scipy. The program is asked through
`dryhold eval --json`, one formula a row.

    python tests/cross_check/physics.py target/debug/dryhold
    python tests/cross_check/physics.py target/debug/dryhold tests/data/physics/cross-check.csv

The first compares; the second also records what the libraries gave, with their versions. Ends
with status 1 if a row is off by more than its tolerance.
"""

import csv
import json
import subprocess
import sys
from importlib.metadata import version
from math import exp, log, pi, sqrt

from CoolProp.CoolProp import PropsSI
from CoolProp.HumidAirProp import HAProps_Aux
from iapws._iapws import _Sublimation_Pressure
from iapws.iapws97 import _PSat_T, _TSat_P
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, minimize_scalar

MICRON, TRIPLE_POINT = 0.133322387415, 273.16
GAS_CONSTANT, MOLAR_MASS, TEMPERATURE, VISCOSITY = 8.314462618, 28.9647e-3, 293.15, 1.82e-5
MEAN_SPEED = sqrt(8 * GAS_CONSTANT * TEMPERATURE / (pi * MOLAR_MASS))
HEADER = ["case", "formula", "expected", "unit", "tolerance", "mark", "source"]


def row(case, formula, expected, unit, tolerance, library, what):
    source = f"{library} {version(library)}, {what}"
    return [case, formula, f"{expected:.12g}", unit, f"{tolerance:.0e}", "computed", source]


def saturation_pressures():
    """60 temperatures, half liquid and half ice, each by two libraries."""
    for step in range(30):
        kelvin = round(TRIPLE_POINT + 0.02 + 4.3 * step, 2)
        name, formula = f"liquid-{kelvin}", f"saturation_pressure({kelvin} K) as Pa"
        # The formulations of 1995 and of 1997 are up to 7e-5 apart.
        helmholtz = PropsSI("P", "T", kelvin, "Q", 1, "Water")
        yield row(name, formula, helmholtz, "Pa", 1e-4, "CoolProp", "IAPWS-95")
        region = 1e6 * _PSat_T(kelvin)
        yield row(f"{name}-again", formula, region, "Pa", 1e-10, "iapws", "IF97 region 4")
    for step in range(30):
        kelvin = round(180 + 3.2 * step, 1)
        name, formula = f"ice-{kelvin}", f"saturation_pressure({kelvin} K) as Pa"
        humid_air = HAProps_Aux("p_ws", kelvin, 101.325, 0)[0]
        yield row(name, formula, humid_air, "Pa", 1e-10, "CoolProp", "ice under humid air")
        release = 1e6 * _Sublimation_Pressure(kelvin)
        yield row(f"{name}-again", formula, release, "Pa", 1e-10, "iapws", "IAPWS R14-08")


def saturation_temperatures():
    for micron in (20, 100, 500, 1000, 2000, 4500):
        gap = lambda kelvin: 1e6 * _Sublimation_Pressure(kelvin) - micron * MICRON
        kelvin = brentq(gap, 150, TRIPLE_POINT, xtol=1e-12)
        formula = f"saturation_temperature({micron} micron) as K"
        yield row(f"frost-{micron}", formula, kelvin, "K", 1e-10, "iapws", "R14-08 by brentq")
    for micron in (4600, 10000, 50000, 200000, 760000):
        kelvin = _TSat_P(1e-6 * micron * MICRON)
        formula = f"saturation_temperature({micron} micron) as K"
        yield row(f"boiling-{micron}", formula, kelvin, "K", 1e-10, "iapws", "IF97 region 4")


def knudsen(bore, pressure):
    """Knudsen's variable, and the conductance of a long tube over its molecular conductance."""
    x = pressure * bore * sqrt(MOLAR_MASS / (GAS_CONSTANT * TEMPERATURE)) / VISCOSITY
    laminar = 12 * bore * pressure / (128 * VISCOSITY * MEAN_SPEED)
    return x, laminar + (1 + x) / (1 + 1.24 * x)


def conductance(bore, length, pressure):
    molecular = pi * bore**3 * MEAN_SPEED / (12 * length)
    laminar = pi * bore**4 * pressure / (128 * VISCOSITY * length)
    x, _ = knudsen(bore, pressure)
    return laminar + molecular / (1 + 4 * bore / (3 * length)) * (1 + x) / (1 + 1.24 * x)


def conductance_minimum():
    """Where the conductance of a long tube is least, and at a few pressures on both sides."""
    bore = 1e-3
    least = minimize_scalar(
        lambda pressure: knudsen(bore, pressure)[1], bounds=(0.1, 50), method="bounded",
        options={"xatol": 1e-9},
    ).x
    for share in (1, 0.5, 0.9, 1.1, 2):
        pascal = round(least * share, 9)
        tube = "tube_conductance(1 mm, 1000 m, {} Pa)"
        formula = f"{tube.format(pascal)} / {tube.format(0)}"
        ratio = knudsen(bore, pascal)[1]
        yield row(f"minimum-{share}", formula, ratio, "1", 1e-5, "scipy", "minimize_scalar")


def pump_end(speed, floor, bore, length, system):
    """The pressure at the pump where pump and hose pass the same."""
    if not bore:
        return system
    gap = lambda end: speed * (end - floor) - conductance(bore, length, (system + end) / 2) * (
        system - end
    )
    return brentq(gap, floor, system, xtol=1e-15, rtol=1e-14)


def pump_down(volume, speed, start, target, floor=0, bore=0, length=0, load=0):
    """The time in s, all in SI units, by integrating the logarithm of the pressure."""

    def slope(_, logarithm):
        system = exp(logarithm[0])
        flow = speed * (pump_end(speed, floor, bore, length, system) - floor)
        return [(load - flow) / volume / system]

    def is_there(_, logarithm):
        return logarithm[0] - log(target)

    is_there.terminal = True
    solved = solve_ivp(
        slope, (0, 1e9), [log(start)], method="LSODA", events=is_there, rtol=1e-10, atol=1e-12
    )
    return solved.t_events[0][0]


# Volume in L, speed in L/s, start, target and floor in micron, bore in mm, length in m, load in
# Pa m3/s.
PUMP_DOWNS = [
    (10, 2, 760000, 500, 0, 0, 0, 0),
    (10, 2, 760000, 500, 20, 0, 0, 0),
    (10, 2, 760000, 500, 20, 0, 0, 0.1),
    (10, 2, 760000, 500, 20, 4.8, 1.5, 0),
    (10, 2, 760000, 500, 20, 9.5, 1.5, 0),
    (14, 2.8, 760000, 500, 20, 9.525, 1.5, 0.01),
    (14, 2.8, 760000, 100, 20, 12.7, 1.5, 0.001),
    (14, 2.8, 10000, 30, 25, 19, 1.5, 0),
    (0.1, 1.9, 10000, 200, 0, 0.7, 2, 0),
    (100, 4, 760000, 1000, 50, 12.7, 3, 0.05),
    (3, 1, 5000, 25, 5, 6.35, 0.9, 0.00005),
    (0.5, 0.7, 760000, 50, 0, 4.8, 0.9, 0),
    (1000, 10, 760000, 2000, 10, 25, 10, 0.5),
]


def pump_downs():
    for number, case in enumerate(PUMP_DOWNS, 1):
        volume, speed, start, target, floor, bore, length, load = case
        seconds = pump_down(
            volume / 1e3, speed / 1e3, start * MICRON, target * MICRON, floor * MICRON,
            bore / 1e3, length, load,
        )
        hose = f", bore = {bore} mm, length = {length} m" if bore else ""
        gas = f", load = {load:g} Pa m3/s" if load else ""
        formula = (
            f"pump_down_time({volume} L, {speed} L/s, {start} micron, {target} micron, "
            f"floor = {floor} micron{hose}{gas}) as s"
        )
        yield row(f"pump-down-{number}", formula, seconds, "s", 1e-6, "scipy", "solve_ivp, LSODA")


def asked(program, formula):
    answer = subprocess.run([program, "eval", formula, "--json"], capture_output=True, text=True)
    if answer.returncode:
        sys.exit(f"{formula}\n{answer.stderr}")
    return json.loads(answer.stdout)["value"]


def main():
    program, record = sys.argv[1], sys.argv[2:]
    laws = (saturation_pressures, saturation_temperatures, conductance_minimum, pump_downs)
    rows, is_met = [], True
    for law in laws:
        errors = []
        for case in law():
            error = abs(asked(program, case[1]) / float(case[2]) - 1)
            if error > float(case[4]):
                print(f"{case[0]}: off by {error:.1e}, more than {case[4]}: {case[1]}")
                is_met = False
            rows.append(case)
            errors.append(error)
        print(f"{law.__name__}: {len(errors)} rows, worst relative error {max(errors):.1e}")
    if record:
        with open(record[0], "w", newline="") as file:
            csv.writer(file, lineterminator="\n").writerows([HEADER, *rows])
    sys.exit(0 if is_met else 1)


if __name__ == "__main__":
    main()
