"""Memory stays below what docs/findings/F801.md says: memory_bound.py PROGRAM LIMIT|default.

A protocol of many decisions, all asked again at its end, has far more situations than any limit. The walk must stop by
itself, say how far it came and name what to shorten, and the process must never have held more than 100 bytes for each
situation of the limit, 64 MiB to begin with, and what a check takes that walks next to nothing.
"""
import os
import subprocess
import sys
import tempfile

program, limit = sys.argv[1], sys.argv[2]
questions = 26


def protocol(variants):
    names = [chr(ord("a") + i) + "x" for i in range(questions)]
    choice = "variants\n  choice size is small or large\nend variants\n\n" if variants else ""
    asked = "".join(f"  decide question {n} as yes or no\n" for n in names)
    if variants:
        asked += '  act "Note it." only for small\n'
    answered = "".join(f'  if question {n} is no\n    act "Note it."\n  end if\n' for n in names)
    return ("stepward 1 protocol\n\ndocument\n  title \"Many\"\n  number MAN-01\n  version 1.0\nend document\n\n"
            "use library standard \"team\"\n\n" + choice +
            "people\n  wearer begins in exit area\n  wearer acts unless a line names someone else\nend people\n\n"
            "endings\n  clean exit is normal\nend endings\n\nphase \"Ask\"\n" + asked + answered +
            "  finish as clean exit\nend phase\n")


def checked(path, options):
    with tempfile.TemporaryFile() as out:
        child = subprocess.Popen([program, "check", path, "--today", "2030-11-01", *options], stdout=out, stderr=out)
        _, status, usage = os.wait4(child.pid, 0)
        out.seek(0)
        return os.waitstatus_to_exitcode(status), usage.ru_maxrss * 1024, out.read().decode()


with tempfile.TemporaryDirectory() as folder:
    for variants in (False, True):
        path = os.path.join(folder, "many.ward")
        with open(path, "w") as file:
            file.write(protocol(variants))
        _, little, _ = checked(path, ["--limit", "1"])
        code, held, said = checked(path, [] if limit == "default" else ["--limit", limit])
        states = 20_000_000 if limit == "default" else int(limit)
        most = (64 << 20) + 100 * states + little
        print(f"{states} situations, {held >> 20} MB held, {most >> 20} MB allowed")
        assert code == 1 and "F801" in said, said[:2000]
        for words in ("stopped by", "step", "nothing is proved", "decision question", "times as many"):
            assert words in said, f"does not say {words!r}: {said[:2000]}"
        assert held <= most, f"{held} bytes held, {most} allowed"
        assert held >= 30 * states, "so little was held that nothing is shown"
