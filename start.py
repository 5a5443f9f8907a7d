"""Starts monreq from a checkout, on a machine that has nothing but Python.

    python3 start.py demo     try monreq with a made-up band
    python3 start.py serve    run a show
    python3 start.py test     run every check; with words behind it only pytest with them:
                              python3 start.py test tests/web/test_desk.py -k undo

monreq is installed into .venv beside this file, and again only when what it is installed from
has changed. All other words are passed to the monreq command.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import IO

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
PROGRAMS = VENV / ("Scripts" if os.name == "nt" else "bin")
STAMP = VENV / "monreq-installed.txt"
INSTALLED_FROM = ("pyproject.toml", "hatch_build.py", "monreq/web/scripts", "monreq/translations")
OLDEST_PYTHON = (3, 11)

QUICK = (("ruff", "format", "--check", "."), ("ruff", "check", "."), ("lint-imports", "--no-logo"))
SLOW = ("mypy",)
TESTS = ("pytest", "--durations=10")


class CannotStartError(Exception):
    """The reason, in one line that says what to do."""


def main(words: list[str]) -> int:
    """Do what the words say and return the exit code."""
    try:
        check_python(sys.version_info[:2])
        if words[:1] == ["test"]:
            install("test")
            return run_checks(words[1:])
        install()
        return run_monreq(words or ["--help"])
    except CannotStartError as reason:
        print(f"start.py: {reason}", file=sys.stderr)
        return 1


def check_python(version: tuple[int, ...]) -> None:
    """Refuse a Python that is too old for monreq.

    Raises:
        CannotStartError: It is.
    """
    if version < OLDEST_PYTHON:
        this, oldest = (".".join(map(str, numbers)) for numbers in (version, OLDEST_PYTHON))
        raise CannotStartError(f"this is Python {this}; monreq needs {oldest} or newer")


def install(extra: str = "") -> None:
    """Install monreq and what it needs into .venv, unless that has been done.

    Args:
        extra: "test" to install what the checks need as well.

    Raises:
        CannotStartError: It could not be installed.
    """
    is_sound = venv_is_sound()
    if is_sound and is_installed(extra):
        return
    if not is_sound:
        make_venv()
    say("installing monreq into .venv; the first time this takes a minute and the internet")
    what = f".[{extra}]" if extra else "."
    if run("python", "-m", "pip", "install", "-qq", "--editable", what) != 0:
        raise CannotStartError("monreq could not be installed: the reason stands above")
    STAMP.write_text(f"{digest(ROOT)} {extra}", encoding="ascii")


def is_installed(extra: str) -> bool:
    """Tell whether what .venv holds was installed from the files as they are now."""
    done = STAMP.read_text(encoding="ascii").split(" ") if STAMP.is_file() else []
    return done[:1] == [digest(ROOT)] and (not extra or done[1:] == [extra])


def digest(root: Path) -> str:
    """Hash where the checkout is and the files that it is installed from."""
    found = hashlib.sha256(str(root).encode())
    for name in INSTALLED_FROM:
        for path in sorted([root / name, *(root / name).rglob("*")]):
            if path.is_file() and "node_modules" not in path.parts and path.suffix != ".mo":
                found.update(f"{path.name} {path.stat().st_size} ".encode() + path.read_bytes())
    return found.hexdigest()


def venv_is_sound() -> bool:
    """Tell whether .venv holds a Python that runs and can install."""
    command = [str(PROGRAMS / "python"), "-c", "import pip"]
    try:
        return subprocess.run(command, capture_output=True, check=False).returncode == 0
    except OSError:
        return False


def make_venv() -> None:
    """Make .venv, in the place of a broken one if there is one.

    Raises:
        CannotStartError: This Python cannot make one.
    """
    if not (importlib.util.find_spec("venv") and importlib.util.find_spec("ensurepip")):
        raise CannotStartError("this Python lacks venv; on Debian, Ubuntu: apt install python3-venv")
    command = [sys.executable, "-m", "venv", "--clear", str(VENV)]
    if subprocess.run(command, check=False).returncode != 0:
        raise CannotStartError(f"{VENV} could not be made: the reason stands above")


def run_checks(pytest_words: list[str]) -> int:
    """Run every check, whatever the others say, and name those that failed; with words only pytest."""
    if pytest_words:
        return run(*TESTS, *pytest_words)
    beside = [Beside(check) for check in (*QUICK, SLOW)]
    ended = [check.end() for check in beside[:-1]]
    say(" ".join(TESTS))
    ended.append((" ".join(TESTS), run(*TESTS)))
    ended.append(beside[-1].end())
    failed = [name for name, code in ended if code != 0]
    if failed:
        say(f"failed: {', '.join(failed)}")
    return 1 if failed else 0


class Beside:
    """A check that runs beside others, and what it says, kept until it ended so that it stands in one piece."""

    def __init__(self, check: tuple[str, ...]) -> None:
        self.name = " ".join(check)
        self.said: IO[bytes] = tempfile.TemporaryFile()  # noqa: SIM115 - closed when the check ended
        command = [str(PROGRAMS / check[0]), *check[1:]]
        self.process = subprocess.Popen(command, cwd=ROOT, stdout=self.said, stderr=subprocess.STDOUT)

    def end(self) -> tuple[str, int]:
        """Wait for its end and tell what it said; returns its name and exit code."""
        code = self.process.wait()
        say(self.name)
        self.said.seek(0)
        sys.stdout.write(self.said.read().decode(errors="replace"))
        sys.stdout.flush()
        self.said.close()
        return self.name, code


def run(name: str, *words: str) -> int:
    """Run a program of .venv in the checkout and return its exit code."""
    return subprocess.run([str(PROGRAMS / name), *words], cwd=ROOT, check=False).returncode


def run_monreq(words: list[str]) -> int:
    """Run monreq where the user stands, so that file names mean what they say."""
    command = [str(PROGRAMS / "monreq"), *words]
    if os.name != "nt":
        os.execv(command[0], command)
    process = subprocess.Popen(command)
    while True:
        try:
            return process.wait()
        except KeyboardInterrupt:
            # monreq was told as well, and is about to end in order.
            continue


def say(what: str) -> None:
    """Tell what is going on, apart from what the programs print."""
    print(f"start.py: {what}", file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
