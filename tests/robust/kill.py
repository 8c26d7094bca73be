#!/usr/bin/env python3
"""Ends detent by SIGKILL while it writes, and looks at what is left:

    tests/robust/kill.py [--full]

Twice: at every single call that changes a file (fail_at.c), and at moments by chance, spread over the whole run (500 with
--full, else 20). Evidence that is left must be whole and all of one check, or there is no index and `recheck` refuses
the folder; a report, a run, a log, a bench list and a new design must be whole, or the older one, or not there. One
summary line; exit status 0 only if nothing was wrong."""
import hashlib
import json
import os
import random
import re
import shutil
import subprocess
import sys
import time

from common import DETENT, FULL, SPECS, Findings, Folder, failing, fail_at, read, run

BOAT = os.path.join(SPECS, "boat", "pump_jet.detent")
AT_RANDOM = int(os.environ.get("DETENT_KILLS", "500" if FULL else "20"))


def design(mark, claims, skip=()):
    """Every file of its evidence names a signal with `mark` in it. The claims have the same names whatever the mark."""
    text = f'design "{mark}"\ntick 20 ms\nbutton {mark}_on\nbutton {mark}_off\n'
    text += f"latch {mark}_lamp set {mark}_on reset {mark}_off\n"
    for i in range(claims):
        if i in skip:
            continue
        text += f"delay {mark}_d{i} on {mark}_lamp for {20 * (i + 2)} ms\n"
        text += f"claim safe{i}: whenever {mark}_d{i}: {mark}_lamp\n"
        if i % 3 == 0:
            text += f"claim can{i}: possible {mark}_d{i}\n"
    return text


def evidence_of(folder):
    """The mark of the only check that this evidence is of; "none" without an index; else what is wrong, in words."""
    text = read(os.path.join(folder, "index.json"))
    if text is None:
        return "none"
    try:
        index = json.loads(text)
    except ValueError:
        return "an index that is cut"
    marks = set()
    listed = [name for claim in index["claims"] for name in claim["proof"] + claim["run"]]
    for name in listed:
        file = read(os.path.join(folder, name))
        if file is None:
            return f"{name} is missing"
        if hashlib.sha256(file).hexdigest() != index["sha256"][name]:
            return f"{name} is not what the index says"
        if name.endswith(".smt2") and b"\n(check-sat)\n" not in file:
            return f"{name} is cut"
        marks.update(re.findall(rb"(old|new)_", file))
    stray = [n for n in os.listdir(folder) if re.search(r"\.(smt2|run\.json|run\.vcd)$", n) and n not in listed]
    if stray:
        return f"{stray[0]} is no part of it"
    return marks.pop().decode() if len(marks) == 1 else f"marks of {len(marks)} checks"


