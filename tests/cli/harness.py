# SPDX-License-Identifier: GPL-3.0-or-later
"""Running the program and comparing what it did."""
import csv
import io
import json
import os
import pathlib
import subprocess
import tempfile


class Run:
    """What one run of the program left behind."""

    def __init__(self, arguments, status, out, err):
        self.arguments, self.status, self.out, self.err = arguments, status, out, err

    def __str__(self):
        return f"{' '.join(self.arguments)}: status {self.status}\n--- out\n{self.out[:800]}\n--- err\n{self.err[:800]}"


def same(found, wanted, what):
    if found != wanted:
        raise AssertionError(f"{what}: found {found!r}, wanted {wanted!r}")


def near(found, wanted, relative, what):
    if not abs(found - wanted) <= relative * abs(wanted):
        raise AssertionError(f"{what}: found {found!r}, wanted {wanted!r} within {relative:g}")


def true(condition, what):
    if not condition:
        raise AssertionError(str(what))


def strict_json(text):
    """JSON without NaN and Infinity, which Python would take."""

    def refuse(word):
        raise AssertionError(f"{word} in JSON")

    return json.loads(text, parse_constant=refuse)


def rows(text):
    return list(csv.DictReader(io.StringIO(text), strict=True))


class Harness:
    def __init__(self, program, here):
        self.program, self.here = program, here
        self.root = here.parents[1]
        self.small = "loops/small.yaml"
        self.tees = "loops/tees.yaml"
        self.none = "loops/none.yaml"

    def run(self, *arguments, cwd=None, environment=None, **streams):
        # A program that is wrong could replace a device, and for the superuser nothing would stop it.
        assert not any("/dev/" in str(argument) for argument in arguments), "no case may name a device"
        env = {"PATH": os.environ.get("PATH", ""), "HEADRACE_MODELS": str(self.root / "models"), "TERM": "xterm"}
        for name in ("ASAN_OPTIONS", "UBSAN_OPTIONS", "LSAN_OPTIONS"):
            if name in os.environ:
                env[name] = os.environ[name]
        env.update(environment or {})
        env = {name: value for name, value in env.items() if value is not None}
        streams.setdefault("stdout", subprocess.PIPE)
        streams.setdefault("stderr", subprocess.PIPE)
        done = subprocess.run([str(self.program), *arguments], cwd=cwd or self.here, env=env,
                              stdin=subprocess.DEVNULL, timeout=120, **streams)
        out = done.stdout.decode("utf-8") if done.stdout is not None else ""
        err = done.stderr.decode("utf-8", "replace") if done.stderr is not None else ""
        return Run([str(a) for a in arguments], done.returncode, out, err)

    def expect(self, status, *arguments, out=None, err=None, **more):
        """Runs and checks the exit status, and that texts are among the output or the messages."""
        run = self.run(*arguments, **more)
        true(run.status == status, f"wanted status {status}: {run}")
        for text in [out] if isinstance(out, str) else out or []:
            true(text in run.out, f"'{text}' is not in the output: {run}")
        for text in [err] if isinstance(err, str) else err or []:
            true(text in run.err, f"'{text}' is not among the messages: {run}")
        return run

    def json(self, status, *arguments, **more):
        run = self.expect(status, *arguments, **more)
        same(run.err, "", "standard error with --json")
        return strict_json(run.out)

    def folder(self):
        return tempfile.TemporaryDirectory(prefix="headrace-cli-")


def named(module, harness):
    """The functions case_* of a module as named checks."""
    found = [(name[5:].replace("_", " "), function) for name, function in vars(module).items() if name.startswith("case_")]
    return [(name, lambda function=function: function(harness)) for name, function in found]


def path(text):
    return pathlib.Path(text)
