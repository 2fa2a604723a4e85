"""How the time for all single slips, and for all pairs, grows with the steps of an exit: slips_growth.py PROGRAM RUNS.

Sizes take turns, and the least of all runs counts. The exponent is that of the best power of the steps through the sizes given below. A slip is
tried at every step, and its run is followed only until it comes back to what ordinary runs come through; pairs are so many times so many.
"""
import sys
import tempfile
from pathlib import Path

from exits import exit_of
from measure import Run, bar, exponent, table

program, runs = sys.argv[1], int(sys.argv[2])
JOBS = (("one slip", "1", [25, 50, 100, 200, 400, 800], 100), ("up to two slips", "2", [25, 50, 100, 200], 50))


def slips(path, at_once):
    run = Run([program, "slips", path, "--at-once", at_once]).expect(0)
    if "tried at" not in run.said:
        raise SystemExit(run.said)
    return run


def places_of(said):
    return int(said.split(" places")[0].rsplit(" ", 1)[1])


with tempfile.TemporaryDirectory() as folder:
    for name, at_once, sizes, from_size in JOBS:
        steps, least, places = {}, {}, {}
        for size in sizes:
            text, steps[size] = exit_of(size)
            Path(folder, f"exit{size}.ward").write_text(text)
        for _ in range(runs):
            for size in sizes:
                run = slips(Path(folder, f"exit{size}.ward"), at_once)
                places[size] = places_of(run.said)
                one = (run.processor, run.wall, run.megabytes)
                least[size] = tuple(map(min, one, least.get(size, one)))
        print(f"Synthetic exits, {name} a run")
        table(("steps", "places", "processor", "wall", "memory", ""),
              [(steps[s], places[s], f"{least[s][0]:.3f} s", f"{least[s][1]:.3f} s", f"{least[s][2]:.0f} MB", bar(least[s][0], least[sizes[-1]][0]).ljust(30))
               for s in sizes])
        large = [s for s in sizes if s >= from_size]
        print(f"exponent of processor time from {from_size} steps on: {exponent([(steps[s], least[s][0]) for s in large]):.2f}")
