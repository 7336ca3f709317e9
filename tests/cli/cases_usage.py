# SPDX-License-Identifier: GPL-3.0-or-later
"""The command line itself."""
import sys

from harness import named, same, strict_json, true

LATER = ["compare", "routes", "worth", "tune", "soak", "logs", "fit", "draw", "report", "live"]


def case_no_command(h):
    run = h.expect(2, err="headrace: name a command, such as headrace solve FILE; 'headrace --help' lists them\n")
    same(run.out, "", "output")


def case_unknown_command_offers_the_nearest(h):
    h.expect(2, "slove", h.small, err="headrace: there is no command 'slove'; did you mean 'solve'?\n")
    h.expect(2, "chekc", h.small, err="did you mean 'check'?")
    h.expect(2, "frobnicate", err="'headrace --help' lists them")


def case_unknown_option_offers_the_nearest(h):
    h.expect(2, "solve", h.small, "--unit", "gpm", err="headrace: there is no option '--unit'; did you mean '--units'?\n")
    h.expect(2, "solve", h.small, "--frobnicate", err="there is no option '--frobnicate'")
    h.expect(2, "solve", h.small, "-x", err="there is no option '-x'")


def case_commands_of_later_steps_say_so(h):
    for command in LATER:
        run = h.expect(2, command, h.small, "--without", "gpu")
        same(run.err, f"headrace: the command {command} is not there yet; 'headrace --help' shows which are\n", command)


def case_missing_and_surplus_arguments(h):
    h.expect(2, "solve", err="solve needs a loop file: headrace solve FILE [options]")
    h.expect(2, "check", err="check needs a loop file")
    h.expect(2, "sweep", h.small, err="sweep needs a loop file and one range or two, such as pump.speed=800..4800:200")
    h.expect(2, "solve", h.small, h.tees, err=f"solve takes no further argument '{h.tees}'")
    h.expect(2, "sweep", h.small, "a=1..2", "b=1..2", "c=1..2", err="sweep takes no further argument 'c=1..2'")


def case_options_of_other_commands_are_refused(h):
    h.expect(2, "solve", h.small, "--tolerance", "1 K", err="solve takes no --tolerance")
    h.expect(2, "check", h.small, "--csv", err="check takes no --csv")
    h.expect(2, "parts", "--state", "idle", err="parts takes no --state")


def case_values_of_options(h):
    h.expect(2, "solve", h.small, "--set", err="--set needs a value: --set PATH=VALUE")
    h.expect(2, "solve", h.small, "--set", "gpu.heat", err="--set takes PATH=VALUE")
    h.expect(2, "solve", h.small, "--set", "=3", err="--set takes PATH=VALUE")
    h.expect(2, "solve", h.small, "--json=yes", err="--json takes no value; found 'yes'")
    h.expect(2, "solve", h.small, "--state", "idle", "--state", "game", err="--state is given twice")
    h.expect(2, "solve", h.small, "--units", "furlong", err="'furlong' is no unit of flow, pressure or temperature")
    h.expect(2, "solve", h.small, "--output=", err="--output needs the name of a file")


def case_tolerance_and_gain_take_kelvin(h):
    sweep = ["sweep", h.small, "pump.speed=800..4800:400"]
    for wrong in ["-1", "0", "nan", "0x1", "1 degC", "", "1e400", "9" * 400, "1.2.3"]:
        h.expect(2, *sweep, "--tolerance", wrong, err="--tolerance takes a temperature difference above zero")
        h.expect(2, *sweep, "--gain", wrong, err="--gain takes a temperature difference above zero")
    values = []
    for right in ["0.5", "0.5 K", "0.5K"]:
        values.append(h.json(0, *sweep, "--json", "--tolerance", right)["knees"][0]["value"])
    same(values[1:], values[:2], "the three spellings")
    coarse = h.json(0, *sweep, "--json", "--tolerance", "2 K")["knees"][0]["value"]
    true(coarse < values[0], "a larger tolerance is reached at a lower speed")
    gains = [h.json(0, *sweep, "--json", "--gain", gain)["knees"][2]["value"] for gain in ("0.1", "0.4")]
    true(gains[0] > gains[1], "a smaller gain is reached at a higher speed")


