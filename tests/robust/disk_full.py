#!/usr/bin/env python3
"""Lets the disk be full for every command that writes:

    tests/robust/disk_full.py [--full]

Four ways: every single call that needs room fails in turn (fail_at.c), a file may not grow (ulimit -f), standard output is
/dev/full, and, where this user may mount one, a file system with 0 to 128 KiB left (tmpfs). Each time there must be a
message with a mend and exit status 2, an older file must be as it was, and nothing half-written may be left. One
summary line; exit status 0 only if nothing was wrong."""
import os
import shutil
import subprocess
import sys

from common import DETENT, FULL, Findings, Folder, failing, fail_at, read, run
from kill import BOAT, design, evidence_of

FULL_DISK = 28
TALK = b"new_on pressed\n1 s\nnew_on released\n2 s\nsave over x.run\nquit\n"
TALK_CSV = b"new_on pressed\n1 s\nsave over x.csv\nquit\n"


class Writer:
    def __init__(self, name, words, target, over, stdin=b""):
        self.name, self.words, self.target, self.over, self.stdin = name, words, target, over, stdin

    def run(self, folder, **more):
        return run([DETENT] + self.words, cwd=folder.path, stdin=self.stdin, **more)


WRITERS = [
    Writer("report", ["report", BOAT, "-o", "x.html"], "x.html", True),
    Writer("step, a run", ["step", "new.detent"], "x.run", True, TALK),
    Writer("step, a log", ["step", "new.detent"], "x.csv", True, TALK_CSV),
    Writer("drill", ["drill", "new.detent", "--no-changes", "-o", "x.md"], "x.md", False),
    Writer("drill, a table", ["drill", "new.detent", "--no-changes", "--format", "csv", "-o", "x.csv"], None, False),
    Writer("new", ["new", "--from", "emergency_stop", "-o", "x.detent"], "x.detent", False),
    Writer("lesson", ["lesson", "1", "--write", "."], None, False),
    Writer("evidence", ["check", "new.detent", "--evidence", "ev"], "ev", True),
]
TALKING = [["check", "new.detent"], ["check", "new.detent", "--format", "json"], ["show", "new.detent"],
           ["why", "new.detent", "--claim", "safe0"], ["compare", "new.detent", "old.detent"],
           ["faults", "new.detent"], ["gaps", "new.detent"], ["tune", BOAT, "--only", "patience", "--step", "1 s"],
           ["report", "new.detent"], ["drill", "new.detent", "--no-changes"], ["step", "new.detent"],
           ["new", "--from", "emergency_stop", "-o", "-"], ["new"], ["lesson"], ["lesson", "1"],
           ["recheck", "older", "--solver", "z3"]]
SOURCES = ("new.detent", "old.detent", "older")


class Disk:
    def __init__(self, folder, findings):
        self.folder, self.findings = folder, findings
        folder.write("old.detent", design("old", 3))
        folder.write("new.detent", design("new", 3))
        run([DETENT, "check", "old.detent", "--evidence", "older"], cwd=folder.path)
        findings.check(evidence_of(folder.at("older")) == "old", "there is no evidence to begin with")

    def prepare(self, writer):
        for name in os.listdir(self.folder.path):
            path = self.folder.at(name)
            if name in SOURCES or name == "filler":
                continue
            shutil.rmtree(path) if os.path.isdir(path) else os.remove(path)
        if writer.name == "evidence":
            shutil.copytree(self.folder.at("older"), self.folder.at("ev"))
        elif writer.over:
            self.folder.write(writer.target, "older\n")

    def left(self):
        return {name: read(self.folder.at(name)) for name in os.listdir(self.folder.path)
                if name not in SOURCES and name not in ("filler", "ev")}

    def judge(self, writer, ended, whole, how):
        words = f"{writer.name}, {how}: {ended.words()} left {sorted(self.left())}"
        told = ended.status == 2 and "mend:" in ended.err + ended.out
        left = self.left()
        if writer.name == "evidence":
            what = evidence_of(self.folder.at("ev"))
            good = what == "new" if ended.status == 0 else told and what in ("old", "none")
        elif ended.status == 2 and writer.target:
            good = told and left == ({writer.target: b"older\n"} if writer.over else {})
        elif ended.status == 2:  # several files: each whole or not there
            good = told and all(left[name] == whole.get(name) for name in left)
        else:
            good = left == whole and ended.status in (0, 1)
        self.findings.check(good, words)

    def whole(self, writer):
        self.prepare(writer)
        ended = writer.run(self.folder)
        whole = self.left()
        self.findings.check(ended.status in (0, 1) and (whole or writer.name == "evidence"),
                            f"{writer.name}: {ended.words()}")
        return whole


