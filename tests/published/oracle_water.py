#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Compares our water and dry air on a grid with python3-iapws, an independent program of the same publications.

    /usr/bin/python3 tests/published/oracle_water.py BUILD_DIR

Water: 1 to 99 degC (not above boiling), 0.1, 0.3 and 1 MPa. IAPWS R7-97, R12-08 and R15-11 without critical enhancement are
the same equations on both sides, so 1e-9 relative is asked. The oracle adds R15-11's industrial enhancement to the
conductivity of its states; the comparison uses its bare equation.

Dry air: -40 to 150 degC; the oracle has the full equations of Lemmon 2000 and 2004, ours their low powers of density. Allowed
at room pressure and below 1e-4 relative, at 500 kPa 1e-3: the claim of src/fluid/air.c.

Ends with a line "N passed, N failed"; status 1 when any failed, 77 when python3-iapws is missing.
"""
import subprocess
import sys
import warnings
from pathlib import Path

try:
    from iapws._iapws import _ThCond, _Viscosity
    from iapws.humidAir import Air
    from iapws.iapws97 import _PSat_T, _Region1
except ImportError:
    print("python3-iapws is not installed: nothing compared")
    sys.exit(77)

warnings.filterwarnings("ignore")
NAMES = ("density", "viscosity", "heat capacity", "conductivity", "vapour pressure")


def water(t, p):
    kelvin = t + 273.15
    state = _Region1(kelvin, p / 1e6)
    rho = 1 / state["v"]
    return (rho, _Viscosity(rho, kelvin), 1e3 * state["cp"], _ThCond(rho, kelvin), 1e6 * _PSat_T(kelvin))


def air(t, p):
    state = Air(T=t + 273.15, P=p / 1e6)
    return (state.rho, state.mu, 1e3 * state.cp, state.k, 0.0)


def rows():
    for p in (1e5, 3e5, 1e6):
        for t in range(1, 100, 2):
            yield "water", float(t), p, water(t, p), 1e-9
    for p, tolerance in ((5e4, 1e-4), (101325.0, 1e-4), (5e5, 1e-3)):
        for t in range(-40, 151, 10):
            yield "air", float(t), p, air(t, p), tolerance


def main():
    if len(sys.argv) != 2:
        print("usage: oracle_water.py BUILD_DIR")
        return 2
    wanted = list(rows())
    program = next(Path(sys.argv[1]).rglob("fluid-values"))
    asked = "".join(f"{name} {t!r} {p!r}\n" for name, t, p, _, _ in wanted)
    answers = subprocess.run([program], input=asked, capture_output=True, text=True, check=True).stdout.splitlines()
    passed = failed = 0
    if len(answers) != len(wanted):
        print(f"{len(wanted)} states asked, {len(answers)} answered")
        failed += 1
    for (name, t, p, expected, tolerance), answer in zip(wanted, answers):
        if answer == "outside":
            print(f"{name} at {t} degC and {p} Pa: said to be outside its range")
            failed += 1
            continue
        for what, mine, other in zip(NAMES, map(float, answer.split()), expected):
            if abs(mine - other) <= tolerance * abs(other):
                passed += 1
            else:
                print(f"{name} at {t} degC and {p} Pa: {what} {mine!r}, oracle {other!r}, "
                      f"off by {abs(mine - other) / (abs(other) or 1):.2g}, allowed {tolerance:g}")
                failed += 1
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
