# SPDX-License-Identifier: GPL-3.0-or-later
"""JSON: the keys that docs/results.md promises, and numbers that agree with each other."""
import math
import sys

from harness import named, near, same, true

BRANCH = {"name": str, "fluid": str, "kind": str, "from": str, "to": str, "flow_m3_s": float, "mass_flow_kg_s": float,
          "dp_pa": float, "against_arrow": bool, "stagnant": bool, "out_of_range": bool}
SOLVER = {"iterations": int, "rounds": int, "mass_residual": float, "pressure_residual": float}
WARNING = {"code": str, "file": str, "line": int, "column": int, "text": str}
KNEE = {"definition": str, "axis": str, "unit": str, "value": float, "binding": str, "reached": bool, "at_start": bool,
        "flow_m3_s": float, "rise_k": float, "best_rise_k": float}


def has(thing, keys, what):
    for key, kind in keys.items():
        true(key in thing, f"{what} lacks '{key}': {thing}")
        same(type(thing[key]), kind, f"type of '{key}' of {what}")


def by_name(things):
    return {thing["name"]: thing for thing in things}


def case_solve_has_the_promised_keys(h):
    told = h.json(0, "solve", h.small, "--json")
    same(told["title"], 'One pump, one block, "quoted", one radiator', "title")
    same(told["status"], "solved", "status")
    has(told["solver"], SOLVER, "solver")
    same(set(by_name(told["branches"])),
         {"tank", "pump", "gpu", "rad", "tank-pump", "pump-gpu", "gpu-rad", "rad-tank"}, "branches")
    for branch in told["branches"]:
        has(branch, BRANCH, branch["name"])
        same(branch["fluid"], "coolant", "fluid")
    for node in told["nodes"]:
        has(node, {"name": str, "pressure_pa": float, "height_m": float}, "node")
    has(told["totals"], {"volume_m3": float, "heat_w": float, "power_w": float}, "totals")
    same(told["totals"]["heat_w"], 320.0, "heat")
    same(told["warnings"], [], "warnings")
    tube = by_name(told["branches"])["pump-gpu"]
    has(tube, {"reynolds": float, "velocity_m_s": float, "regime": str, "head_share": float}, "a tube")


def case_every_part_is_one_entry_of_parts(h):
    parts = by_name(h.json(0, "solve", h.small, "--json")["parts"])
    same({name: part["kind"] for name, part in parts.items()},
         {"tank": "reservoir", "pump": "pump", "gpu": "block", "rad": "radiator"}, "parts")
    has(parts["pump"], {"speed_rpm": float, "head_pa": float, "shut_off_pa": float, "free_flow_m3_s": float,
                        "power_w": float, "hydraulic_w": float, "npsh_m": float, "stopped": bool}, "pump")
    same(parts["pump"]["speed_rpm"], 2400.0, "speed")
    has(parts["gpu"], {"heat_w": float, "heat_to_coolant_w": float, "resistance_k_w": float, "rise_k": float}, "gpu")
    near(parts["gpu"]["rise_k"], 320.0 * parts["gpu"]["resistance_k_w"], 1e-12, "rise")
    names = [part["name"] for part in h.json(0, "solve", h.tees, "--json")["parts"]]
    same(sorted(names), ["left", "pump", "rad", "right", "tee"], "a tee is one part")


def case_what_does_not_apply_is_absent(h):
    told = h.json(0, "solve", h.tees, "--json")
    parts = by_name(told["parts"])
    true("power_w" not in parts["pump"], "the pump's power is not known")
    true("rise_k" not in parts["right"] and "resistance_k_w" not in parts["right"], "no resistance is known")
    true("reynolds" not in by_name(told["branches"])["left"], "a block has no bore")
    stopped = h.json(0, "solve", h.small, "--json", "--set", "pump.speed=0 rpm")
    true("rise_k" not in by_name(stopped["parts"])["gpu"], "an infinite rise is absent")


def case_numbers_agree_with_each_other(h):
    for loop in (h.small, h.tees):
        told = h.json(0, "solve", loop, "--json")
        pressure = {node["name"]: node["pressure_pa"] for node in told["nodes"]}
        net = dict.fromkeys(pressure, 0.0)
        largest = max(abs(branch["flow_m3_s"]) for branch in told["branches"])
        head = max(abs(branch["dp_pa"]) for branch in told["branches"])
        for branch in told["branches"]:
            net[branch["from"]] -= branch["flow_m3_s"]
            net[branch["to"]] += branch["flow_m3_s"]
            drop = pressure[branch["from"]] - pressure[branch["to"]]
            true(abs(drop - branch["dp_pa"]) <= 1e-9 * head, f"pressures at the ends of {branch['name']}")
        for node, flow in net.items():
            true(abs(flow) <= 1e-9 * largest, f"{flow} m3/s stay at {node}")


def case_ports_of_a_tee(h):
    told = h.json(0, "solve", h.tees, "--json")
    ports = {branch["port"]: branch for branch in told["branches"] if branch["name"] == "tee"}
    same(sorted(ports), ["a", "b", "side"], "ports")
    true(ports["a"]["flow_m3_s"] > 0 > ports["b"]["flow_m3_s"], "flow is positive into the part")
    true(not any(port["against_arrow"] for port in ports.values()), "ports have no arrow")
    true(by_name(told["branches"])["right"]["against_arrow"], "a block that is fed backwards")


def case_warnings_have_code_and_place(h):
    told = h.json(0, "solve", h.tees, "--json")
    for warning in told["warnings"]:
        has(warning, WARNING, "warning")
    true({"no-reference", "against-arrow", "out-of-range"} <= {warning["code"] for warning in told["warnings"]},
         told["warnings"])


