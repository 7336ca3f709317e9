# SPDX-License-Identifier: GPL-3.0-or-later
"""One wrong thing a file: the exact message and its place."""
import re

from harness import same, strict_json, true


def check(harness, expected):
    # The table writes a fault of the file as a whole without a place; the program gives it the first one.
    lines = [re.sub(r"^([^: ]+\.yaml): ", r"\1:1:1: ", line) for line in expected.read_text().rstrip("\n").split("\n")]
    run = harness.run("solve", expected.stem + ".yaml", cwd=expected.parent)
    same(run.status, int(lines[0]), "exit status")
    same(run.err.rstrip("\n").split("\n"), lines[1:], "messages")
    same(run.out, "", "standard output")
    # The same as JSON: the same places and texts.
    run = harness.run("solve", "--json", expected.stem + ".yaml", cwd=expected.parent)
    same(run.status, int(lines[0]), "exit status with --json")
    told = strict_json(run.out)
    same(told["status"], "error", "status")
    true(all(error["code"] for error in told["errors"]), "every error has a code")
    same([f"{e['file']}:{e['line']}:{e['column']}: {e['text']}" for e in told["errors"]],
         [line for line in lines[1:] if ": warning: " not in line], "errors as JSON")


def cases(harness):
    found = sorted((harness.here / "broken").glob("*.expected"))
    assert len(found) > 50, "the table of broken files is not where it should be"
    return [("broken " + path.stem, lambda path=path: check(harness, path)) for path in found]
