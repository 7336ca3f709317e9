# SPDX-License-Identifier: GPL-3.0-or-later
"""Rival: what a builder who knows Python would write for the small loop. Unknowns are the flows of the three branches; each
must see the same pressure difference as the pump leaves to it. scipy.optimize.fsolve (MINPACK hybrd, finite differences).

Started by the benchmark with the loop as JSON. Reads lines `scenario count` and answers `seconds-of-one flow flow ...`:
the processor time is taken in here, so that starting Python and reading lines cost the script nothing."""
import json
import math
import sys
import time

from scipy.optimize import fsolve

LITRE_MIN = 1 / 6e4

with open(sys.argv[1]) as file:
    LOOP = json.load(file)
RHO, MU = LOOP["density"], LOOP["viscosity"]
SHUT_OFF, FREE_FLOW, SHARE = LOOP["pump"]


def churchill(re):
    """f Re^2 of a smooth tube."""
    if re < 500:
        return 64 * re
    a = (2.457 * math.log((re / 7) ** 0.9)) ** 16
    b = (37530 / re) ** 16
    return 8 * re * re * ((8 / re) ** 12 + (a + b) ** -1.5) ** (1 / 12)


def prepare(section):
    """Tubes of a section by bore, the quadratic laws added up, the power laws."""
    tubes, linear, square, powers = {}, 0.0, 0.0, []
    for kind, a, b in section:
        if kind == "tube":
            tubes[a] = tubes.get(a, 0.0) + b
        elif kind == "quadratic":
            linear, square = linear + a, square + b
        elif kind == "power":
            powers.append((a, b))
    tubes = [(4 * RHO / (math.pi * bore * MU), MU * MU / (2 * RHO * bore * bore) * length / bore)
             for bore, length in tubes.items()]
    return tubes, linear, square, powers


SECTIONS = [prepare(section) for section in LOOP["sections"]]


def drop(section, q):
    tubes, linear, square, powers = section
    size = abs(q)
    value = linear * size + square * size * size
    for per_re, factor in tubes:
        value += factor * churchill(per_re * size)
    for r, n in powers:
        value += r * size ** n
    return math.copysign(value, q)


def residuals(x, ratio):
    flows = [value * LITRE_MIN for value in x]
    total = sum(flows)
    u = total / FREE_FLOW
    left = SHUT_OFF * (ratio * ratio - SHARE * ratio * u - (1 - SHARE) * u * abs(u)) - drop(SECTIONS[0], total)
    return [(left - drop(section, q)) / 1e4 for section, q in zip(SECTIONS[1:], flows)]


def solve(guess, ratio):
    x, _, status, text = fsolve(residuals, guess, args=(ratio,), full_output=True, xtol=1e-11)
    worst = max(abs(value) for value in residuals(x, ratio))
    if status != 1 and worst > 1e-9:
        sys.exit("the script found no solution: " + text)
    return x


COLD = [1.0, 1.0, 1.0]


def run(scenario, count):
    answer = []
    x = solve(COLD, 1.0)
    begin = time.process_time()
    if scenario == "cold":
        for _ in range(count):
            x = solve(COLD, 1.0)
    elif scenario == "warm":
        for i in range(count):
            x = solve(x, 0.98 if i % 2 == 0 else 1.0)
    else:
        for _ in range(count):
            answer = []
            x = COLD
            for i in range(100):
                x = solve(x, 0.4 + 0.6 * i / 99)
                answer.append(sum(x) * LITRE_MIN)
    seconds = (time.process_time() - begin) / count
    return seconds, answer or [value * LITRE_MIN for value in [sum(x), *x]]


print("ready", flush=True)
for line in sys.stdin:
    name, times = line.split()
    took, flows = run(name, int(times))
    print(took, *(f"{flow:.17g}" for flow in flows), flush=True)
