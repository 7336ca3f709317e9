# SPDX-License-Identifier: GPL-3.0-or-later
"""Where the output goes, and what happens when it cannot."""
import os
import resource
import signal
import subprocess
import sys

from harness import named, path, same, strict_json, true


def case_solve_prints_the_result_first(h):
    run = h.expect(0, "solve", h.small, out=["gpu", "pump", "tank"])
    true(run.out.startswith('One pump, one block, "quoted", one radiator'), run)
    same(run.err, "", "nothing to warn of")


def case_no_colour_unless_on_a_terminal(h):
    for arguments in (["solve", h.small], ["sweep", h.small, "pump.speed=800..4800:400"], ["check", h.small], ["parts"]):
        true("\x1b" not in h.expect(0, *arguments).out, arguments)


def terminal(h, environment):
    """What a run writes to a pseudo terminal."""
    master, slave = os.openpty()
    run = h.run("solve", h.small, stdout=slave, environment=environment)
    os.close(slave)
    text = b""
    while True:
        try:
            piece = os.read(master, 65536)
        except OSError:
            break
        if not piece:
            break
        text += piece
    os.close(master)
    same(run.status, 0, "exit status")
    return text.decode("utf-8")


def case_no_color_is_obeyed_on_a_terminal(h):
    true("\x1b" not in terminal(h, {"NO_COLOR": "1"}), "no escape sequences")
    true("\x1b" not in terminal(h, {"TERM": "dumb"}), "none on a dumb terminal")


def case_warnings_have_a_place(h):
    run = h.expect(0, "solve", h.tees)
    lines = run.err.splitlines()
    true(len(lines) >= 3, run)
    true(all(line.startswith(h.tees + ":") and ": warning: " in line for line in lines), run)
    same(len(set(lines)), len(lines), "no warning comes twice")


def case_warnings_of_a_sweep_come_once_a_place(h):
    run = h.expect(0, "sweep", h.tees, "pump.speed=2400..4800:400")
    places = [line.split(": warning: ")[0] for line in run.err.splitlines()]
    out_of_range = [line for line in run.err.splitlines() if "its model holds for" in line]
    true(out_of_range and all("(and at " in line for line in out_of_range[:1]), run)
    true(len(places) <= 8, run)


def case_file_appears_as_a_whole(h):
    wanted = h.expect(0, "solve", h.small, "--json").out
    with h.folder() as folder:
        target = path(folder) / "result.json"
        run = h.expect(0, "solve", h.small, "--json", "-o", str(target))
        same(run.out, "", "standard output")
        same(target.read_text(), wanted, "file")
        same(os.listdir(folder), ["result.json"], "files left")
        mask = os.umask(0)
        os.umask(mask)
        same(target.stat().st_mode & 0o777, 0o666 & ~mask, "rights")
        target.write_text("old\n" * 100000)
        target.chmod(0o640)
        h.expect(0, "solve", h.small, "--json", f"--output={target}")
        same(target.read_text(), wanted, "file written anew")
        same(target.stat().st_mode & 0o777, 0o640, "rights of the old file")


def case_file_behind_a_link_is_replaced(h):
    with h.folder() as folder:
        real, link = path(folder) / "real.csv", path(folder) / "link.csv"
        real.write_text("old")
        link.symlink_to(real)
        h.expect(0, "solve", h.small, "--csv", "-o", str(link))
        true(link.is_symlink(), "the link stays")
        true(real.read_text().startswith("state,name"), "the file behind it is new")


def case_failure_leaves_the_old_file(h):
    with h.folder() as folder:
        target = path(folder) / "result.json"
        target.write_text("old")
        h.expect(1, "solve", h.small, "--set", "gpu.heat=3", "-o", str(target))
        same(target.read_text(), "old", "file")
        same(os.listdir(folder), ["result.json"], "files left")


def case_folder_that_is_not_there(h):
    with h.folder() as folder:
        run = h.expect(4, "solve", h.small, "-o", f"{folder}/no/such/file")
        same(run.err, f"headrace: cannot write to '{folder}/no/such/file': No such file or directory\n", "message")
        same(os.listdir(folder), [], "files left")
    h.expect(4, "solve", h.small, "-o", "loops", err="cannot write to 'loops': Is a directory")


def ordinary_user():
    """Nothing is forbidden to the superuser, who becomes somebody else here."""
    if os.geteuid() == 0:
        os.setgroups([])
        os.setgid(65534)
        os.setuid(65534)


def case_folder_that_cannot_be_written(h):
    with h.folder() as folder:
        os.chmod(folder, 0o555)
        h.expect(4, "solve", h.small, "-o", f"{folder}/file", err="Permission denied", preexec_fn=ordinary_user)
        same(os.listdir(folder), [], "files left")
        os.chmod(folder, 0o755)


def case_file_that_cannot_be_written(h):
    """A rename would get past the rights of the file; they are respected all the same."""
    with h.folder() as folder:
        target = path(folder) / "result.json"
        target.write_text("old")
        target.chmod(0o444)
        os.chmod(folder, 0o777)
        h.expect(4, "solve", h.small, "-o", str(target), err=f"cannot write to '{target}': Permission denied",
                 preexec_fn=ordinary_user)
        same(target.read_text(), "old", "file")


