#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Compares our laws on grids with python3-fluids, an independent library of the same publications (MIT licence).

    /usr/bin/python3 tests/published/oracle_fluids.py BUILD_DIR

Both sides code the same formulas, so 1e-9 relative is asked (Colebrook's root 1e-8; Swamee and Jain 3e-6, for the library
writes (6.97/Re)^0.9 instead of 5.74/Re^0.9; tee steps of Crane's constants are left out,
for ours are spread over +-0.02 of the share). Ends with a line "N passed, N failed"; status 1 when any failed, 77 when
python3-fluids is missing.
"""
import math
import subprocess
import sys
from pathlib import Path

try:
    import fluids
    from fluids.fittings import (K_branch_converging_Crane, K_branch_diverging_Crane, K_run_converging_Crane,
                                 K_run_diverging_Crane, bend_rounded_Ito)
    from fluids.flow_meter import C_Reader_Harris_Gallagher
    from fluids.friction import (Churchill_1977, Colebrook, Haaland, Swamee_Jain_1976, helical_laminar_fd_White,
                                 helical_turbulent_fd_Mori_Nakayama)
except ImportError:
    print("python3-fluids is not installed: nothing compared")
    sys.exit(77)


def decades(low, high, count):
    return [10 ** (low + (high - low) * i / (count - 1)) for i in range(count)]


def friction_cases():
    for rough in (0.0, 1e-6, 1e-4, 3e-3, 0.05):
        for re in decades(0.5, 8, 60):
            yield "churchill", (re, rough, 0, 0), Churchill_1977(re, rough), 1e-9
        for re in decades(math.log10(4000), 8, 40):
            yield "colebrook", (re, rough, 0, 0), Colebrook(re, rough, tol=0), 1e-8
            yield "haaland", (re, rough, 0, 0), Haaland(re, rough), 1e-9
            yield "swamee-jain", (re, rough, 0, 0), Swamee_Jain_1976(re, rough), 3e-6


def curved_cases():
    for ratio in (0.001, 0.02, 0.1, 0.3):
        for re in decades(0.5, 6, 40):
            laminar = helical_laminar_fd_White(re, ratio, 1.0)
            turbulent = helical_turbulent_fd_Mori_Nakayama(re, ratio, 1.0)
            yield "curved", (re, ratio, 0, 0), (laminar**12 + turbulent**12) ** (1 / 12), 1e-9


def orifice_cases():
    for name, taps in (("corner", "corner"), ("d", "D"), ("flange", "flange")):
        for pipe in (0.05, 0.08, 0.3):
            for share in (0.1, 0.33, 0.56, 0.75):
                for re in decades(4, 7, 7):
                    mass = re * math.pi * pipe * 1e-3 / 4
                    yield name, (re, pipe, share, 0), C_Reader_Harris_Gallagher(
                        D=pipe, Do=share * pipe, rho=1000.0, mu=1e-3, m=mass, taps=taps), 1e-9


def bend_cases():
    for ratio in (1.0, 1.5, 3.0, 6.0, 12.0):
        start = max(360 * ratio**2, 6000) * 1.0001
        for angle in (30.0, 45.0, 90.0, 120.0, 180.0):
            for re in decades(math.log10(start), 6.5, 8):
                yield "bend", (re, 0.01, ratio, angle), bend_rounded_Ito(0.01, angle, re, rc=0.01 * ratio), 1e-9


def tee_cases():
    for beta in (0.5, 0.65, 0.9, 1.0):
        for angle in (30.0, 45.0, 60.0, 90.0):
            for i in range(3, 98):
                y = i / 100
                if min(abs(y - 0.4), abs(y - 0.6)) <= 0.021:
                    continue
                arguments = (1.0, beta, 1 - y, y, angle)
                yield "tee", (y, beta, angle, 0), K_branch_converging_Crane(*arguments), 1e-9
                yield "tee", (y, beta, angle, 1), K_run_converging_Crane(*arguments), 1e-9
                yield "tee", (-y, beta, angle, 0), K_branch_diverging_Crane(*arguments), 1e-9
                yield "tee", (-y, beta, angle, 1), K_run_diverging_Crane(*arguments), 1e-9


def main():
    if len(sys.argv) != 2:
        sys.exit("usage: oracle_fluids.py BUILD_DIR")
    found = sorted(Path(sys.argv[1]).rglob("law-values"))
    programs = [path for path in found if path.is_file()]
    if not programs:
        sys.exit(f"no program law-values below {sys.argv[1]}; build first")
    cases = [*friction_cases(), *curved_cases(), *orifice_cases(), *bend_cases(), *tee_cases()]
    lines = "".join(f"{law} {' '.join(repr(float(x)) for x in xs)}\n" for law, xs, _, _ in cases)
    answers = subprocess.run([programs[0]], input=lines, text=True, capture_output=True, check=True).stdout.split()
    if len(answers) != len(cases):
        sys.exit(f"asked {len(cases)} values, got {len(answers)}")
    failed = 0
    for (law, xs, expected, tolerance), text in zip(cases, answers):
        got = float(text)
        if not abs(got - expected) <= tolerance * abs(expected) + 1e-13:
            failed += 1
            if failed <= 20:
                print(f"{law} {xs}: got {got:.12g}, python3-fluids {fluids.__version__} has {expected:.12g}")
    print(f"{len(cases) - failed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
