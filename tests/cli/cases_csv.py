# SPDX-License-Identifier: GPL-3.0-or-later
"""CSV reads back and says what JSON says."""
import csv
import io
import sys

from harness import named, rows, same, true


def case_solve_is_the_table_of_branches(h):
    for loop in (h.small, h.tees):
        table = rows(h.expect(0, "solve", loop, "--csv").out)
        told = h.json(0, "solve", loop, "--json")
        same([row["name"] for row in table], [branch["name"] for branch in told["branches"]], "rows")
        pressure = {node["name"]: node["pressure_pa"] for node in told["nodes"]}
        for row, branch in zip(table, told["branches"]):
            for key in ("flow_m3_s", "mass_flow_kg_s", "dp_pa", "head_share", "reynolds", "velocity_m_s"):
                same(float(row[key]) if row[key] else None, branch.get(key), f"{key} of {row['name']}")
            same(row["against_arrow"], "true" if branch["against_arrow"] else "false", "against_arrow")
            same(row["port"], branch.get("port", ""), "port")
            same(float(row["inlet_pressure_pa"]), pressure[branch["from"]], "inlet pressure")
    gpu = next(row for row in rows(h.expect(0, "solve", h.small, "--csv").out) if row["name"] == "gpu")
    part = next(part for part in h.json(0, "solve", h.small, "--json")["parts"] if part["name"] == "gpu")
    same((float(gpu["heat_w"]), float(gpu["rise_k"])), (part["heat_w"], part["rise_k"]), "chip")


def case_every_row_is_as_long_as_the_header(h):
    for arguments in (["solve", h.tees], ["sweep", h.tees, "pump.speed=2400..4800:400"],
                      ["sweep", h.small, "pump.speed=800..1600:400", "gpu.heat=100..200:50 W"]):
        lengths = {len(row) for row in csv.reader(io.StringIO(h.expect(0, *arguments, "--csv").out), strict=True)}
        same(len(lengths), 1, f"lengths of the rows of {arguments}: {lengths}")


def case_sweep_is_the_table_of_points(h):
    arguments = ["sweep", h.small, "pump.speed=800..2400:400", "gpu.heat=100..200:50 W"]
    table = rows(h.expect(0, *arguments, "--csv").out)
    points = h.json(0, *arguments, "--json")["points"]
    same(len(table), len(points), "rows")
    for row, point in zip(table, points):
        same([float(row["pump.speed_rpm"]), float(row["gpu.heat_W"])], point["at"], "axes")
        for branch in point["branches"]:
            same(float(row[branch["name"] + ".flow_m3_s"]), branch["flow_m3_s"], branch["name"])
            same(float(row[branch["name"] + ".dp_pa"]), branch["dp_pa"], branch["name"])
        gpu = next(part for part in point["parts"] if part["name"] == "gpu")
        same(float(row["gpu.rise_k"]), gpu["rise_k"], "rise")


def case_headers_are_unique(h):
    for arguments in (["solve", h.small], ["sweep", h.small, "pump.speed=800..1600:400"], ["sweep", h.tees, "pump.speed=800..1600:400"]):
        header = h.expect(0, *arguments, "--csv").out.split("\n")[0].split(",")
        same(len(set(header)), len(header), f"names in {header}")
        true(all(header), "no empty name")


def case_states_share_one_header(h):
    table = rows(h.expect(0, "solve", h.small, "--state", "all", "--csv").out)
    same([row["state"] for row in table], ["idle"] * 8 + ["game"] * 8, "states")


def cases(harness):
    return named(sys.modules[__name__], harness)