def case_full_disk(h):
    for arguments in (["solve", h.small], ["solve", h.small, "--json"], ["parts"], ["--help"], ["--version"]):
        with open("/dev/full", "wb") as full:
            h.expect(4, *arguments, stdout=full, err="headrace: cannot write to standard output: No space left on device\n")


def limit_files():
    """No file of this process may grow beyond 100 bytes: like a disk that fills up."""
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100))


def case_disk_that_fills_up_leaves_nothing(h):
    with h.folder() as folder:
        target = path(folder) / "result.json"
        target.write_text("old")
        h.expect(4, "solve", h.small, "-o", str(target), preexec_fn=limit_files,
                 err=f"headrace: cannot write to '{target}': File too large\n")
        same(target.read_text(), "old", "file")
        same(os.listdir(folder), ["result.json"], "files left")


def case_pipe_that_is_closed(h):
    reader, writer = os.pipe()
    os.close(reader)
    h.expect(4, "solve", h.small, stdout=writer, err="cannot write to standard output: whoever reads it has stopped")
    os.close(writer)


def case_standard_output_that_is_closed(h):
    run = subprocess.run(["sh", "-c", 'exec "$0" solve "$1" >&-', str(h.program), h.small], cwd=h.here,
                         stderr=subprocess.PIPE, timeout=60)
    same(run.returncode, 4, "exit status")
    true(b"cannot write to standard output" in run.stderr, run.stderr)


def case_file_that_cannot_be_written_with_json(h):
    run = h.expect(4, "solve", h.small, "--json", "-o", "/no/such/folder/x.json")
    told = strict_json(run.out)
    same(told["errors"][0]["code"], "cannot-write", "code")


def case_loop_file_is_not_overwritten(h):
    with h.folder() as folder:
        loop = path(folder) / "loop.yaml"
        loop.write_bytes((h.here / h.small).read_bytes())
        h.expect(2, "solve", str(loop), "-o", str(loop), err="names the loop file")
        same(loop.read_bytes(), (h.here / h.small).read_bytes(), "loop file")


def case_pipe_with_a_name_is_written_to(h):
    """What is no regular file is written to and not replaced. In a folder of its own: never try this on a device."""
    wanted = h.expect(0, "solve", h.small, "--csv").out
    with h.folder() as folder:
        fifo = path(folder) / "fifo"
        os.mkfifo(fifo)
        reader = os.open(fifo, os.O_RDONLY | os.O_NONBLOCK)
        h.expect(0, "solve", h.small, "--csv", "-o", str(fifo))
        true(fifo.is_fifo(), "it stays a pipe")
        same(os.read(reader, 65536).decode(), wanted, "what came through")
        os.close(reader)


def case_no_result(h):
    run = h.expect(3, "solve", h.none, err=f"{h.none}: no solution exists: what flows in around 'A' has no way out")
    told = h.json(3, "solve", h.none, "--json")
    same(told["status"], "no_solution", "status")
    true("'A'" in told["reason"], told)
    same(told["branches"], [], "branches")
    true("solver" not in told, "no residuals without a solution")
    same(h.expect(3, "solve", h.none, "--csv").out.count("\n"), 1, "the header alone")
    true(run.out != "", "the text says it too")


def case_check_reports_findings_on_standard_output(h):
    run = h.expect(0, "check", h.tees, out="against its arrow")
    same(run.err, "", "standard error")
    told = h.json(0, "check", h.tees, "--json")
    true("against-arrow" in [warning["code"] for warning in told["warnings"]], told["warnings"])


def case_states_one_after_the_other(h):
    text = h.expect(0, "solve", h.small, "--state", "all").out
    true(text.index("(idle)") < text.index("(game)"), "order of the file")
    told = h.json(0, "solve", h.small, "--state", "all", "--json")
    same([state["state"] for state in told["states"]], ["idle", "game"], "states")
    for state in told["states"]:
        same(state, h.json(0, "solve", h.small, "--state", state["state"], "--json"), state["state"])


def case_units_change_tables_alone(h):
    true("gpm" in h.expect(0, "solve", h.small, "--units", "gpm,psi").out, "gpm")
    same(h.expect(0, "solve", h.small, "--json", "--units", "gpm,psi").out, h.expect(0, "solve", h.small, "--json").out, "JSON")


def case_models_folder(h):
    with h.folder() as folder:
        (path(folder) / "odd-block.yaml").write_text("kind: block\nsummary: a block of this test\nsource: invented\nzeta: 3\nbore: 8 mm\n")
        h.expect(0, "parts", "--models", folder, out="odd-block")
        h.expect(0, "parts", environment={"HEADRACE_MODELS": folder}, out="odd-block")
        loop = ["solve", h.small, "--set", "gpu.model=odd-block"]
        h.expect(1, *loop, err="the library has no model 'odd-block'")
    h.expect(1, "parts", "--models", "/no/such/folder", err="--models names '/no/such/folder', which is no folder")
    h.expect(0, "parts", environment={"HEADRACE_MODELS": None}, out="pump")


def cases(harness):
    return named(sys.modules[__name__], harness)
