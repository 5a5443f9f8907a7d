"""The starter: what it refuses, and when it installs again."""

from pathlib import Path

import pytest

import start


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    (tmp_path / "pyproject.toml").write_text("[project]")
    (tmp_path / "monreq/web/scripts/src").mkdir(parents=True)
    (tmp_path / "monreq/web/scripts/src/main.js").write_text("start();")
    return tmp_path


def test_old_python_is_refused_in_one_line() -> None:
    with pytest.raises(start.CannotStartError) as refusal:
        start.check_python((3, 9))

    assert str(refusal.value) == "this is Python 3.9; monreq needs 3.11 or newer"


def test_oldest_python_is_the_one_that_the_package_asks_for() -> None:
    pyproject = (start.ROOT / "pyproject.toml").read_text(encoding="utf-8")
    oldest = ".".join(map(str, start.OLDEST_PYTHON))

    start.check_python(start.OLDEST_PYTHON)

    assert f'requires-python = ">={oldest}"' in pyproject


@pytest.mark.parametrize("changed", ["pyproject.toml", "monreq/web/scripts/src/main.js"])
def test_digest_changes_with_what_is_installed_from(checkout: Path, changed: str) -> None:
    before = start.digest(checkout)
    (checkout / changed).write_text("something else")

    assert start.digest(checkout) != before


def test_digest_does_not_change_with_python_code(checkout: Path) -> None:
    before = start.digest(checkout)
    (checkout / "monreq/paths.py").write_text("PATHS = 1")

    assert start.digest(checkout) == before


def test_digest_does_not_change_with_installed_packages(checkout: Path) -> None:
    before = start.digest(checkout)
    (checkout / "monreq/web/scripts/node_modules").mkdir()
    (checkout / "monreq/web/scripts/node_modules/some.js").write_text("export {};")

    assert start.digest(checkout) == before


def test_digest_differs_in_a_checkout_that_was_moved(checkout: Path) -> None:
    before = start.digest(checkout)
    moved = checkout.rename(checkout.with_name("moved"))

    assert start.digest(moved) != before


@pytest.fixture
def programs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Programs in the place of the checks: each says two lines and what it was given, and a file named by it lets it fail."""
    for name in ("ruff", "mypy", "lint-imports", "pytest"):
        program = tmp_path / name
        program.write_text(f'#!/bin/sh\necho "{name} begins"\necho "{name} $*"\n! test -e {program}.bad\n')
        program.chmod(0o755)
    monkeypatch.setattr(start, "PROGRAMS", tmp_path)
    return tmp_path


@pytest.mark.usefixtures("programs")
def test_every_check_is_told_in_one_piece(capfd: pytest.CaptureFixture[str]) -> None:
    code = start.run_checks([])

    told = capfd.readouterr()
    lines = told.out.splitlines()
    assert code == 0
    assert lines[::2] == [f"{name} begins" for name in ("ruff", "ruff", "lint-imports", "pytest", "mypy")]
    assert lines[1::2] == [
        "ruff format --check .",
        "ruff check .",
        "lint-imports --no-logo",
        "pytest --durations=10",
        "mypy ",
    ]
    assert "failed" not in told.err


@pytest.mark.parametrize(
    ("bad", "named"),
    [
        ("mypy", "mypy"),
        ("pytest", "pytest --durations=10"),
        ("ruff", "ruff format --check ., ruff check ."),
    ],
)
def test_check_that_failed_is_named_at_the_end_and_all_others_run(
    programs: Path, bad: str, named: str, capfd: pytest.CaptureFixture[str]
) -> None:
    (programs / f"{bad}.bad").touch()

    code = start.run_checks([])

    told = capfd.readouterr()
    assert code == 1
    assert told.err.splitlines()[-1] == f"start.py: failed: {named}"
    assert told.out.count(" begins\n") == 5


def test_words_go_to_pytest_and_nothing_else_runs(programs: Path, capfd: pytest.CaptureFixture[str]) -> None:
    (programs / "pytest.bad").touch()

    code = start.run_checks(["tests/domain", "-x"])

    assert code == 1
    assert capfd.readouterr().out.splitlines() == ["pytest begins", "pytest --durations=10 tests/domain -x"]
