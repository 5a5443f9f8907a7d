"""The software bill of materials: it is made, and it lists what is installed and what the page's script holds."""

import json
import subprocess
import sys
from importlib.metadata import version
from pathlib import Path

import pytest

pytestmark = pytest.mark.security

ROOT = Path(__file__).parents[1]


def test_the_bill_lists_python_and_browser_packages(tmp_path: Path) -> None:
    out = tmp_path / "sbom.json"

    subprocess.run([sys.executable, str(ROOT / ".ci" / "sbom.py"), str(out)], cwd=tmp_path, check=True)

    bill = json.loads(out.read_text("utf-8"))
    listed = {one["purl"]: one.get("scope") for one in bill["components"] if "purl" in one}
    lock = json.loads((ROOT / "monreq/web/scripts/package-lock.json").read_text("utf-8"))
    packages = {path for path in lock["packages"] if path}
    assert f"pkg:pypi/flask@{version('flask')}" in listed
    assert f"pkg:pypi/argon2-cffi@{version('argon2-cffi')}" in listed
    assert (
        listed["pkg:npm/socket.io-client@" + lock["packages"]["node_modules/socket.io-client"]["version"]]
        == "required"
    )
    assert listed["pkg:npm/esbuild@" + lock["packages"]["node_modules/esbuild"]["version"]] == "excluded"
    assert sum(purl.startswith("pkg:npm/") for purl in listed) == len(packages)
    assert (bill["bomFormat"], bill["specVersion"]) == ("CycloneDX", "1.6")
