#!/usr/bin/env python3
"""64 checks at once:

    tests/robust/at_once.py [--full]

Every design in specs/, repeated until there are 64 (12 without --full), each checked alone and then all at the same time.
The verdicts must be the same, byte for byte. Told are the largest sum of their memory (proportional set sizes, looked at
every 100 ms) and the time. One summary line; exit status 0 only if nothing was wrong."""
import json
import os
import subprocess
import sys
import tempfile
import time

from common import DETENT, FULL, SPECS, Findings


def designs(count):
    files = sorted(os.path.join(folder, name) for folder, _, names in os.walk(SPECS) for name in names
                   if name.endswith(".detent") and not folder.endswith("parts"))
    return [files[i % len(files)] for i in range(count)]


def words(file):
    return [DETENT, "check", file, "--format", "json", "--jobs", "2", "--timeout", "600 s"]


def verdicts(text):
    """What must be the same: not how long it took, and not by which of several proofs or equally short runs."""
    try:
        document = json.loads(text)
    except ValueError:
        return "no JSON"
    return [(one.get("claim"), one.get("outcome") or one.get("verdict"), one.get("ticks"))
            for one in document["verdicts"]] + [document["exit_status"]]


def proportional_kib(pid):
    try:
        with open(f"/proc/{pid}/smaps_rollup", encoding="ascii") as file:
            return sum(int(line.split()[1]) for line in file if line.startswith("Pss:"))
    except (OSError, ValueError):
        return 0


def main():
    findings = Findings("at once")
    files = designs(64 if FULL else 12)
    begin = time.monotonic()
    alone = {}
    for file in files:
        if file not in alone:
            ended = subprocess.run(words(file), stdout=subprocess.PIPE, check=False)
            alone[file] = (ended.returncode, verdicts(ended.stdout))
    one_by_one = time.monotonic() - begin
    begin = time.monotonic()
    children = []
    for file in files:
        out = tempfile.TemporaryFile()
        children.append((file, out, subprocess.Popen(words(file), stdout=out)))
    most = 0
    while any(child.poll() is None for _, _, child in children):
        most = max(most, sum(proportional_kib(child.pid) for _, _, child in children))
        time.sleep(0.1)
    together = time.monotonic() - begin
    for file, out, child in children:
        out.seek(0)
        same = (child.returncode, verdicts(out.read())) == alone[file]
        findings.check(same and child.returncode in (0, 1), f"{file}: another answer among others")
    findings.note(f"{len(files)} checks of {len(alone)} designs; {len(alone)} one by one {one_by_one:.1f} s, "
                  f"{len(files)} together {together:.1f} s, {most // 1024} MiB in all")
    return findings.end()


if __name__ == "__main__":
    sys.exit(main())
