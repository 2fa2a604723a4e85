"""Medians of four jobs: usage medians.py PROGRAM SOURCE-TREE RUNS.

Each job is run once unmeasured, then the jobs take turns, so that whatever else the machine does meets all of them.
Wall time is from starting the process to its end; memory is the largest that a run of the job had resident.
"""
import json
import os
import statistics
import sys
import tempfile
import time
from pathlib import Path

program, tree, runs = sys.argv[1], Path(sys.argv[2]), int(sys.argv[3])
exit_example = tree / "examples" / "aldermoss-exit.ward"
day = ["--today", "2030-11-01"]


def long_source():
    """A protocol of 10 000 lines: routines that nobody calls are read and resolved like all others, but not walked."""
    head = """stepward 1 protocol
document
  title "Long"
  number L-1
  version 1.0
  status draft
end document
use library standard "layered-equipment"
use library standard "disinfectants"
use library standard "team"
people
  wearer begins in clean lobby wearing scrubs, clogs, inner gloves
  observer begins in clean lobby wearing scrubs, clogs
  wearer acts unless a line names someone else
end people
endings
  done is normal
    wearer is in clean lobby
    wearer wears scrubs, clogs, inner gloves
end endings
phase "Stand"
  act "Stand still."
  finish as done
end phase
"""
    body = """  disinfect hands with strong chlorine
  observer inspects hands of wearer for soil
    say "Show me your hands."
    watch "Fingertips and cuffs."
  if soil on hands of wearer
    clean soil from hands of wearer using wipe from the top down
  otherwise
    act "Lower your hands." touching outside of outer gloves
  end if
  take off outer gloves using peel inside out
    warning "Slowly."
  put on outer gloves using cuff over the sleeve
"""
    lines = head.count("\n")
    text, routine = [head], 0
    while lines < 10_000:
        routine += 1
        text.append(f"routine part number{routine}\n" + body * 8 + "end routine\n")
        lines += 2 + 8 * body.count("\n")
    return "".join(text), lines


def run(command, keep_output=False):
    with tempfile.TemporaryFile() as out:
        begin = time.perf_counter()
        child = os.posix_spawn(program, [program, *map(str, command)], os.environ,
                               file_actions=[(os.POSIX_SPAWN_DUP2, out.fileno(), 1), (os.POSIX_SPAWN_DUP2, out.fileno(), 2)])
        _, status, usage = os.wait4(child, 0)
        wall = time.perf_counter() - begin
        out.seek(0)
        answer = out.read() if keep_output else b""
    return wall, usage.ru_maxrss / 1024, os.waitstatus_to_exitcode(status), answer


with tempfile.TemporaryDirectory() as folder:
    source, lines = long_source()
    long_file = Path(folder) / "long.ward"
    long_file.write_text(source)
    jobs = [
        ("check of the example exit, whole process", 0.25, ["check", exit_example, *day]),
        (f"{lines} lines parsed and resolved", 0.2, ["check", long_file, "--format", "json", "--timings"]),
        ("--help", 0.01, ["--help"]),
        ("card set of one variant", 0.3,
         ["print", exit_example, "--to", folder, "--only", "coverall, goggles, rubber boots", *day]),
    ]
    times = {name: [] for name, _, _ in jobs}
    memory = {name: 0.0 for name, _, _ in jobs}
    for turn in range(runs + 1):
        for name, _, command in jobs:
            own_figures = "--timings" in command
            wall, megabytes, code, answer = run(command, own_figures)
            if own_figures:
                findings = json.loads(answer)
                wall = findings["summary"]["seconds_read"] + findings["summary"]["seconds_resolve"]
                code = code if findings["counts"]["error"] else 0
            if code != 0:
                raise SystemExit(f"{name}: the program ended with {code}")
            if turn > 0:
                times[name].append(wall)
                memory[name] = max(memory[name], megabytes)
    print(f"{runs} runs each, {os.cpu_count()} cores")
    print(f"{'job':<44}{'median':>9}{'fastest':>9}{'meant':>8}{'memory':>10}")
    for name, meant, _ in jobs:
        print(f"{name:<44}{statistics.median(times[name]):>8.3f}s{min(times[name]):>8.3f}s{meant:>7.2f}s{memory[name]:>7.0f} MB")
