"""The same graph walked here and by the model checker SPIN: spin.py PROGRAM WALK_BENCH PROTOCOL DAY RUNS.

The graph is the first variant of the protocol with nothing forgotten, so that both store the same states; that they do
is checked. SPIN gets it in the fastest form that was found (packed_promela.hpp): guards and operations are C, compiled
by gcc. It is run exactly (no bit states, no hash compaction), depth first, over -O0, -O1 and -O2 and hash tables of
2^20, 2^24 and 2^26 slots, and its best counts. All take turns; the least of RUNS counts, of wall and of processor time.
"""
import re
import sys
import tempfile
from pathlib import Path

from measure import Run, table

program, walk_bench, protocol, day, runs = sys.argv[1], sys.argv[2], sys.argv[3], sys.argv[4], int(sys.argv[5])
LEVELS, SLOTS = ("-O0", "-O1", "-O2"), (20, 24, 26)
FLAGS = ["-w", "-DSAFETY", "-DNOREDUCE", "-DNOFAIR"]


def figure(said, name):
    return float(re.search(rf"^{name} (\S+)$", said, re.M).group(1))


class Walked:
    """One way to walk: the least of its runs."""

    def __init__(self, name, command, folder=None, kind="here"):
        self.name, self.command, self.folder, self.kind = name, command, folder, kind
        self.wall = self.processor = self.megabytes = float("inf")

    def once(self):
        run = Run(self.command, self.folder).expect(0)
        if self.kind == "here":
            states, seconds = figure(run.said, "states"), figure(run.said, "seconds")
            processor = figure(run.said, "processor")
        else:
            states = float(re.search(r"(\d\S*) states, stored", run.said).group(1)) - 2
            seconds = float(re.search(r"elapsed time (\S+) seconds", run.said).group(1)) if "elapsed" in run.said else run.wall
            processor = run.processor
        self.states = int(states)
        self.wall, self.processor = min(self.wall, seconds), min(self.processor, processor)
        self.megabytes = min(self.megabytes, run.megabytes)


with tempfile.TemporaryDirectory() as folder:
    write = Run([walk_bench, "promela", protocol, folder]).expect(0)
    generate = Run(["spin", "-a", "m.pml"], folder)
    if not (Path(folder) / "pan.c").exists():
        raise SystemExit(f"SPIN did not take the model: {generate.said[:1000]}")
    compiled = {}
    for level in LEVELS:
        compiled[level] = Run(["gcc", level, *FLAGS, "-o", f"pan{level}", "pan.c"], folder).expect(0)
    ways = [Walked(f"pan {level} -w{slots}", [f"./pan{level}", "-E", "-m2000000", f"-w{slots}", "-c0"], folder, "spin")
            for level in LEVELS for slots in SLOTS]
    ways += [Walked(f"here, {n} thread{'s' if n > 1 else ''}", [walk_bench, "walk", protocol, "--threads", n]) for n in (1, 2)]
    whole = []
    for _ in range(runs):
        for way in ways:
            way.once()
        whole.append(Run([program, "check", protocol, "--today", day]).expect(0, 1))
    if len({way.states for way in ways}) != 1:
        raise SystemExit("the counts differ: " + ", ".join(f"{way.name} {way.states}" for way in ways))
    pans = [way for way in ways if way.kind == "spin"]
    best, fewest = min(pans, key=lambda way: way.wall), min(way.megabytes for way in pans)
    work = min(pans, key=lambda way: way.processor)
    print(f"One graph of {ways[0].states} states: the first variant of {Path(protocol).name}, nothing forgotten; least of {runs}")
    table(("", "wall", "processor", "memory", "times as fast", "by processor time", "memory to pan's least"),
          [(way.name, f"{way.wall:.2f} s", f"{way.processor:.2f} s", f"{way.megabytes:.0f} MB", f"{best.wall / way.wall:.2f}",
            f"{work.processor / way.processor:.2f}", f"{way.megabytes / fewest:.2f}") for way in ways])
    for level in LEVELS:
        pan = min((way for way in pans if f" {level} " in way.name), key=lambda way: way.wall)
        total = generate.wall + compiled[level].wall + pan.wall
        here = min(run.wall for run in whole)
        print(f"SPIN's whole pipeline with {level}: spin {generate.wall:.1f} s, gcc {compiled[level].wall:.1f} s, pan {pan.wall:.1f} s; "
              f"the whole check of all variants takes 1/{total / here:.0f} of it")
