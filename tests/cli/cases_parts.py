# SPDX-License-Identifier: GPL-3.0-or-later
"""The library of parts."""
import sys

from harness import named, near, path, same, true


def case_list_names_every_model_file(h):
    files = sorted(file.stem for file in (h.root / "models").glob("*.yaml"))
    told = h.json(0, "parts", "--json")["parts"]
    same(sorted(part["name"] for part in told), files, "names")
    text = h.expect(0, "parts").out
    for part in told:
        true(f"  {part['name']} " in text, part["name"])
        true(part["kind"] and part["summary"] and part["source"], part)


def case_every_part_explains_itself(h):
    for name in [part["name"] for part in h.json(0, "parts", "--json")["parts"]]:
        text = h.expect(0, "parts", name).out
        true(text.startswith(name + " (") and "source:" in text and "against flow" in text, text[:200])
        told = h.json(0, "parts", name, "--json")
        true(told["values"] and told["curves"], f"{name} has values and curves")
        true(all(value["help"] for value in told["values"]), f"every value of {name} has a line of help")
        for curve in told["curves"]:
            true(curve["points"] or curve["remark"], f"points of {name}")


def case_pump_shows_its_curve(h):
    with h.folder() as folder:
        file = path(folder) / "pump.yaml"
        file.write_text("kind: pump\nsummary: of this test\nsource: invented\n"
                        "curve: {speed: 4800 rpm, shut_off: 5.2 m, free_flow: 15 L/min, linear_share: 0.35}\n")
        told = h.json(0, "parts", str(file), "--json")
    points = told["curves"][0]["points"]
    weight = told["curves"][0]["density_kg_m3"] * 9.80665
    near(points[0]["head_pa"], 5.2 * weight, 1e-9, "head at no flow")
    for point in points:
        x = point["flow_m3_s"] / (15.0 / 60e3)
        true(abs(point["head_pa"] - 5.2 * weight * (1 - 0.35 * x - 0.65 * x * x)) < 1e-6 * weight, point)
    near(points[-1]["flow_m3_s"], 15.0 / 60e3, 1e-12, "ends at the free flow")
    values = {value["key"]: value for value in told["values"]}
    same((values["curve.shut_off"]["value"], values["curve.shut_off"]["unit"]), (5.2, "m"), "shut-off")


def case_block_marks_flows_out_of_range(h):
    with h.folder() as folder:
        file = path(folder) / "block.yaml"
        file.write_text("kind: block\nsummary: of this test\nsource: invented\nlaw: {linear: 1e7, square: 3e11}\n"
                        "range: {flow_min: 1.5 L/min, flow_max: 6 L/min}\n")
        told = h.json(0, "parts", str(file), "--json")
        text = h.expect(0, "parts", str(file)).out
        h.expect(0, "parts", str(file), "--units", "gpm,psi", out=["gpm", "psi"])
    points = told["curves"][0]["points"]
    for point in points:
        q = point["flow_m3_s"]
        near(point["dp_pa"], 1e7 * q + 3e11 * q * q, 1e-9, "law")
        same(point["out_of_range"], not 1.5 / 60e3 * 0.999 <= q <= 6 / 60e3 * 1.001, f"mark at {q}")
    true(points[0]["out_of_range"] and points[-1]["out_of_range"], "marks on both sides")
    true("it holds for: flow 1.5 L/min to 6 L/min" in text and "*" in text, text)


def case_unknown_part_offers_the_nearest(h):
    name = h.json(0, "parts", "--json")["parts"][0]["name"]
    h.expect(1, "parts", name + "x", err=f"did you mean '{name}'?")
    told = h.json(1, "parts", "no-such-thing-at-all", "--json")
    same(told["errors"][0]["code"], "unknown-model", "code")


def case_broken_model_is_named(h):
    with h.folder() as folder:
        (path(folder) / "good.yaml").write_text("kind: block\nzeta: 3\nbore: 8 mm\n")
        (path(folder) / "wrong.yaml").write_text("kind: block\nzetta: 3\n")
        h.expect(1, "parts", "--models", folder, err=f"{folder}/wrong.yaml:2:1: ")


def case_empty_library(h):
    with h.folder() as folder:
        h.expect(1, "parts", "--models", folder, err="there are no parts in")


def cases(harness):
    return named(sys.modules[__name__], harness)
