"""
The environment: from a bare Python to everything that is needed, out of the hash-locked set.

    python3 tools/bootstrap.py run      what the server needs
    python3 tools/bootstrap.py dev      what tests and checks need besides
    python3 tools/bootstrap.py browser  Chromium for the page tests
    python3 tools/bootstrap.py lock     new lock files

Standard library only, and written so that any Python 3 can read it: one that is too old must still be able to say so.
"""

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
PYTHON = VENV / "bin" / "python"
STAMP = VENV / "silverwright.stamp"
LOCKS = {"run": "requirements.lock", "dev": "requirements-dev.lock"}
OLDEST, NEWEST = (3, 11), (3, 13)  # the versions that the lock was tried on
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")


def say(sentence: str) -> None:
    """Messages go beside the data."""
    sys.stderr.write(sentence + "\n")
    sys.stderr.flush()


def refusal(version: "tuple[int, int]", can_make: bool) -> str:
    """Why this Python cannot be used, in one sentence; nothing when it can."""
    if not OLDEST <= version <= NEWEST:
        what = "too old" if version < OLDEST else "newer than this version was tried with"
        meant = "silverwright needs Python 3.11, 3.12 or 3.13; this one is %d.%d, %s"
        return (meant + ": name another one, as in `make run PYTHON=python3.12`.") % (version[0], version[1], what)
    if not can_make:
        return "This Python cannot make an environment, since it came without venv: install it (Debian, Ubuntu: `apt install python3-venv`), or uv."
    return ""


def uv_works() -> bool:
    """Is uv there, and does it run?"""
    if shutil.which("uv") is None:
        return False
    return subprocess.call(["uv", "--version"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) == 0


def venv_works() -> bool:
    """Does this Python bring venv and pip?"""
    try:
        import ensurepip  # noqa: F401, PLC0415 (Debian ships them apart)
        import venv  # noqa: F401, PLC0415
    except ImportError:
        return False
    return True


def place() -> str:
    """Where the environment stands and for which Python: a change of either makes a new one."""
    return "%d.%d %s" % (sys.version_info[0], sys.version_info[1], ROOT)


def fingerprint(kind: str) -> str:
    """What the environment was filled from: a change of it fills again."""
    found = hashlib.sha256()
    for name in (LOCKS[kind], "pyproject.toml"):
        found.update((ROOT / name).read_bytes())
    return "%s %s" % (kind, found.hexdigest())


def stamp() -> "list[str]":
    """Where the environment that is there was made, and from what."""
    if not STAMP.exists() or not PYTHON.exists():
        return ["", ""]
    return STAMP.read_text().split("\n")[:2]


def by_uv(lock: str, new: bool) -> bool:
    """Make and fill the environment with uv."""
    into = ["uv", "pip", "install", "--quiet", "--python", str(PYTHON)]
    return (
        (not new or run(["uv", "venv", "--quiet", "--clear", "--python", sys.executable, str(VENV)]))
        and run(into + ["--require-hashes", "--compile-bytecode", "-r", lock])
        and run(into + ["--no-deps", "--no-build-isolation", "-e", str(ROOT)])
    )


def by_pip(lock: str, new: bool) -> bool:
    """Make and fill the environment with what Python brings."""
    into = [str(PYTHON), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    pip_there = not new and subprocess.call([str(PYTHON), "-c", "import pip"], stderr=subprocess.DEVNULL) == 0  # uv leaves none
    return (
        (pip_there or run([sys.executable, "-m", "venv", "--clear", str(VENV)]))
        and run(into + ["--require-hashes", "--compile", "-r", lock])
        and run(into + ["--no-deps", "--no-build-isolation", "-e", str(ROOT)])
    )


def run(command: "list[str]") -> bool:
    """Run it in the checkout; did it work?"""
    try:
        return subprocess.call(command, cwd=str(ROOT)) == 0
    except OSError as error:
        say("%s: %s" % (command[0], error))
        return False


def environment(kind: str) -> int:
    """The environment of this kind; made only when what it is made from has changed."""
    here, filled = stamp()
    if here == place() and (filled == fingerprint(kind) or (kind == "run" and filled == fingerprint("dev"))):
        return 0
    has_uv, has_venv = uv_works(), venv_works()
    sentence = refusal(sys.version_info[:2], has_uv or has_venv)
    if sentence:
        say(sentence)
        return 1
    lock = str(ROOT / LOCKS[kind])
    say("Filling the environment in .venv from %s (again only when that file changes)." % LOCKS[kind])
    done = has_uv and by_uv(lock, here != place())
    if has_uv and not done:
        say("uv did not manage; trying pip.")
    if not done and not (has_venv and by_pip(lock, here != place())):
        say("The environment could not be made. What is above says why; your records are not touched.")
        return 1
    STAMP.write_text(place() + "\n" + fingerprint(kind) + "\n")
    return 0


def chromium() -> "str | None":
    """The browser for the page tests."""
    return os.environ.get("SILVERWRIGHT_CHROMIUM") or next((path for path in map(shutil.which, BROWSERS) if path), None)


def browser() -> int:
    """Bring Chromium where that is ours to do, and say loudly where it is not."""
    if chromium():
        return 0
    if Path("/etc/debian_version").exists() and shutil.which("apt-get") and os.geteuid() == 0:
        say("The page tests need Chromium. Installing the system package `chromium` with apt-get now.")
        quiet = dict(os.environ, DEBIAN_FRONTEND="noninteractive")
        subprocess.call(["apt-get", "update", "-qq"], env=quiet)
        subprocess.call(["apt-get", "install", "-y", "-qq", "--no-install-recommends", "chromium"], env=quiet)
    if chromium():
        return 0
    say("=" * 78)
    say("NO CHROMIUM: the page tests will be SKIPPED. Install it (or set SILVERWRIGHT_CHROMIUM) and run again.")
    say("=" * 78)
    return 1 if os.environ.get("CI") == "true" else 0


def lock() -> int:
    """Both lock files, for every Python that is meant, with hashes and without addresses."""
    if not uv_works():
        say("`make lock` needs uv.")
        return 1
    shared = ["uv", "pip", "compile", "--quiet", "--universal", "--python-version", "3.11", "--generate-hashes"]
    shared += ["--upgrade"] if os.environ.get("UPGRADE") else []
    shared += ["--no-emit-index-url", "--no-emit-find-links", "--no-header", "pyproject.toml"]
    made = run(shared + ["--group", "build", "-o", LOCKS["run"]])
    return 0 if made and run(shared + ["--group", "build", "--group", "dev", "-c", LOCKS["run"], "-o", LOCKS["dev"]]) else 1


def main() -> int:
    """Do what is asked."""
    acts = {"run": lambda: environment("run"), "dev": lambda: environment("dev"), "browser": browser, "lock": lock}
    if len(sys.argv) != 2 or sys.argv[1] not in acts:  # noqa: PLR2004 (the program and one word)
        say("usage: bootstrap.py %s" % " | ".join(acts))
        return 2
    return acts[sys.argv[1]]()


if __name__ == "__main__":
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        say("Stopped. The next start goes on from here; your records are not touched.")
        sys.exit(130)
