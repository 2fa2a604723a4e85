"""One run of a command: how long, how much processor time, how much memory, and what it said."""
import math
import os
import tempfile
import time


class Run:
    def __init__(self, command, folder=None):
        with tempfile.TemporaryFile() as out:
            begin = time.perf_counter()
            child = os.fork()
            if child == 0:
                os.dup2(out.fileno(), 1)
                os.dup2(out.fileno(), 2)
                if folder:
                    os.chdir(folder)
                try:
                    os.execvp(command[0], [str(word) for word in command])
                finally:
                    os._exit(127)
            _, status, usage = os.wait4(child, 0)
            self.wall = time.perf_counter() - begin
            out.seek(0)
            self.said = out.read().decode(errors="replace")
        self.processor = usage.ru_utime + usage.ru_stime
        self.megabytes = usage.ru_maxrss / 1024
        self.code = os.waitstatus_to_exitcode(status)

    def expect(self, *codes):
        if self.code not in codes:
            raise SystemExit(f"ended with {self.code}: {self.said[:2000]}")
        return self


def table(head, rows):
    """Columns as wide as what they hold, the first to the left and the rest to the right."""
    widths = [max(len(str(row[i])) for row in [head, *rows]) for i in range(len(head))]
    for row in [head, *rows]:
        print("  ".join(str(cell).ljust(w) if i == 0 else str(cell).rjust(w) for i, (cell, w) in enumerate(zip(row, widths))))


def exponent(points):
    """The slope of the straight line through the logarithms."""
    xs, ys = [math.log(x) for x, _ in points], [math.log(y) for _, y in points]
    mx, my = sum(xs) / len(xs), sum(ys) / len(ys)
    return sum((x - mx) * (y - my) for x, y in zip(xs, ys)) / sum((x - mx) ** 2 for x in xs)


def bar(value, most):
    return "#" * max(1, round(30 * value / most))
