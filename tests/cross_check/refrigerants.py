"""Computes the properties of refrigerants in `src/physics/refrigerant.rs` anew with CoolProp.

Compares them with the record in `tests/data/refrigerants.csv`, which the tests of the project
compare with its own table, so that both stay true without Python. Run from the top of the
project, with CoolProp and numpy installed:

    python tests/cross_check/refrigerants.py           compares, status 1 if anything differs
    python tests/cross_check/refrigerants.py --write   writes the record anew
    python tests/cross_check/refrigerants.py --fit     prints the coefficients for the table

Every property is of the vapour at 101325 Pa and 20 degC; pressures are those of boiling liquid
(bubble) and of condensing vapour (dew), from -40 to 60 degC, or to 30 degC for r744, whose
critical point lies at 31 degC.
"""

import csv
import pathlib
import sys

import CoolProp
import numpy
from CoolProp.CoolProp import PropsSI

RECORD = pathlib.Path("tests/data/refrigerants.csv")
FLUIDS = {
    "r32": "R32",
    "r134a": "R134a",
    "r410a": "R410A.mix",
    "r454b": "R454B.mix",
    "r290": "R290",
    "r744": "R744",
}
VAPOUR = {
    "molar_mass": ("M", 1e3, "g/mol"),
    "viscosity": ("V", 1e6, "uPa s"),
    "isentropic_exponent": ("isentropic_expansion_coefficient", 1.0, "1"),
}
LOWEST, STEP, DEGREE = -40, 2, 4


def saturation(fluid, quality, celsius):
    """The pressure in Pa; none where the solver finds no answer for a blend."""
    try:
        return PropsSI("P", "T", 273.15 + celsius, "Q", quality, fluid)
    except ValueError:
        return None


def pressures(name, fluid, quality):
    highest = 30 if name == "r744" else 60
    for celsius in range(LOWEST, highest + 1, STEP):
        pressure = saturation(fluid, quality, celsius)
        if pressure is not None:
            yield celsius, pressure


def rows():
    for name, fluid in FLUIDS.items():
        for quantity, (key, factor, unit) in VAPOUR.items():
            value = PropsSI(key, "T", 293.15, "P", 101325, fluid) * factor
            yield name, quantity, "20", f"{value:.6g}", unit
        for quantity, quality in (("bubble", 0), ("dew", 1)):
            for celsius, pressure in pressures(name, fluid, quality):
                yield name, quantity, str(celsius), f"{pressure / 1e3:.6g}", "kPa"


def write():
    with RECORD.open("w", newline="") as file:
        file.write(f"# computed: CoolProp {CoolProp.__version__}\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["refrigerant", "quantity", "celsius", "value", "unit"])
        writer.writerows(rows())


def compare():
    with RECORD.open() as file:
        version = file.readline().strip()
        recorded = {tuple(row[:3]): float(row[3]) for row in list(csv.reader(file))[1:]}
    print(f"recorded: {version}; here: CoolProp {CoolProp.__version__}")
    computed = {row[:3]: float(row[3]) for row in rows()}
    differing = [
        f"{key}: recorded {recorded[key]}, computed {computed.get(key)}"
        for key in recorded
        if key not in computed or abs(computed[key] / recorded[key] - 1) > 1e-4
    ]
    print("\n".join(differing) or f"{len(recorded)} values agree within 1e-4")
    return 1 if differing else 0


def fit():
    """ln(p / Pa) as a polynomial in 273.15 K / T - 1, lowest power first."""
    for name, fluid in FLUIDS.items():
        for quantity, quality in (("bubble", 0), ("dew", 1)):
            points = numpy.array(list(pressures(name, fluid, quality)))
            place = 273.15 / (273.15 + points[:, 0]) - 1
            polynomial = numpy.polynomial.polynomial
            found = polynomial.polyfit(place, numpy.log(points[:, 1]), DEGREE).round(5)
            error = numpy.exp(polynomial.polyval(place, found)) / points[:, 1] - 1
            print(name, quantity, *found, f"worst {abs(error).max():.1e}")


if __name__ == "__main__":
    if "--write" in sys.argv:
        write()
    elif "--fit" in sys.argv:
        fit()
    else:
        sys.exit(compare())
