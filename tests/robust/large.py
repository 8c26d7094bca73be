#!/usr/bin/env python3
"""A design of 100,000 lines, and how time and memory grow on the way there:

    tests/robust/large.py [--full]

Units of ten lines, each a small machine of its own but for an interlock with the unit before it. 1,000, 3,000 and 10,000
lines, with --full also 30,000 and 100,000: time and memory of `show`, of `check` of one claim, and of `check` of all. What
ten times the lines cost in more than about ten times the time is told. One summary line; exit status 0 only if every command
ended well within its limits."""
import sys

from common import DETENT, FULL, GIB, Findings, Folder, run

SECONDS = 1200 if FULL else 120
MEMORY = 8 * GIB


def design(lines):
    text = ['design "Large"', "tick 20 ms", "button a0", "button z0", "latch l0 set a0 reset z0",
            "signal s0 = l0 and not z0"]
    unit = 0
    while len(text) + 10 <= lines:
        unit += 1
        i, before = unit, unit - 1
        text += [f"button a{i}",
                 f"button z{i}",
                 f"latch l{i} set a{i} reset z{i}",
                 f"delay d{i} on l{i} for {40 + 20 * (i % 50)} ms",
                 f"signal s{i} = d{i} and not z{i}",
                 f"pulse p{i} on s{i} for 300 ms",
                 f"signal k{i} = s{i} and not s{before}",
                 f"output o{i} = 100 % when k{i} else 0 %",
                 f"claim w{i}: whenever z{i}: not s{i}",
                 f"claim m{i}: possible k{i}" if i % 10 == 0 else f"// unit {i}"]
    text += [f"// end {i}" for i in range(lines - len(text))]
    return "\n".join(text) + "\n", unit


def main():
    findings = Findings("large design")
    sizes = [1_000, 3_000, 10_000] + ([30_000, 100_000] if FULL else [])
    seconds = {}
    with Folder() as folder:
        for lines in sizes:
            text, units = design(lines)
            folder.write("large.detent", text)
            for name, words in (("show", ["show", "large.detent"]),
                                ("show circuit", ["show", "large.detent", "circuit"]),
                                ("one claim", ["check", "large.detent", "--claim", f"w{units}"]),
                                ("all claims", ["check", "large.detent", "--timeout", "60 s"])):
                if lines > 10_000 and name == "all claims" and "--all" not in sys.argv and not FULL:
                    continue
                ended = run([DETENT] + words, cwd=folder.path, limit=SECONDS, memory=MEMORY)
                good = ended.status == 0
                findings.check(good, f"{name} of {lines} lines: {ended.words()}")
                last = ended.out.strip().splitlines()[-2:-1] if name == "all claims" else []
                print(f"{lines:7} lines, {units:5} units, {len(text) // 1024} KiB: {name:12} {ended.busy:7.2f} s busy, {ended.seconds:7.2f} s, "
                      f"{ended.peak_kib // 1024:5} MiB {' '.join(last)}", flush=True)
                seconds[name, lines] = ended.busy
    growth = [f"{name} {seconds[name, sizes[-1]] / max(seconds[name, sizes[-3]], 1e-3):.0f}"
              for name in ("show", "one claim", "all claims") if (name, sizes[-1]) in seconds]
    findings.note(f"{sizes[-1]} lines cost so many times what {sizes[-3]} do: " + ", ".join(growth))
    return findings.end()


if __name__ == "__main__":
    sys.exit(main())