def case_full_precision(h):
    text = h.expect(0, "solve", h.small, "--json").out
    told = h.json(0, "solve", h.small, "--json")
    flow = by_name(told["branches"])["gpu"]["flow_m3_s"]
    true(f"{flow:.17g}".replace("e-05", "e-5") in text.replace("e-05", "e-5"), "17 digits")


def case_errors_in_one_go(h):
    told = h.json(1, "solve", h.small, "--json", "--set", "gpu.heat=3", "--set", "pump.speed=fast")
    same(told["status"], "error", "status")
    same(len(told["errors"]), 2, "errors")
    for error in told["errors"]:
        has(error, WARNING, "error")


def case_file_name_that_is_no_utf8(h):
    told = h.json(1, "solve", b"\xff\xfe.yaml", "--json")
    true(told["errors"][0]["file"].startswith("\ufffd\ufffd"), told)


def case_sweep_has_the_promised_keys(h):
    told = h.json(0, "sweep", h.small, "pump.speed=800..4800:400", "--json")
    same(told["axes"], [{"name": "pump.speed", "unit": "rpm", "values": [800.0 + 400.0 * i for i in range(11)]}], "axes")
    same([point["at"] for point in told["points"]], [[value] for value in told["axes"][0]["values"]], "points")
    same([knee["definition"] for knee in told["knees"]], ["enough", "bend", "per-100-rpm"], "knees")
    for knee in told["knees"]:
        has(knee, KNEE, "knee")
        same((knee["axis"], knee["binding"]), ("pump.speed", "gpu"), "axis and binding")
        true(800.0 <= knee["value"] <= 4800.0, "in the range")
    near(told["knees"][0]["rise_k"], told["knees"][0]["best_rise_k"] + 1.0, 1e-5, "enough is 1 K above the best")


def case_point_of_a_sweep_is_that_of_solve(h):
    told = h.json(0, "sweep", h.small, "pump.speed=1000..3000:1000", "--json")
    for point in told["points"]:
        alone = h.json(0, "solve", h.small, "--json", "--set", f"pump.speed={point['at'][0]:g} rpm")
        same(set(point) - {"at"}, set(alone), "keys")
        for a, b in zip(point["branches"], alone["branches"]):
            same(a["name"], b["name"], "name")
            near(a["flow_m3_s"], b["flow_m3_s"], 1e-9, f"flow of {a['name']} at {point['at']}")


def case_sweep_over_two_axes(h):
    told = h.json(0, "sweep", h.small, "pump.speed=1000..3000:1000", "gpu.heat=100..400:150 W", "--json")
    same([axis["unit"] for axis in told["axes"]], ["rpm", "W"], "units")
    same([point["at"] for point in told["points"]],
         [[s, w] for s in (1000.0, 2000.0, 3000.0) for w in (100.0, 250.0, 400.0)], "order of the points")
    same(told["knees"], [], "knees")
    true(told["no_knee"], "why there is no knee")
    for point in told["points"]:
        same(by_name(point["parts"])["gpu"]["heat_w"], point["at"][1], "heat")


def case_sweep_without_any_result(h):
    told = h.json(3, "sweep", h.none, "ambient.temperature=10..30:10 degC", "--json")
    same(told["status"], "no_solution", "status")
    same([point["status"] for point in told["points"]], ["no_solution"] * 3, "points")
    h.expect(3, "sweep", h.none, "ambient.temperature=10..30:10 degC", err="no solution exists")


def case_state_and_set_reach_the_result(h):
    told = h.json(0, "solve", h.small, "--json", "--state", "idle", "--set", "gpu.heat=20 W")
    same(told["state"], "idle", "state")
    parts = by_name(told["parts"])
    same((parts["gpu"]["heat_w"], parts["pump"]["speed_rpm"]), (20.0, 1200.0), "--set goes over the state")


def keys_of(thing):
    if isinstance(thing, dict):
        for key, value in thing.items():
            yield key
            yield from keys_of(value)
    elif isinstance(thing, list):
        for value in thing:
            yield from keys_of(value)


def case_every_key_is_documented(h):
    page = (h.root / "docs" / "results.md").read_text()
    outputs = [["solve", h.small, "--state", "idle"], ["solve", h.tees], ["solve", h.small, "--state", "all"],
               ["sweep", h.small, "pump.speed=800..4800:400"], ["sweep", h.small, "pump.speed=800..1200:400", "gpu.heat=1..2:1 W"],
               ["parts"], ["parts", "tee"], ["parts", "pump-can-18"], ["parts", "rad-240-slim"]]
    found = {key for arguments in outputs for key in keys_of(h.json(0, *arguments, "--json"))}
    found |= set(keys_of(h.json(3, "solve", h.none, "--json"))) | set(keys_of(h.json(2, "--json")))
    true(len(found) > 80, f"only {len(found)} keys")
    same(sorted(key for key in found if f"`{key}`" not in page), [], "keys that docs/results.md does not name")
    columns = h.expect(0, "solve", h.small, "--csv").out.split("\n")[0].split(",")
    table = page[page.index("## CSV of solve"):page.index("## CSV of sweep")]
    same([column for column in columns if f"`{column}`" not in table], [], "columns that docs/results.md does not name")


def case_examples_solve(h):
    files = sorted((h.root / "examples").rglob("*.yaml"))
    true(len(files) > 3, "examples are there")
    for file in files:
        told = h.json(0, "solve", str(file), "--json")
        same(told["status"], "solved", str(file))
        for key in ("mass_residual", "pressure_residual"):
            true(told["solver"][key] <= 1e-9 and math.isfinite(told["solver"][key]), f"{key} of {file}: {told['solver']}")


def cases(harness):
    return named(sys.modules[__name__], harness)
