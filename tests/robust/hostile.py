#!/usr/bin/env python3
"""Gives every command that reads a file what it should never be given:

    tests/robust/hostile.py [--full]

For each there must be the right exit status, for what is wrong 2 with a message that names the file and the mend, within
60 s of processor time and 1 GiB (1.5 GiB with --full, whose inputs are larger), and no crash. With --full every input goes
to every command, else each input to `check` and to some other command in turn. One summary line; exit status 0 only if
nothing was wrong."""
import os
import sys

from common import DETENT, FULL, GIB, SANITIZED, SMALL_DESIGN, Findings, Folder, run

SECONDS = 60  # of processor time: this machine may do other work
PATIENCE = 600  # on the clock
MOST_KIB = (GIB * 3 // 2 if FULL else GIB) // 1024  # 100,000 claims with each of four faults are half a million verdicts


def deep(open_, close, depth=100_000):
    return f"tick 20 ms\nbutton b\nsignal s = {open_ * depth}b{close * depth}\nclaim c: never s\n"


def many_claims(count):
    lines = ["tick 20 ms", "button b", "latch l set b reset not b"]
    lines += [f"claim c{i}: never l and not b" for i in range(count)]
    return "\n".join(lines) + "\n"


def texts():
    """Name to text, and the exit statuses that are right."""
    digits = "9" * 400
    name = "n" * 1_000_000
    wrong = {2}
    whatever = {0, 1, 2, 3}
    yield "empty", "", wrong
    yield "blank", "\n \t\n", wrong
    yield "nul", b"tick 20 ms\nbutton b\0\n", wrong
    yield "bad_utf8", b"tick 20 ms\nbutton b \"\xff\xfe\xc0\x80\"\nclaim c: never b\n", wrong
    yield "only_bytes", bytes(range(256)) * 1000, wrong
    yield "utf16", SMALL_DESIGN.encode("utf-16"), wrong
    yield "escapes", b"tick 20 ms\nbutton \x1b[31mb\nclaim c: never b\n", wrong
    yield "brackets", deep("(", ")"), wrong
    yield "open_brackets", deep("(", ""), wrong
    yield "not_not", deep("not ", ""), wrong
    yield "previous", deep("previous(", ")"), wrong
    yield "quote", 'design "' + "x" * 3_000_000, wrong
    yield "digits", f"tick 20 ms\nchannel t from 0 % to {digits} %\nclaim c: never t > 3 %\n", wrong
    yield "digits_time", f"tick 20 ms\nbutton b\ndelay d on b for {digits} ms\nclaim c: never d\n", wrong
    yield "fraction", f"tick 20 ms\nchannel t from 0 % to 0.{digits} %\nclaim c: never t > 3 %\n", wrong
    yield "tick_zero", "tick 0 ms\nbutton b\nclaim c: never b\n", wrong
    yield "ticks", ("tick 1 ms\nbutton b\ndelay d on b for 1000000000 s\nclaim c: never d and not b\n"), wrong
    yield "include_self", 'include "include_self"\ntick 20 ms\nbutton b\nclaim c: never b\n', wrong
    yield "include_circle", 'include "include_back"\ntick 20 ms\nbutton b\nclaim c: never b\n', wrong
    yield "include_missing", 'include "nowhere"\ntick 20 ms\nbutton b\nclaim c: never b\n', wrong
    yield "include_zero", 'include "/dev/zero"\ntick 20 ms\nbutton b\nclaim c: never b\n', wrong
    yield "include_fifo", 'include "fifo"\ntick 20 ms\nbutton b\nclaim c: never b\n', wrong
    yield "lines", "\n" * 4_000_000, wrong
    yield "long_line", "tick 20 ms\nbutton b\nsignal s = b" + " or b" * 400_000 + "\nclaim c: never s\n", whatever
    yield "long_comment", SMALL_DESIGN + "//" + "x" * 3_000_000 + "\n", whatever
    yield "long_name", f"tick 20 ms\nbutton {name}\nclaim c: never {name}\n", whatever
    yield "unknown_long_name", f"tick 20 ms\nbutton b\nclaim c: never {name}\n", wrong
    yield "claims", many_claims(100_000 if FULL else 10_000), whatever
    yield "unknown_names", "tick 20 ms\n" + "".join(f"signal s{i} = t{i}\n" for i in range(100_000)), wrong
    yield "same_names", "tick 20 ms\n" + "button b\n" * 100_000, wrong
    yield "chain", ("tick 20 ms\nbutton s0\n" + "".join(f"signal s{i} = previous(s{i - 1})\n" for i in range(1, 50_000)) +
                    "claim c: never s49999\n"), whatever
    yield "doubling", ("tick 20 ms\nchannel t0 from 0 % to 1 %\n" +
                       "".join(f"keep t{i} = t{i - 1} + t{i - 1} when true starting 0 %\n" for i in range(1, 200)) +
                       "claim c: never t199 > 0 %\n"), whatever
    yield "large", " " * 200_000_000, wrong
    yield "csv", "time,b\n" + "0,1\n" * 1000, wrong
    yield "json", '{"claims":' * 100_000, wrong
    yield "html", "<html>" * 1000, wrong


def make(folder):
    """All inputs as files: name, the statuses that are right, and the words by which a message may name the file."""
    inputs = []
    for name, text, statuses in texts():
        folder.write(name, text)
        inputs.append((name, statuses))
    folder.write("include_back", 'include "include_circle"\n')
    folder.write("good.detent", SMALL_DESIGN)
    os.mkdir(folder.at("directory"))
    os.mkfifo(folder.at("fifo"))
    os.symlink("loop_b", folder.at("loop_a"))
    os.symlink("loop_a", folder.at("loop_b"))
    os.symlink("nowhere", folder.at("dangling"))
    folder.write("unreadable", SMALL_DESIGN)
    os.chmod(folder.at("unreadable"), 0)
    special = ["directory", "missing", "fifo", "loop_a", "dangling", "/dev/zero", "/dev/full", "/proc/self/mem", "",
               "x" * 5000, "good.detent/below"]
    if os.geteuid() != 0:  # whoever may read everything can't be refused
        special.append("unreadable")
    return inputs + [(name, {2}) for name in special]


LIMITED = ["--timeout", "5 s", "--total-timeout", "10 s"]
# Each command that reads: {} is the hostile file. What of it is no design has its own reader.
DESIGNS = {
    "check": ["check", "{}", "--timeout", "5 s"],
    "check up to": ["check", "{}", "--within", "20 ticks", "--timeout", "5 s"],
    "check, JSON": ["check", "{}", "--timeout", "5 s", "--format", "json"],
    "check -": ["check", "-", "--timeout", "5 s"],
    "show": ["show", "{}"],
    "show tree": ["show", "{}", "tree"],
    "show circuit": ["show", "{}", "circuit"],
    "why": ["why", "{}", "--claim", "c", "--timeout", "5 s"],
    "compare A": ["compare", "{}", "good.detent"] + LIMITED,
    "compare B": ["compare", "good.detent", "{}"] + LIMITED,
    "faults": ["faults", "{}"] + LIMITED,
    "gaps": ["gaps", "{}"] + LIMITED,
    "tune": ["tune", "{}"] + LIMITED,
    "report": ["report", "{}", "-o", "page.html"] + LIMITED,
    "step": ["step", "{}"],
    "replay": ["replay", "{}", "log.csv"],
    "drill": ["drill", "{}", "--no-changes"] + LIMITED,
    "check of two": ["check", "good.detent", "{}", "--timeout", "5 s"],
    "a shard of faults": ["faults", "{}", "--shard", "1/2"] + LIMITED,
    "export, SARIF as JSON": ["export", "{}", "--as", "sarif", "--timeout", "5 s"],
    "export, DOT": ["export", "{}", "--as", "dot"],
    "format": ["format", "--check", "{}"],
    "format -": ["format", "-"],
    "lesson --with": ["lesson", "1", "--with", "{}", "--timeout", "5 s"],
}
OTHERS = {
    "check --run": ["check", "good.detent", "--run", "{}"],
    "replay a log": ["replay", "good.detent", "{}"],
    "replay -": ["replay", "good.detent", "-"],
    "drill --run": ["drill", "good.detent", "--no-changes", "--run", "{}"],
    "lesson": ["lesson", "./{}"],
    "merge": ["merge", "{}"],
    "recheck a folder": ["recheck", "{}", "--solver", "true"],
    "recheck an index": ["recheck", "evidence", "--solver", "true"],
    "step, load": ["step", "good.detent"],
}


def run_one(folder, command, words, name):
    """What is not a design is wrong for all other readers, whatever it is."""
    stdin = b""
    path = name if name.startswith("/") else folder.at(name)
    if command.endswith(" -"):
        if name.startswith("/") or not os.path.isfile(path) or not os.access(path, os.R_OK):
            return None
        with open(path, "rb") as file:
            stdin = file.read()
    if command == "step":
        stdin = b"power on\n1 s\nshow all\nclaims\nquit\n"
    if command == "step, load":
        stdin = f"power on\nload {name}\nquit\n".encode()
    if command == "recheck an index":
        index = folder.at("evidence", "index.json")
        os.makedirs(folder.at("evidence"), exist_ok=True)
        if os.path.lexists(index):
            os.remove(index)
        if len(path) > 4095:  # no link leads there (PATH_MAX of Linux)
            return None
        os.symlink(path, index)
    if command == "lesson" and (not name or name.startswith("/")):
        return None
    return run([DETENT] + [word.replace("{}", name) for word in words], cwd=folder.path, limit=PATIENCE, stdin=stdin)


def judge(findings, command, name, statuses, ended):
    shown = name if len(name) < 40 else f"a name of {len(name)} bytes"
    words = f"{command} of '{shown}': {ended.words()}"
    told = ended.err + (ended.out if "JSON" in command or command.startswith("step") else "")
    good = ended.status in statuses
    if good and ended.status == 2:
        base = name[-20:]
        place = any(words in told for words in (base, "the log", "the time column", "this design", "the design", "--claim")) or \
            command.endswith(" -") or command.startswith("recheck")
        mend = "mend" in told or "did you mean" in told
        good = place and mend and (len(told) < 200_000 or "JSON" in command)
        words = f"{words}{'' if place else ' (no place)'}{'' if mend else ' (no mend)'}"
    small = SANITIZED or (ended.peak_kib <= MOST_KIB and ended.busy <= SECONDS)
    findings.check(good and small, f"{words}, {ended.peak_kib // 1024} MiB")


def main():
    findings = Findings("hostile inputs")
    slowest, largest = (0.0, ""), (0, "")
    with Folder() as folder:
        inputs = make(folder)
        folder.write("log.csv", "time s,on_button,off_button\n0,0,0\n1,1,0\n")
        turn = 0
        for name, statuses in inputs:
            all_commands = list(DESIGNS.items()) + list(OTHERS.items())
            chosen = all_commands if FULL else [all_commands[0], all_commands[1 + turn % (len(all_commands) - 1)]]
            turn += 1
            for command, words in chosen:
                right = statuses if command in DESIGNS else {2} if command != "step, load" else {0, 2}
                if command in ("replay", "why", "tune", "step", "compare A", "compare B", "lesson --with"):
                    right = right | {2}  # it may lack what this command asks for
                if command.startswith("format"):
                    right = {0, 1, 2}  # names may be unknown, and 4 MiB are the most
                if command == "export, DOT":
                    right = right | {0}  # decides nothing
                ended = run_one(folder, command, words, name)
                if ended is None:
                    continue
                judge(findings, command, name, right, ended)
                slowest = max(slowest, (ended.busy, f"{command} of {name[:20]}"))
                largest = max(largest, (ended.peak_kib // 1024, f"{command} of {name[:20]}"))
    findings.note(f"{len(inputs)} inputs, {len(DESIGNS) + len(OTHERS)} readers")
    findings.note(f"slowest {slowest[0]:.1f} s ({slowest[1]}), largest {largest[0]} MiB ({largest[1]})")
    return findings.end()


if __name__ == "__main__":
    sys.exit(main())
