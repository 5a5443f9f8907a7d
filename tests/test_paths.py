"""Where templates and migrations are found."""

from pathlib import Path

import pytest

from monreq import paths


def test_templates_dir_of_a_wheel_is_inside_the_package(tmp_path: Path) -> None:
    package = tmp_path / "monreq"
    (package / "templates").mkdir(parents=True)
    (tmp_path / "templates").mkdir()

    assert paths.templates_dir(package) == package / "templates"


def test_migrations_dir_of_a_checkout_is_beside_the_package(tmp_path: Path) -> None:
    package = tmp_path / "monreq"
    package.mkdir()
    (tmp_path / "migrations").mkdir()

    assert paths.migrations_dir(package) == tmp_path / "migrations"


def test_templates_dir_when_missing_says_what_to_do(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError, match="'templates' is missing: install monreq again"):
        paths.templates_dir(tmp_path / "monreq")


def test_folders_of_this_installation_hold_what_they_should() -> None:
    assert paths.templates_dir().is_dir()
    assert (paths.migrations_dir() / "versions").is_dir()
