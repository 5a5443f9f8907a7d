"""When the browser's scripts are built, and what a wheel then carries."""

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

import hatch_build

ROOT = Path(hatch_build.__file__).parent


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    sources = tmp_path / "monreq" / "web" / "scripts" / "src"
    sources.mkdir(parents=True)
    (sources / "main.js").write_text("start();")
    return tmp_path


def stamp(checkout: Path, content: str) -> None:
    dist = checkout / "monreq" / "web" / "static" / "dist"
    dist.mkdir(parents=True)
    (dist / "stamp.txt").write_text(content)


def test_scripts_never_built_are_not_fresh(checkout: Path) -> None:
    assert not hatch_build.is_fresh(checkout)


def test_scripts_built_from_these_sources_are_fresh(checkout: Path) -> None:
    stamp(checkout, hatch_build.digest(checkout))

    assert hatch_build.is_fresh(checkout)


def test_scripts_built_from_other_sources_are_not_fresh(checkout: Path) -> None:
    stamp(checkout, hatch_build.digest(checkout))
    (checkout / "monreq/web/scripts/src/main.js").write_text("stop();")

    assert not hatch_build.is_fresh(checkout)


def test_digest_when_a_source_is_renamed_changes(checkout: Path) -> None:
    before = hatch_build.digest(checkout)
    source = checkout / "monreq/web/scripts/src/main.js"
    source.rename(source.with_name("phone.js"))

    assert hatch_build.digest(checkout) != before


def test_digest_leaves_out_installed_packages(checkout: Path) -> None:
    before = hatch_build.digest(checkout)
    package = checkout / "monreq/web/scripts/node_modules/some/index.js"
    package.parent.mkdir(parents=True)
    package.write_text("export {};")

    assert hatch_build.digest(checkout) == before


def test_wheel_holds_every_file_of_the_package_and_nothing_else(tmp_path: Path) -> None:
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)]
    subprocess.run(build, cwd=ROOT, check=True, capture_output=True)

    (wheel,) = tmp_path.glob("*.whl")
    names = set(zipfile.ZipFile(wheel).namelist())
    held = {name for name in names if name.startswith("monreq/")}

    package = {name for name in files("monreq") if not name.startswith("monreq/web/scripts/")}
    beside = {f"monreq/{name}" for name in files("templates") | files("migrations")}
    assert held == package | beside


def files(folder: str) -> set[str]:
    found = (path for path in (ROOT / folder).rglob("*") if path.is_file())
    return {path.relative_to(ROOT).as_posix() for path in found if path.suffix != ".pyc"}


def test_lock_file_names_no_registry() -> None:
    lock = (ROOT / "monreq/web/scripts/package-lock.json").read_text(encoding="utf-8")

    assert "integrity" in lock
    assert "resolved" not in lock
