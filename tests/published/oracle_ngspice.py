#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Solves networks with ngspice and with scipy, two programs that share nothing with ours, and compares all flows.

    /usr/bin/python3 tests/published/oracle_ngspice.py BUILD_DIR

For ngspice flows are currents and pressures voltages, in units of 1e-4 m3/s and 1e4 Pa: each branch is a nonlinear current
source with an ammeter in series, the inverse of its law -head + linear q + square q|q|; a one-way valve is a voltage source
with a resistance of 1e9 backwards. scipy.optimize.root gets the balance of the nodes and its Jacobian, written here anew.

Allowed: 1e-6 of the largest flow of the network. Ends with a line "N passed, N failed"; status 1 when any failed, 77 when
ngspice is missing.
"""
import math
import random
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

FLOW, PRESSURE = 1e-4, 1e4
TOLERANCE = 1e-6
BACKWARDS = 1e9  # resistance of a valve against its arrow


class Network:
    """In the units above. Branches: (kind, from, to, head, linear, square) or ("given", from, to, flow)."""

    def __init__(self, name, nodes):
        self.name, self.nodes, self.fixed, self.inflow, self.branches = name, nodes, {}, {}, []

    def law(self, a, b, square, head=0.0, linear=None, kind="law"):
        self.branches.append((kind, a, b, head, 0.01 * square if linear is None else linear, square))


def bridge():
    net = Network("bridge", 4)
    for a, b, square in ((0, 1, 1.0), (1, 3, 5.0), (0, 2, 5.0), (2, 3, 1.0), (1, 2, 1.3)):
        net.law(a, b, square)
    net.fixed[3] = 0.0
    net.inflow[0] = 2.7
    return net


def two_pumps():
    """Each behind a one-way valve; the second is too weak to open its own."""
    net = Network("two pumps with one-way valves", 5)
    net.law(0, 1, 0.4, head=3.1)
    net.law(1, 3, 0.7, kind="valve")
    net.law(0, 2, 0.3, head=1.2)
    net.law(2, 3, 0.7, kind="valve")
    net.law(3, 4, 0.9)
    net.law(4, 0, 1.7)
    net.fixed[0] = 0.5
    return net


def two_strong_pumps():
    net = two_pumps()
    net.name = "two pumps, both valves open"
    net.branches[2] = ("law", 0, 2, 2.9, 0.003, 0.3)
    return net


def blocks():
    net = Network("parallel blocks", 5)
    net.law(0, 1, 0.31, head=3.5, linear=0.2)
    for square in (2.3, 3.9, 17.0):
        net.law(1, 2, square, linear=0.6)
    net.law(2, 3, 0.8)
    net.law(3, 0, 0.15, linear=0.2)
    net.law(3, 4, 5.0)  # a dead end
    net.fixed[0] = 0.0
    return net


def ten_pipes():
    """The ten-pipe sheet with its first losses as square laws, 100 L/s and 10 m as units."""
    net = Network("ten pipes", 8)
    for a, b, flow, loss in (
        (0, 1, 2.0, 0.795), (0, 7, 1.0, 0.434), (1, 2, 1.2, 0.994), (7, 4, 1.0, 1.662), (1, 3, 0.8, 1.247),
        (2, 5, 0.7, 0.958), (3, 5, 0.3, 0.065), (4, 2, 0.5, 0.787), (4, 6, 0.5, 0.494), (5, 6, 1.0, 3.111),
    ):
        net.law(a, b, loss / flow**2, linear=1e-4)
    net.fixed[0] = 0.0
    net.inflow.update({3: -0.5, 2: -1.0, 6: -1.5})
    return net


def manifold(trays=24):
    """A rack: supply and return manifolds, a tray between each pair of tappings, unequal trays, a pump below."""
    net = Network("manifold of 24 trays", 2 * trays + 1)
    net.law(0, 1, 0.002, head=5.2, linear=0.01)
    for i in range(trays):
        supply, back = 1 + i, 1 + trays + i
        net.law(supply, back, 6.0 + 2.9 * math.sin(1.7 * i), linear=0.9)
        if i + 1 < trays:
            net.law(supply, supply + 1, 0.004, linear=0.002)
            net.law(back + 1, back, 0.004, linear=0.002)
    net.law(1 + trays, 0, 0.01, linear=0.004)
    net.fixed[0] = 1.0
    return net


def given_flow():
    net = Network("ideal pump", 4)
    net.branches.append(("given", 0, 1, 1.73))
    net.law(1, 2, 1.1)
    net.law(1, 3, 0.7, head=0.9)
    net.law(2, 3, 2.1)
    net.law(3, 0, 0.6)
    net.law(2, 0, 1.9)
    net.fixed[0] = 0.0
    return net


def at_random(seed, nodes=14, extra=14):
    draw = random.Random(seed)
    net = Network(f"random, seed {seed}", nodes)
    for k in range(nodes - 1 + extra):
        a, b = (draw.randrange(k + 1), k + 1) if k < nodes - 1 else draw.sample(range(nodes), 2)
        net.law(a, b, 10 ** draw.uniform(-1.5, 1.5), head=draw.uniform(0.5, 4) if k % 5 == 0 else 0.0)
    net.fixed[draw.randrange(nodes)] = 0.0
    net.inflow[draw.randrange(nodes)] = 0.4
    return net


def by_headrace(program, net):
    lines = [f"nodes {net.nodes}"]
    lines += [f"fixed {i} {p * PRESSURE!r}" for i, p in net.fixed.items()]
    lines += [f"inflow {i} {q * FLOW!r}" for i, q in net.inflow.items()]
    for kind, a, b, *numbers in net.branches:
        if kind == "given":
            lines.append(f"given {a} {b} {numbers[0] * FLOW!r}")
        else:
            head, linear, square = numbers
            lines.append(f"{kind} {a} {b} {head * PRESSURE!r} {linear * PRESSURE / FLOW!r} "
                         f"{square * PRESSURE / FLOW**2!r}")
    answer = subprocess.run([program], input="\n".join(lines) + "\n", capture_output=True, text=True, check=True)
    return [float(word) / FLOW for word in answer.stdout.split()]


def by_ngspice(net):
    def node(i):
        return f"n{i}"

    lines = [f"* {net.name}"]
    lines += [f"vfix{i} {node(i)} 0 dc {p!r}" for i, p in net.fixed.items()]
    lines += [f"iin{i} 0 {node(i)} dc {q!r}" for i, q in net.inflow.items()]
    for k, (kind, a, b, *numbers) in enumerate(net.branches):
        lines.append(f"vm{k} {node(a)} m{k} dc 0")
        if kind == "given":
            lines.append(f"ib{k} m{k} {node(b)} dc {numbers[0]!r}")
            continue
        head, linear, square = numbers
        u = f"(v(m{k})-v({node(b)})+({head!r}))"
        flow = f"2*{u}/({linear!r}+sqrt({linear!r}*{linear!r}+4*{square!r}*abs({u})))"
        if kind == "valve":
            i = f"i(vm{k})"
            lines.append(f"bb{k} m{k} {node(b)} v = {i}>0 ? {linear!r}*{i}+{square!r}*{i}*{i}-({head!r}) "
                         f": {BACKWARDS!r}*{i}-({head!r})")
            continue
        lines.append(f"bb{k} m{k} {node(b)} i = {flow}")
    lines.append(".options reltol=1e-11 abstol=1e-15 vntol=1e-13 gmin=1e-18 itl1=5000")
    lines += [".control", "op", "set numdgt=15"] + [f"print i(vm{k})" for k in range(len(net.branches))]
    lines += ["quit", ".endc", ".end"]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "network.cir"
        path.write_text("\n".join(lines) + "\n")
        output = subprocess.run(["ngspice", "-b", path], capture_output=True, text=True, check=False).stdout
    found = {int(k): float(value) for k, value in re.findall(r"^i\(vm(\d+)\) = (\S+)", output, re.M)}
    if len(found) != len(net.branches):
        raise RuntimeError("ngspice gives no operating point:\n" + output[-1500:])
    return [found[k] for k in range(len(net.branches))]


def by_scipy(net):
    import numpy
    from scipy.optimize import root

    free = [i for i in range(net.nodes) if i not in net.fixed]
    place = {i: k for k, i in enumerate(free)}

    def pressure(x, i):
        return net.fixed[i] if i in net.fixed else x[place[i]]

    def flow(x, branch):
        kind, a, b, *numbers = branch
        if kind == "given":
            return numbers[0], 0.0
        head, linear, square = numbers
        u = pressure(x, a) - pressure(x, b) + head
        if kind == "valve" and u <= 0:
            return u / BACKWARDS, 1 / BACKWARDS
        width = math.sqrt(linear * linear + 4 * square * abs(u))
        return 2 * u / (linear + width), 1 / width

    def balance(x):
        sums = numpy.array([net.inflow.get(i, 0.0) for i in free])
        matrix = numpy.zeros((len(free), len(free)))
        for branch in net.branches:
            q, slope = flow(x, branch)
            for i, sign in ((branch[1], -1), (branch[2], 1)):
                if i in place:
                    sums[place[i]] += sign * q
                    for j, other in ((branch[1], 1), (branch[2], -1)):
                        if j in place:
                            matrix[place[i], place[j]] += sign * other * slope
        return sums, matrix

    best = None
    for method in ("hybr", "lm"):
        for start in (0.0, 1.0):
            x0 = [start * (1 + 0.01 * k) for k in range(len(free))]
            answer = root(balance, x0, jac=True, method=method, options={"xtol": 1e-15})
            size = numpy.abs(answer.fun).max()
            if best is None or size < best[0]:
                best = (size, answer.x)
    if best[0] > 1e-9:
        raise RuntimeError(f"scipy finds no root, balance {best[0]:g}")
    return [flow(best[1], branch)[0] for branch in net.branches]


def main():
    if len(sys.argv) != 2:
        print("usage: oracle_ngspice.py BUILD_DIR")
        return 2
    if shutil.which("ngspice") is None:
        print("ngspice is not installed: nothing compared")
        return 77
    program = next(Path(sys.argv[1]).rglob("network-values"))
    oracles = {"ngspice": by_ngspice}
    try:
        import scipy.optimize  # noqa: F401
        oracles["scipy"] = by_scipy
    except ImportError:
        print("scipy is not installed: ngspice alone compared")
    networks = [bridge(), two_pumps(), two_strong_pumps(), blocks(), ten_pipes(), manifold(), given_flow()]
    networks += [at_random(seed) for seed in (3, 17, 29)]
    passed = failed = 0
    for net in networks:
        mine = by_headrace(program, net)
        largest = max(map(abs, mine))
        for name, oracle in oracles.items():
            try:
                other = oracle(net)
            except RuntimeError as error:
                print(f"{net.name}: {error}")
                failed += 1
                continue
            worst = max(abs(a - b) for a, b in zip(mine, other, strict=True)) / largest
            good = worst <= TOLERANCE
            passed, failed = passed + good, failed + (not good)
            print(f"{net.name}: {len(mine)} flows, {name} differs by {worst:.1e} of the largest"
                  f"{'' if good else ': TOO MUCH'}")
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
