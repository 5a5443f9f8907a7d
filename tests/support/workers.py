"""Runs several monreq processes on one database, as deploy/ lays them out, and nginx before them."""

import os
import queue
import re
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import redis
import requests
import socketio

from tests.support.serving import PATIENCE_S, ROOT

_GIVEN_REDIS = os.environ.get("MONREQ_TEST_REDIS_URL")
_NUMBER = int(os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw"))
_FORGOTTEN = ("MONREQ_", "FLASK_")


def redis_url() -> str:
    """Return the address of a Redis that answers, with a number that no other worker of these tests has."""
    base, _, number = (_GIVEN_REDIS or "redis://127.0.0.1:6379/15").rpartition("/")
    url = f"{base}/{int(number) - _NUMBER}"
    with redis.Redis.from_url(url) as client:
        try:
            client.ping()
        except redis.ConnectionError as error:
            if _GIVEN_REDIS:
                raise
            pytest.skip(f"no Redis here: {error}")
    return url


def free_port() -> int:
    """Return a port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@dataclass(frozen=True)
class Worker:
    """One running process, reached without a proxy.

    Attributes:
        links: What it printed: of the desk, and of each mix by its name.
    """

    process: subprocess.Popen[str]
    port: int
    links: Mapping[str, str]

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def end(self) -> None:
        """Take it away as a crash would."""
        self.process.kill()
        self.process.wait()


@contextmanager
def worker(folder: Path, settings: Mapping[str, str], mixes: int) -> Iterator[Worker]:
    """Run `monreq serve` in a data folder until the block ends.

    Args:
        folder: Its data folder.
        settings: Beside those that every worker here has.
        mixes: How many links it will print beside the desk's.
    """
    environment = {name: text for name, text in os.environ.items() if not name.startswith(_FORGOTTEN)}
    given = {"MONREQ_DATA_DIR": str(folder), "MONREQ_HOST": "127.0.0.1", "MONREQ_PORT": "0", **settings}
    command = [sys.executable, "-m", "monreq.cli", "serve", "--no-browser"]
    log = folder.with_suffix(".log")
    with (
        log.open("w") as errors,
        subprocess.Popen(
            command,
            cwd=ROOT,
            env=environment | given,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=errors,
            text=True,
        ) as process,
    ):
        try:
            links = _links(process, mixes + 1, log)
            yield Worker(process, int(links["desk"].split(":")[2].partition("/")[0]), links)
        finally:
            process.terminate()


def _links(process: subprocess.Popen[str], count: int, log: Path) -> dict[str, str]:
    assert process.stdout is not None
    lines = [process.stdout.readline().strip() for _ in range(count)]
    assert all(lines), log.read_text()
    return {name.removeprefix("phone "): url for name, url in (line.rsplit(": ", 1) for line in lines)}


def token_in(link: str) -> str:
    """Return the token that a link carries."""
    return link.rsplit("/", 1)[1]


class Listener:
    """A page's live connection; keeps what is pushed to it."""

    def __init__(
        self, url: str, namespace: str, token: str, transport: str = "websocket", **headers: str
    ) -> None:
        self.pushes: queue.SimpleQueue[dict[str, Any]] = queue.SimpleQueue()
        self._joined: queue.SimpleQueue[dict[str, Any]] = queue.SimpleQueue()
        self._session = requests.Session()
        self._session.headers.update(
            headers
        )  # polling sends what connect() is given with its first request only
        self._client = socketio.Client(reconnection=False, http_session=self._session)
        self._client.on("changed", self.pushes.put, namespace=namespace)
        self.ended: queue.SimpleQueue[str] = queue.SimpleQueue()
        self._client.on("revoked", lambda _: self.ended.put("revoked"), namespace=namespace)
        self._client.on("disconnect", lambda *_: self.ended.put("cut"), namespace=namespace)
        self._client.on("at", self._joined.put, namespace=namespace)
        self._client.connect(
            url,
            headers=headers,
            auth={"token": token},
            transports=[transport],
            namespaces=[namespace],
            wait_timeout=PATIENCE_S,
        )
        self.revision = int(self._joined.get(timeout=PATIENCE_S)["revision"])

    def __enter__(self) -> "Listener":
        """Listen."""
        return self

    def __exit__(self, *_: object) -> None:
        """Go."""
        self.close()

    def close(self) -> None:
        """Go."""
        self._client.disconnect()
        self._session.close()

    def next_push(self) -> dict[str, Any]:
        """Return what was pushed next."""
        return self.pushes.get(timeout=PATIENCE_S)

    def pushed(self) -> list[dict[str, Any]]:
        """Return what was pushed until now and not asked for yet."""
        return [self.pushes.get_nowait() for _ in range(self.pushes.qsize())]

    def push_within(self, wait_s: float) -> dict[str, Any] | None:
        """Return what was pushed next, None if that took longer."""
        try:
            return self.pushes.get(timeout=wait_s)
        except queue.Empty:
            return None


@contextmanager
def redis_server(port: int) -> Iterator[subprocess.Popen[bytes]]:
    """Run a Redis of one's own on a port, which may be ended before the block does."""
    program = shutil.which("redis-server")
    if program is None:
        pytest.skip("no redis-server here")
    options = ["--port", str(port), "--bind", "127.0.0.1", "--save", "", "--appendonly", "no"]
    with subprocess.Popen(
        [program, *options], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL
    ) as process:
        try:
            _until(lambda: redis.Redis(port=port).ping(), redis.ConnectionError)
            yield process
        finally:
            process.terminate()


@contextmanager
def nginx(folder: Path, deployed: Path, port: int, workers: tuple[int, int]) -> Iterator[Path]:
    """Run nginx with the project's own configuration on a high port; gives its access log.

    Changed is only what a test must change: ports, where it writes, and that a header says which client asks.
    """
    folder.mkdir()
    config = folder / "nginx.conf"
    site = _swapped(
        (deployed / "nginx.conf").read_text(),
        {
            "listen 80;": f"listen 127.0.0.1:{port};",
            "/var/log/nginx/monreq.log": f"{folder}/access.log",
            "/var/log/nginx/monreq-error.log": f"{folder}/error.log",
        },
    )
    upstream = _swapped(
        (deployed / "workers.conf").read_text(),
        {f"server 127.0.0.1:{8331 + n} ": f"server 127.0.0.1:{one} " for n, one in enumerate(workers)},
    )
    kinds = ("client_body", "proxy", "fastcgi", "uwsgi", "scgi")
    elsewhere = "\n".join(f"{kind}_temp_path {folder}/{kind};" for kind in kinds)
    config.write_text(
        f"daemon off; pid {folder}/pid; error_log {folder}/start.log;\nevents {{}}\nhttp {{\n{elsewhere}\n"
        f"set_real_ip_from 127.0.0.1; real_ip_header X-Test-Client;\n{upstream}\n{site}}}\n"
    )
    program = _nginx_program()
    command = [program, "-e", f"{folder}/start.log", "-c", str(config)]
    tested = subprocess.run([*command, "-t"], capture_output=True, text=True, check=False)
    assert tested.returncode == 0, tested.stderr
    with subprocess.Popen(command, stdin=subprocess.DEVNULL, start_new_session=True) as process:
        try:
            _wait_for(f"http://127.0.0.1:{port}/healthz")
            yield folder / "access.log"
        finally:
            process.terminate()


def upstreams(access_log: Path) -> list[str]:
    """Return which worker answered each request; of one that was passed on, the last that was tried."""
    tried = re.compile(r"\S+ \S+ \S+ (?:\S+, )*(\S+) ")
    return [
        match[1] for line in access_log.read_text().splitlines() if (match := tried.match(line)) is not None
    ]


def _nginx_program() -> str:
    program = shutil.which("nginx", path=f"{os.environ['PATH']}:/usr/sbin")
    if program is None:
        pytest.skip("no nginx here")
    return program


def _swapped(text: str, changes: Mapping[str, str]) -> str:
    for before, after in changes.items():
        assert text.count(before) == 1, before
        text = text.replace(before, after)
    return text


def _wait_for(url: str) -> None:
    _until(lambda: requests.get(url, timeout=PATIENCE_S).raise_for_status(), requests.RequestException)


def _until(attempt: Callable[[], object], failure: type[Exception]) -> None:
    for _ in range(int(PATIENCE_S * 20)):
        try:
            attempt()
        except failure:
            time.sleep(0.05)
        else:
            return
    attempt()
