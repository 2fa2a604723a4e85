#!/usr/bin/python3
"""Progress on a terminal: told where somebody can be watching and the work is long, and nowhere else.

The program gets a pseudo-terminal for its standard error. It is stopped again and again, so that its work is long on any machine.
"""
import os
import pty
import re
import signal
import subprocess
import sys
import tempfile
import threading
import time

stepward, tree = sys.argv[1:3]
example = os.path.join(tree, "examples", "aldermoss-exit.ward")


def command(folder):
    return [stepward, "print", example, "--to", folder, "--today", "2030-11-01"]


def on_a_terminal(arguments, is_long):
    """What stands on the terminal afterwards, byte by byte, with the exit code."""
    ours, theirs = pty.openpty()
    program = subprocess.Popen(arguments, stdout=subprocess.DEVNULL, stderr=theirs, stdin=subprocess.DEVNULL)
    os.close(theirs)
    seen = bytearray()

    def read():
        while True:
            try:
                piece = os.read(ours, 4096)
            except OSError:  # the other end is closed
                return
            if not piece:
                return
            seen.extend(piece)

    reader = threading.Thread(target=read)
    reader.start()
    while is_long and program.poll() is None:
        time.sleep(0.06)
        program.send_signal(signal.SIGSTOP)
        time.sleep(0.15)
        program.send_signal(signal.SIGCONT)
    code = program.wait()
    reader.join()
    os.close(ours)
    return code, seen.decode()


with tempfile.TemporaryDirectory() as folder:
    code, seen = on_a_terminal(command(folder), is_long=True)
    assert code == 0, seen
    counts = [(int(done), int(of)) for done, of in re.findall(r"printing [^:]*: (\d+) of (\d+) papers", seen)]
    assert counts, f"no paper was counted: {seen!r}"
    assert counts == sorted(counts), counts
    assert len({of for _, of in counts}) == 1 and counts[0][1] == len(os.listdir(folder)), (counts, os.listdir(folder))
    assert all(done <= of for done, of in counts), counts
    assert len({done for done, _ in counts}) > 1, f"it never went on: {counts}"
    assert seen.endswith("\r\x1b[K"), f"the line is not wiped: {seen[-60:]!r}"

    # Somebody is watching, but it is over at once.
    code, seen = on_a_terminal([stepward, "explain", "P401"], is_long=False)
    assert (code, seen) == (0, ""), seen

    # Nobody is watching.
    told = subprocess.run(command(folder), capture_output=True, text=True)
    assert told.returncode == 0 and told.stderr == "", told.stderr
print("progress is told on a terminal only")
