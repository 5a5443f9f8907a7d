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