def case_json_and_csv_exclude_each_other(h):
    told = h.json(2, "solve", h.small, "--json", "--csv")
    same(told["errors"][0]["text"], "--json and --csv exclude each other; give one of them", "text")


def case_usage_errors_are_json_wherever_json_stands(h):
    told = h.json(2, "--set", "x", "solve", h.small, "--json")
    same(told["status"], "error", "status")
    same(told["errors"][0]["code"], "usage", "code")
    true("file" not in told["errors"][0], "the command line is no file")


def case_options_stand_anywhere(h):
    wanted = h.expect(0, "solve", h.small, "--csv", "--set", "gpu.heat=100 W").out
    for arguments in (["--csv", "--set", "gpu.heat=100 W", "solve", h.small], ["solve", "--set=gpu.heat=100 W", h.small, "--csv"],
                      ["--set", "gpu.heat=100 W", "solve", "--csv", "--", h.small]):
        same(h.expect(0, *arguments).out, wanted, " ".join(arguments))


def case_help_and_version(h):
    for arguments in (["--help"], ["help"], ["-h"]):
        run = h.expect(0, *arguments, out=["usage: headrace COMMAND", "solve", "exit status"])
        same(run.err, "", "messages")
        for command in LATER:
            true(f"  {command} " in run.out, f"{command} is listed")
    for command in ["solve", "sweep", "check", "parts"]:
        h.expect(0, command, "--help", out=[f"usage: headrace {command}", "--json", "--output FILE"])
        h.expect(0, "help", command, out=f"usage: headrace {command}")
    h.expect(0, "worth", "--help", out="not there yet")
    true(h.expect(0, "--version").out.startswith("headrace "), "version")


def case_distance_is_not_there_yet(h):
    h.expect(2, "solve", h.small, "--distance", "1 m", err="--distance is not there yet")


def case_ranges_that_cannot_be_read(h):
    for wrong in ["pump.speed=800-4800", "pump.speed", "pump.speed=4800..800:100", "pump.speed=1..2:0", "pump.speed=..3"]:
        h.expect(2, "sweep", h.small, wrong, err=f"headrace: range '{wrong}'")
    h.expect(1, "sweep", h.small, "pupm.speed=800..4800:400", err="did you mean 'pump'?")


def case_set_faults_have_a_place(h):
    run = h.expect(1, "solve", h.small, "--set", "gpu.heat=3", "--set", "gpu.heet=3 W")
    lines = run.err.splitlines()
    true(any(line.startswith("--set:1:10: heat of part 'gpu': '3' has no unit") for line in lines), run)
    true(any(line.startswith("--set:2:1: part 'gpu' of kind block has no key 'heet'; did you mean 'heat'?")
             for line in lines), run)
    told = strict_json(h.run("solve", h.small, "--set", "gpu.heat=3", "--json").out)
    same([(e["file"], e["line"], e["column"]) for e in told["errors"]], [("--set", 1, 10)], "place")


def case_state_that_does_not_exist(h):
    h.expect(1, "solve", h.small, "--state", "idel", err="--state:1:1: the file has no state 'idel'; did you mean 'idle'?")
    h.expect(1, "solve", h.tees, "--state", "all", err="the file has no states")
    h.expect(2, "sweep", h.small, "pump.speed=1..2", "--state", "all", err="sweep takes one state")


def case_missing_file(h):
    h.expect(1, "solve", "nowhere.yaml", err="nowhere.yaml:1:1: cannot read 'nowhere.yaml': there is no such file")
    h.expect(1, "check", "loops", err="loops:1:1: 'loops' is a folder; name a file")


def cases(harness):
    return named(sys.modules[__name__], harness)
