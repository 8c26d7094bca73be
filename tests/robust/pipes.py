#!/usr/bin/env python3
"""Closes the streams of every command:

    tests/robust/pipes.py

Standard input, output and error closed, alone and together; a reader of standard output that is gone before the first
byte, or after the first line; a reader of standard error that is gone. No hang (60 s), no crash; where the output is
lost the status is never 0, and is told if standard error is left. One summary line; exit status 0 only if nothing was wrong."""
import itertools
import os
import subprocess
import sys
import time

from common import DETENT, Findings, Folder, run, waited
from kill import BOAT, design

COMMANDS = [
    ["check", "new.detent"], ["check", "new.detent", "--format", "json"], ["check", "-"],
    ["check", "new.detent", "--evidence", "ev"], ["check", "new.detent", "--within", "50 ticks"],
    ["check", "nowhere"], ["check", "new.detent", "--run", "nowhere.run"],
    ["show", "new.detent"], ["show", "new.detent", "tree"], ["show", "new.detent", "circuit"],
    ["why", "new.detent", "--claim", "safe0"], ["compare", "new.detent", "old.detent"], ["faults", "new.detent"],
    ["gaps", "new.detent"], ["tune", BOAT, "--only", "patience", "--step", "1 s"], ["report", "new.detent"],
    ["report", "new.detent", "-o", "page.html"], ["step", "new.detent"], ["replay", "new.detent", "log.csv"],
    ["replay", "new.detent", "-"], ["drill", "new.detent", "--no-changes"], ["lesson"], ["lesson", "1"],
    ["lesson", "1", "--all-at-once"], ["check", "new.detent", "old.detent"], ["faults", "new.detent", "--shard", "1/2"],
    ["export", "new.detent", "--as", "sarif"], ["export", "new.detent", "--as", "dot"],
    ["format", "--check", "new.detent"], ["merge", "new.detent"], ["recheck", "older", "--solver", "z3"], ["new"],
    ["new", "--from", "emergency_stop", "-o", "-"], ["--help"], ["--version"], [], ["nonsense"],
]
REDIRECTIONS = {0: "<&-", 1: ">&-", 2: "2>&-"}


def closed(folder, words, streams):
    """By a shell, which is how people close them."""
    line = 'exec "$@" ' + " ".join(REDIRECTIONS[stream] for stream in streams)
    return run(["sh", "-c", line, "sh", DETENT] + words, cwd=folder.path)


def reader_gone(folder, words, stream, lines):
    """The status where a reader of that stream goes away after so many lines; -1 if it hangs."""
    end, writing = os.pipe()
    streams = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, stream: writing}
    if lines == 0:
        os.close(end)
    child = subprocess.Popen([DETENT] + words, cwd=folder.path, stdin=subprocess.DEVNULL, start_new_session=True,
                             restore_signals=True, **streams)
    os.close(writing)
    if lines:
        while (byte := os.read(end, 1)) and byte != b"\n":
            pass
        os.close(end)
    status, _ = waited(child.pid, time.monotonic() + 60)
    child.returncode = 0
    return status


def main():
    findings = Findings("closed streams")
    with Folder() as folder:
        folder.write("old.detent", design("old", 3))
        folder.write("new.detent", design("new", 3))
        folder.write("log.csv", "time s,new_on,new_off\n0,0,0\n1,1,0\n")
        run([DETENT, "check", "old.detent", "--evidence", "older"], cwd=folder.path)
        for words in COMMANDS:
            name = " ".join(os.path.basename(word) for word in words)
            usual = run([DETENT] + words, cwd=folder.path).status
            for count in (1, 2, 3):
                for streams in itertools.combinations((0, 1, 2), count):
                    ended = closed(folder, words, streams)
                    good = ended.status == 2 if 1 in streams and usual != 4 else ended.status in (usual, 2)
                    if streams == (1,) and usual == 0:
                        good = good and "standard output" in ended.err
                    findings.check(good and not ended.crashed,
                                   f"{name}, closed {streams}, usually {usual}: {ended.words()}")
            for lines in (0, 1):
                status = reader_gone(folder, words, "stdout", lines)
                findings.check(status in (usual, 2), f"{name} to a reader of {lines} lines, usually {usual}: {status}")
                if lines == 0 and usual == 0:
                    findings.check(status == 2, f"{name} told nobody, with status {status}")
            status = reader_gone(folder, words, "stderr", 0)
            findings.check(status in (usual, 2), f"{name}, nobody reads errors, usually {usual}: {status}")
    findings.note(f"{len(COMMANDS)} commands")
    return findings.end()


if __name__ == "__main__":
    sys.exit(main())