def every_call(disk, shim):
    calls = 0
    for writer in WRITERS:
        whole = disk.whole(writer)
        with Folder() as logs:
            log = logs.at("count")
            disk.prepare(writer)
            writer.run(disk.folder, env=failing(shim, 10**9, FULL_DISK, log))
            count = int(read(log) or b"0")
        for number in range(1, count + 1):
            disk.prepare(writer)
            ended = writer.run(disk.folder, env=failing(shim, number, FULL_DISK))
            disk.judge(writer, ended, whole, f"no room from call {number} of {count} on")
        calls += count
    disk.findings.note(f"each of {calls} calls that need room")


def small_files(disk):
    sizes = [0, 100, 1000] + ([3000, 10000, 30000, 100000] if FULL else [])
    for writer in WRITERS:
        whole = disk.whole(writer)
        for size in sizes:
            disk.prepare(writer)
            disk.judge(writer, writer.run(disk.folder, file_size=size), whole, f"files of up to {size} bytes")


def full_streams(disk):
    for words in TALKING:
        with open("/dev/full", "wb") as full:
            ended = run([DETENT] + words, cwd=disk.folder.path, stdout=full)
        told = "standard output" in ended.err and "mend:" in ended.err
        disk.findings.check(ended.status == 2 and told, f"{' '.join(words)} > /dev/full: {ended.words()}")
        with open("/dev/full", "wb") as full:
            ended = run([DETENT] + words + ["--nonsense"], cwd=disk.folder.path, stderr=full)
        disk.findings.check(ended.status == 2, f"{' '.join(words)} --nonsense 2> /dev/full: {ended.words()}")


def small_disk(findings):
    """In a mount namespace of its own, where a small file system can be mounted."""
    with Folder() as folder:
        mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=512k", "none", folder.path],
                                 stderr=subprocess.DEVNULL, check=False).returncode == 0
        if not mounted:
            print("disk_full: no small file system can be mounted")
            return
        disk = Disk(folder, findings)
        for writer in WRITERS:
            filler = folder.at("filler")
            if os.path.exists(filler):
                os.remove(filler)
            whole = disk.whole(writer)
            for room in (0, 1, 2, 4, 8, 16, 32, 64, 128) if FULL else (0, 2, 8):
                disk.prepare(writer)
                fill(filler, room * 1024)
                disk.judge(writer, writer.run(folder), whole, f"{room} KiB left")
        subprocess.run(["umount", folder.path], check=False)


def fill(path, room):
    if os.path.exists(path):
        os.remove(path)
    try:
        with open(path, "wb", buffering=0) as file:
            while file.write(bytes(4096)) == 4096:
                pass
    except OSError:
        pass
    if os.path.exists(path):
        os.truncate(path, max(0, os.path.getsize(path) // 4096 * 4096 - room))


def main():
    findings = Findings("full disk")
    if "--small-disk" in sys.argv:
        small_disk(findings)
        return findings.end()
    with Folder() as tools, Folder() as folder:
        disk = Disk(folder, findings)
        every_call(disk, fail_at(tools.path))
        small_files(disk)
        full_streams(disk)
    again = [sys.executable, os.path.abspath(__file__), "--small-disk"] + (["--full"] if FULL else [])
    for unshare in (["unshare", "-m"], ["unshare", "-rm"]):
        if subprocess.run(unshare + ["true"], stderr=subprocess.DEVNULL, check=False).returncode == 0:
            inner = subprocess.run(unshare + again, stdout=subprocess.PIPE, text=True, check=False)
            print(inner.stdout, end="")
            findings.check(inner.returncode == 0, "on a small file system")
            break
    else:
        findings.note("no small file system, which this user may not mount")
    return findings.end()


if __name__ == "__main__":
    sys.exit(main())
