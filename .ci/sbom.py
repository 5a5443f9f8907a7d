"""Writes the software bill of materials: what is installed beside this script's Python, and what the page's script holds.

CycloneDX, as JSON. Use: .venv/bin/python .ci/sbom.py OUT.json
"""

import base64
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

LOCK = Path(__file__).parents[1] / "monreq" / "web" / "scripts" / "package-lock.json"
_MODULES = "node_modules/"


def main(out: Path) -> None:
    """Write the bill to a file."""
    program = [
        sys.executable,
        "-m",
        "cyclonedx_py",
        "environment",
        "--of",
        "JSON",
        "-o",
        str(out),
        sys.executable,
    ]
    subprocess.run(program, check=True, capture_output=True)  # noqa: S603 - a tool of this environment
    bill = json.loads(out.read_text("utf-8"))
    bill["components"] += npm_components(json.loads(LOCK.read_text("utf-8")))
    out.write_text(json.dumps(bill, indent=1, sort_keys=True) + "\n", "utf-8")


def npm_components(lock: dict[str, Any]) -> list[dict[str, Any]]:
    """Return the packages of a lock file; those that only build or test are marked as left out of what is served."""
    found = {path.rpartition(_MODULES)[2]: facts for path, facts in lock["packages"].items() if path}
    return [_component(name, facts) for name, facts in sorted(found.items())]


def _component(name: str, facts: dict[str, Any]) -> dict[str, Any]:
    purl = f"pkg:npm/{name.replace('@', '%40')}@{facts['version']}"
    algorithm, _, digest = facts["integrity"].partition("-")
    component = {
        "type": "library",
        "name": name,
        "version": facts["version"],
        "purl": purl,
        "bom-ref": purl,
        "scope": "excluded" if facts.get("dev") else "required",
        "hashes": [
            {"alg": algorithm.upper().replace("SHA", "SHA-"), "content": base64.b64decode(digest).hex()}
        ],
    }
    if "license" in facts:
        component["licenses"] = [{"license": {"id": facts["license"]}}]
    return component


if __name__ == "__main__":
    main(Path(sys.argv[1]))
