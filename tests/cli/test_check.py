"""`monreq check`: a machine that is ready, and one that is not."""

import socket
from pathlib import Path

from monreq.cli.check import codes_finding, files_finding
from tests.support.monreq_process import Served
from tests.support.started_commands import Command


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as listener:
        return int(listener.getsockname()[1])


def test_check_of_a_ready_machine(here: Command, demo: Served) -> None:
    ended = here(
        "check", "--data", demo.folder, "--port", str(free_port()), "--address", "192.0.2.7",
        MONREQ_HOST="127.0.0.1",
    )  # fmt: skip

    lines = ended.output.splitlines()
    assert [line.partition(":")[0] for line in lines] == [
        "ok  address",
        "ok  port",
        "ok  disk",
        "ok  files",
        "ok  database",
        "ok  codes",
        "ok  clock",
    ]
    assert f"database: 1 show in {demo.folder}" in ended.output
    assert (ended.errors, ended.code) == ("", 0)


def test_check_of_a_machine_that_is_not_ready(here: Command, tmp_path: Path) -> None:
    (tmp_path / "key").write_text("not a key", encoding="ascii")
    (tmp_path / "key").chmod(0o600)
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = str(other.getsockname()[1])

        ended = here(
            "check", "--data", tmp_path, "--port", port, "--address", "not an address",
            MONREQ_HOST="127.0.0.1",
        )  # fmt: skip

    assert [line[:12].strip() for line in ended.output.splitlines() if line.startswith("BAD")] == [
        "BAD address:",
        "BAD port: Po",
        "BAD database",
    ]
    assert f"Port {port} is taken" in ended.output
    assert (ended.errors, ended.code) == ("", 1)


def test_check_of_a_folder_that_is_served_says_so(here: Command, demo: Served, tmp_path: Path) -> None:
    port = demo.url.rpartition(":")[2]
    (tmp_path / "lock").touch()

    beside = here("check", "--data", demo.folder, "--port", port, MONREQ_HOST="127.0.0.1")
    elsewhere = here("check", "--data", tmp_path, "--port", port, MONREQ_HOST="127.0.0.1")

    assert f"ok  port: monreq serves this folder now, and {port} is taken" in beside.output
    assert f"BAD port: Port {port} is taken" in elsewhere.output


def test_check_makes_nothing(here: Command, tmp_path: Path) -> None:
    ended = here(
        "check", "--data", tmp_path / "none", "--port", str(free_port()), "--address", "192.0.2.7",
        MONREQ_HOST="127.0.0.1",
    )  # fmt: skip

    assert "ok  database: none yet" in ended.output
    assert ended.code == 0
    assert not (tmp_path / "none").exists()


def test_check_tells_of_too_few_open_files() -> None:
    assert not files_finding(256).is_good
    assert files_finding(4096).is_good


def test_check_tells_of_printed_codes_that_lead_elsewhere() -> None:
    codes = "http://192.0.2.20:8330"

    assert codes_finding(codes, {"192.0.2.20"}).is_good
    assert codes_finding("http://desk.test:8330", {"192.0.2.20"}).is_good
    elsewhere = codes_finding(codes, {"192.0.2.35"})
    assert (elsewhere.is_good, "192.0.2.20" in elsewhere.sentence) == (False, True)
