"""How time and memory grow with the steps of an exit, and what a check after an edit takes: growth.py PROGRAM RUNS.

Sizes take turns, and the least of all runs counts. The exponent is that of the best power of the steps through the
sizes from 200 on, where what every process pays no longer hides it: 1 is linear.
"""
import sys
import tempfile
from pathlib import Path

from exits import exit_of
from measure import Run, bar, exponent, table

program, runs = sys.argv[1], int(sys.argv[2])
SIZES = [25, 50, 100, 200, 400, 800, 1600]
MEASURES = ("processor", "wall", "megabytes")


def check(path):
    run = Run([program, "check", path, "--today", "2030-11-01"]).expect(0)
    if "complete" not in run.said:
        raise SystemExit(run.said)
    return run


def states_of(said):
    return int(said.split(" states")[0].rsplit(", ", 1)[1].replace(" ", ""))


with tempfile.TemporaryDirectory() as folder:
    files, steps, least, states = {}, {}, {}, {}
    for size in SIZES:
        text, steps[size] = exit_of(size)
        files[size] = Path(folder) / f"exit{size}.ward"
        files[size].write_text(text)
    for _ in range(runs):
        for size in SIZES:
            run = check(files[size])
            states[size] = states_of(run.said)
            one = [getattr(run, m) for m in MEASURES]
            least[size] = [min(a, b) for a, b in zip(least.get(size, one), one)]
    print("Synthetic exits, whole check; people, things, looks, decision and interruptions are the same in all")
    table(("steps", "states", "processor", "wall", "memory", ""),
          [(steps[s], states[s], f"{least[s][0]:.3f} s", f"{least[s][1]:.3f} s", f"{least[s][2]:.0f} MB", bar(least[s][0], least[SIZES[-1]][0]).ljust(30))
           for s in SIZES])
    large = [s for s in SIZES if s >= 200]
    for name, column in (("processor time", 0), ("memory", 2)):
        print(f"exponent of {name} from 200 steps on: {exponent([(steps[s], least[s][column]) for s in large]):.2f}")
    last, before = SIZES[-1], SIZES[-2]
    print(f"from {steps[before]} to {steps[last]} steps: processor time x {least[last][0] / least[before][0]:.2f}, memory x {least[last][2] / least[before][2]:.2f}")
    edited = Path(folder) / "edited.ward"
    again = []
    for turn in range(3 * runs):
        edited.write_text(exit_of(200, changed=turn)[0])
        again.append(check(edited).wall)
    print(f"check again after one line of {steps[200]} steps was changed, whole process: {min(again) * 1000:.0f} ms at least (meant: 50 ms)")