class Evidence:
    def __init__(self, folder, findings, claims):
        self.folder, self.findings = folder, findings
        folder.write("old.detent", design("old", claims))
        folder.write("new.detent", design("new", claims, skip=(1,)))
        self.check("old", "older")
        self.counts = {}

    def check(self, which, name, env=None, kill_after=None):
        words = [DETENT, "check", which + ".detent", "--evidence", name]
        if kill_after is None:
            return run(words, cwd=self.folder.path, env=env).status
        child = subprocess.Popen(words, cwd=self.folder.path, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        try:
            child.wait(kill_after)
        except subprocess.TimeoutExpired:
            child.kill()
        return child.wait()

    def prepare(self, name, mode):
        if mode != "after a kill":
            shutil.rmtree(self.folder.at(name), ignore_errors=True)
        if mode == "over older":
            shutil.copytree(self.folder.at("older"), self.folder.at(name))

    def judge(self, name, mode, when):
        what = evidence_of(self.folder.at(name))
        allowed = {"none", "new"} | ({"old"} if mode != "fresh" else set())
        self.counts[what] = self.counts.get(what, 0) + 1
        self.findings.check(what in allowed, f"evidence, {mode}, killed {when}: {what}")
        self.counts["half"] = self.counts.get("half", 0) + (what == "none" and os.path.isdir(self.folder.at(name)) and
                                                            len(os.listdir(self.folder.at(name))) > 0)
        if what == "none":
            refused = run([DETENT, "recheck", name, "--solver", "true"], cwd=self.folder.path)
            self.findings.check(refused.status == 2 and "no finished evidence" in refused.err,
                                f"recheck, {mode}, killed {when}: {refused.words()}")

    def recover(self, name, when):
        """The next check leaves whole evidence and nothing of what was there."""
        self.findings.check(self.check("new", name) == 0 and evidence_of(self.folder.at(name)) == "new" and
                            not any("unfinished" in n or ".part" in n for n in os.listdir(self.folder.at(name))),
                            f"the check after one that was killed {when}: {evidence_of(self.folder.at(name))}")

    def every_call(self, shim):
        for mode in ("fresh", "over older"):
            number = 1
            while True:
                self.prepare("ev", mode)
                status = self.check("new", "ev", env=failing(shim, number, "kill"))
                self.judge("ev", mode, f"at call {number}")
                if status != 128 + 9:
                    self.findings.check(status == 0, f"status {status} without a kill")
                    break
                if number % 10 == 1:
                    self.recover("ev", f"at call {number}")
                number += 1
            self.findings.note(f"evidence {mode}: each of {number - 1} calls")

    def at_random(self, chance, count):
        begin = time.monotonic()
        self.prepare("ev", "fresh")
        self.check("new", "ev")
        whole = time.monotonic() - begin
        for number in range(count):
            mode = ("fresh", "over older", "after a kill")[number % 3]
            self.prepare("ev", mode)
            after = chance.uniform(0, 1.1 * whole)
            self.check("new", "ev", kill_after=after)
            self.judge("ev", mode, f"after {after:.4f} s of {whole:.4f} s")
        self.recover("ev", "by chance")
        kept = {key: value for key, value in sorted(self.counts.items())}
        self.findings.note(f"evidence by chance: {count} kills in runs of {whole:.2f} s; left in all: "
                           f"{kept.get('none', 0)} without index ({kept.get('half', 0)} of them with something in it), "
                           f"{kept.get('old', 0)} the older, {kept.get('new', 0)} the new")


def single_files(folder):
    """Each command that writes one file: its words, what it reads, the file, and whether it writes over an older one."""
    folder.write("lamp.detent", design("new", 3))
    talk = b"new_on pressed\n1 s\nnew_on released\n2 s\nsave over x.run\nsave over x.csv\nquit\n"
    return [
        ("report", ["report", BOAT, "-o", "x.html"], b"", ["x.html"], True),
        ("step", ["step", "lamp.detent"], talk, ["x.run", "x.csv"], True),
        ("drill", ["drill", "lamp.detent", "--no-changes", "-o", "x.md"], b"", ["x.md"], False),
        ("new", ["new", "--from", "emergency_stop", "-o", "x.detent"], b"", ["x.detent"], False),
        ("lesson", ["lesson", "1", "--write", "."], b"", None, False),
    ]


def kill_single(name, words, stdin, targets, over, folder, shim, chance, findings):
    def clean():
        for file in os.listdir(folder.path):
            if file not in ("lamp.detent",):
                os.remove(folder.at(file))

    clean()
    begin = time.monotonic()
    run([DETENT] + words, cwd=folder.path, stdin=stdin)
    whole = time.monotonic() - begin
    names = targets or [n for n in os.listdir(folder.path) if n not in ("lamp.detent",)]
    right = {target: read(folder.at(target)) for target in names}
    findings.check(len(names) > 0 and all(right.values()), f"{name} writes nothing")

    def judge(when):
        for target in names:
            left = read(folder.at(target))
            good = left == right[target] or (left == b"older\n" if over else left is None)
            findings.check(good, f"{name}, killed {when}: {target} has {len(left or b'')} bytes of "
                                 f"{len(right[target])}")

    def prepare():
        clean()
        if over:
            for target in names:
                folder.write(target, "older\n")

    number = 1
    while True:
        prepare()
        ended = run([DETENT] + words, cwd=folder.path, stdin=stdin, env=failing(shim, number, "kill"))
        judge(f"at call {number}")
        if ended.status != 128 + 9:
            break
        number += 1
    for _ in range(AT_RANDOM // 10):
        prepare()
        run([DETENT] + words, cwd=folder.path, stdin=stdin, limit=chance.uniform(0, 1.1 * whole))
        judge("by chance")
    findings.note(f"{name}: each of {number - 1} calls, {AT_RANDOM // 10} by chance")


def main():
    findings = Findings("kill -9")
    chance = random.Random(7)
    with Folder() as tools:
        shim = fail_at(tools.path)
        with Folder() as folder:
            Evidence(folder, findings, 3).every_call(shim)
        with Folder() as folder:
            Evidence(folder, findings, 40 if FULL else 10).at_random(chance, AT_RANDOM)
        with Folder() as folder:
            for name, words, stdin, targets, over in single_files(folder):
                kill_single(name, words, stdin, targets, over, folder, shim, chance, findings)
    return findings.end()


if __name__ == "__main__":
    sys.exit(main())
