"""What the commands of this folder share: the program under test, run within limits, and how it ended."""
import os
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time

ROOT = os.path.abspath(os.path.join(os.path.dirname(__file__), "..", ".."))
DETENT = os.environ.get("DETENT", os.path.join(ROOT, "build", "detent"))
SPECS = os.path.join(ROOT, "specs")
FULL = os.environ.get("DETENT_ROBUST", "") == "full" or "--full" in sys.argv
# With DETENT_SANITIZED=1 the program was built with sanitizers: what it needs says nothing.
SANITIZED = os.environ.get("DETENT_SANITIZED", "") == "1"
GIB = 1 << 30

SMALL_DESIGN = """design "Lamp"
tick 20 ms
button on_button
button off_button
latch lamp set on_button reset off_button
output light = 100 % when lamp else 0 %
tunable pause = 100 ms from 40 ms to 200 ms
delay slow on lamp for pause
claim off_wins "Off wins.": whenever off_button: not lamp
claim slow_after_lamp "Slow needs the lamp.": whenever slow: lamp
claim can_shine "It can shine.": possible lamp
"""


class Ended:
    """How a process ended: `status` as a shell reports it, -1 if it was still there after the time allowed. `seconds` on
    the clock, `busy` of processor time."""

    def __init__(self, status, out, err, seconds, usage):
        self.status, self.out, self.err, self.seconds = status, out, err, seconds
        self.busy, self.peak_kib = usage.ru_utime + usage.ru_stime, usage.ru_maxrss

    @property
    def crashed(self):
        return self.status < 0 or self.status > 128 or self.status == 4

    def words(self):
        return f"status {self.status}, {self.seconds:.1f} s, busy {self.busy:.1f} s: {self.err[:300]!r}"


def run(words, cwd=None, limit=60.0, stdin=b"", memory=8 * GIB, file_size=None, env=None, stdout=None, stderr=None):
    """Runs a program to its end, or kills it after `limit` seconds (status -1). `memory` bounds its address space."""

    def limits():
        if memory and not SANITIZED:
            resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
        if file_size is not None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (file_size, file_size))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))

    surroundings = {"PATH": os.environ["PATH"], "LC_ALL": "C.UTF-8", "HOME": "/nonexistent"}
    surroundings.update(env or {})
    with tempfile.TemporaryFile() as given:
        given.write(stdin)
        given.seek(0)
        begin = time.monotonic()
        child = subprocess.Popen(words, cwd=cwd, stdin=given, stdout=subprocess.PIPE if stdout is None else stdout,
                                 stderr=subprocess.PIPE if stderr is None else stderr, env=surroundings,
                                 preexec_fn=limits, start_new_session=True)
        readers = [Reader(pipe) for pipe in (child.stdout, child.stderr)]
        status, usage = waited(child.pid, begin + limit)
        child.returncode = 0
        seconds = time.monotonic() - begin
        out, err = (reader.text() for reader in readers)
        return Ended(status, out, err, seconds, usage)


class Reader(threading.Thread):
    """Empties a pipe meanwhile. (A file would not do: it may be what has no room.)"""

    def __init__(self, pipe):
        super().__init__(daemon=True)
        self.pipe, self.parts = pipe, []
        if pipe is not None:
            self.start()

    def run(self):
        while part := os.read(self.pipe.fileno(), 1 << 20):
            self.parts.append(part)

    def text(self):
        if self.pipe is not None:
            self.join(10)
            self.pipe.close()
        return b"".join(self.parts).decode("utf-8", "replace")


def waited(pid, deadline):
    pause = 0.0005
    while True:
        done, status, usage = os.wait4(pid, os.WNOHANG)
        if done:
            code = os.waitstatus_to_exitcode(status)
            return (128 - code if code < 0 else code), usage
        if time.monotonic() > deadline:
            os.killpg(pid, signal.SIGKILL)
            _, _, usage = os.wait4(pid, 0)
            return -1, usage
        time.sleep(pause)
        pause = min(pause * 1.5, 0.02)


class Folder:
    """A folder for one command, gone afterwards."""

    def __init__(self, parent=None):
        self.path = tempfile.mkdtemp(prefix="detent-robust-", dir=parent)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        shutil.rmtree(self.path, ignore_errors=True)

    def at(self, *names):
        return os.path.join(self.path, *names)

    def write(self, name, text):
        with open(self.at(name), "wb") as file:
            file.write(text if isinstance(text, bytes) else text.encode())
        return self.at(name)


class Findings:
    """Counts what was tried and keeps what was wrong; `end()` says both in one line and gives the exit status."""

    def __init__(self, what):
        self.what, self.tried, self.wrong, self.notes = what, 0, [], []

    def check(self, good, words):
        self.tried += 1
        if not good:
            self.wrong.append(words)
            print(f"WRONG  {words}", flush=True)
        return good

    def note(self, words):
        self.notes.append(words)

    def end(self):
        more = "".join("; " + note for note in self.notes)
        print(f"{self.what}: {self.tried} tried, {len(self.wrong)} wrong{more}")
        return 1 if self.wrong or not self.tried else 0


def read(path):
    try:
        with open(path, "rb") as file:
            return file.read()
    except OSError:
        return None


def fail_at(folder):
    """Builds what makes a call fail (fail_at.c) in this folder; needs a C compiler."""
    compiler = shutil.which("cc") or shutil.which("gcc") or shutil.which("clang")
    source = os.path.join(os.path.dirname(os.path.abspath(__file__)), "fail_at.c")
    shim = os.path.join(folder, "fail_at.so")
    if not compiler or subprocess.call([compiler, "-shared", "-fPIC", "-O1", "-o", shim, source, "-ldl"]) != 0:
        sys.exit("a C compiler is needed for fail_at.c")
    return shim


def failing(shim, at, how, log=None):
    env = {"LD_PRELOAD": shim, "FAIL_AT": str(at), "FAIL_HOW": str(how)}
    if log:
        env["FAIL_LOG"] = log
    return env
