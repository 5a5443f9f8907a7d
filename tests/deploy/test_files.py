"""The files of deploy/: what their readers say of them, and that they name only what there is."""

import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.support.documents import settings_in_code
from tests.support.serving import ROOT

DEPLOY = ROOT / "deploy"
INSTALLED = "/opt/monreq/bin/monreq"


@pytest.mark.parametrize("name", ["monreq.service", "monreq@.service"])
def test_unit_is_one_that_systemd_understands(name: str, tmp_path: Path) -> None:
    program = shutil.which("systemd-analyze")
    if program is None:
        pytest.skip("no systemd here")
    unit = tmp_path / name.replace("@.", "@8331.")
    # The program that the unit starts must be there to be verified.
    unit.write_text((DEPLOY / name).read_text().replace(INSTALLED, sys.executable))

    verified = subprocess.run(
        [program, "verify", "--man=no", str(unit)], capture_output=True, text=True, check=False
    )

    assert (verified.stderr, verified.returncode) == ("", 0)


def test_units_start_what_the_guide_installs() -> None:
    starts = {
        path.name: re.findall(r"^ExecStart=(.*)$", path.read_text(), re.MULTILINE)
        for path in DEPLOY.glob("*.service")
    }

    assert set(starts) == {"monreq.service", "monreq@.service"}
    assert list(starts.values()) == [[f"{INSTALLED} serve --no-browser"]] * 2
    assert "python3 -m venv /opt/monreq" in (DEPLOY / "README.md").read_text()


def test_files_name_only_settings_that_there_are() -> None:
    others = {"MONREQ_KEY_FILE"}  # what compose.yaml itself asks for

    named = {name for path in DEPLOY.iterdir() for name in re.findall(r"MONREQ_[A-Z_]+", path.read_text())}

    assert named - others <= settings_in_code()


def test_container_file_copies_only_what_is_there() -> None:
    lines = re.findall(r"^COPY (?!--)(.+) \S+$", (DEPLOY / "Containerfile").read_text(), re.MULTILINE)

    missing = [name for line in lines for name in line.split() if not (ROOT / name).exists()]

    assert len(lines) == 4
    assert missing == []


def test_compose_gives_every_worker_the_same_key_and_queue() -> None:
    services: dict[str, Any] = yaml.safe_load((DEPLOY / "compose.yaml").read_text())["services"]
    workers = [service for name, service in services.items() if name.startswith("worker")]

    shared = [(one["environment"], one["volumes"]) for one in workers]

    assert len(workers) == 2
    assert shared[0] == shared[1]
    assert set(services) == {"worker1", "worker2", "nginx", "postgres", "redis"}


def test_workers_of_nginx_stand_on_the_ports_that_the_guide_starts() -> None:
    ports = re.findall(r"server 127\.0\.0\.1:(\d+)", (DEPLOY / "workers.conf").read_text())

    started = set(re.findall(r"monreq@(\d+)", (DEPLOY / "README.md").read_text()))

    assert set(ports) == started
