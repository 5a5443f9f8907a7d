"""A festival's layout: two workers with one PostgreSQL and one Redis, and what phones and desks do with them."""

import re
import secrets
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import requests

from monreq.app import now_ms
from monreq.cli.demo import begin
from monreq.services.shows import Shows
from monreq.storage.folder import DataFolder
from monreq.storage.open import open_storage
from tests.support.databases import postgres_url
from tests.support.serving import PATIENCE_S
from tests.support.workers import Worker, free_port, redis_url, token_in, worker

_CSRF = re.compile(r'name="csrf_token"[^>]* value="([^"]+)"')

_HIDDEN = re.compile(r'<input[^>]*name="(csrf_token|show|epoch|client_id)"[^>]*value="([^"]*)"')


@dataclass(frozen=True)
class Festival:
    """Two workers, and the address that phones were told."""

    one: Worker
    other: Worker
    url: str
    front: int
    show: str


@contextmanager
def festival_at(place: Path, redis: str | None = None) -> Iterator[Festival]:
    """Begin a show on a database of its own, and serve it by two workers.

    Args:
        place: A folder for their data.
        redis: Which Redis joins them, if not the one that is there for all tests.
    """
    with ExitStack() as stack:
        database = stack.enter_context(postgres_url())
        front = free_port()
        settings = {
            "MONREQ_ADDRESS": f"http://127.0.0.1:{front}",
            "MONREQ_DATABASE_URL": database,
            "MONREQ_REDIS_URL": redis or redis_url(),
            "MONREQ_ASYNC_MODE": "gevent",
            "MONREQ_BEHIND_PROXY": "yes",
        }
        show, mixes = make_show(database)
        folders = [folder_with_key(place / name, bytes(range(32))) for name in ("one", "other")]
        one, other = (stack.enter_context(worker(folder, settings, mixes)) for folder in folders)
        yield Festival(one, other, settings["MONREQ_ADDRESS"], front, show)


def make_show(database: str) -> tuple[str, int]:
    """Begin a show; returns its id and how many mixes it has.

    Its id is its own: all numbers of a Redis share one channel, and whoever hears of another festival must not heed it.
    """
    show = f"fest{secrets.token_hex(4)}"
    storage = open_storage(database, "threading", may_write=True)
    try:
        shows = Shows(storage.log, storage.writer, now_ms, lambda _: None)
        return show, len(begin(shows, show).mixes)
    finally:
        storage.close()


def folder_with_key(path: Path, key: bytes) -> Path:
    folder = DataFolder(path)
    folder.create()
    folder.ensure_key(lambda _: key)
    return path


def call(url: str, token: str, body: dict[str, Any] | None = None, method: str = "POST") -> requests.Response:
    headers = {"Authorization": f"Bearer {token}"}
    return requests.request(method, url, json=body, headers=headers, timeout=PATIENCE_S)


def ask(at: str, phone: str, client_id: str) -> requests.Response:
    body = {"client_id": client_id, "musician": None, "kind": "level", "source": "snare", "change_db": 1}
    return call(f"{at}/api/v1/mixes/bass/requests", phone, body)


def new_client_id() -> str:
    return secrets.token_hex(8)


def admit(at: str, link: str, **headers: str) -> requests.Session:
    """Scan a code: confirm who one is, and keep the cookie."""
    browser = requests.Session()
    browser.headers.update(headers)
    page = f"{at}/j/{token_in(link)}"
    found = _CSRF.search(browser.get(page, timeout=PATIENCE_S).text)
    assert found
    answer = browser.post(page, data={"csrf_token": found[1]}, headers={"Origin": at}, timeout=PATIENCE_S)
    assert answer.url == f"{at}/mix/bass"
    return browser


def admit_desk(at: Worker) -> requests.Session:
    browser = requests.Session()
    page = f"{at.url}/j/{token_in(at.links['desk'])}"
    found = _CSRF.search(browser.get(page, timeout=PATIENCE_S).text)
    assert found
    browser.post(page, data={"csrf_token": found[1]}, timeout=PATIENCE_S)
    return browser


def replace_code(desk: requests.Session, at: str, mix: str) -> None:
    page = f"{at}/desk/codes"
    hidden = dict(_HIDDEN.findall(desk.get(page, timeout=PATIENCE_S).text))
    answer = desk.post(f"{page}/replace/{mix}", data=hidden, timeout=PATIENCE_S)
    assert answer.ok, answer.text
