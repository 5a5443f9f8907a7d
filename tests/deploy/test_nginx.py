"""nginx before the workers, with the configuration of deploy/ as it stands there."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
import requests

from tests.support.festival import Festival, admit, ask, festival_at, new_client_id
from tests.support.serving import PATIENCE_S, ROOT
from tests.support.workers import Listener, nginx, token_in, upstreams

pytestmark = pytest.mark.postgres

PHONES = [f"192.0.2.{number}" for number in range(1, 13)]


@pytest.fixture
def access_log(festival: Festival, tmp_path: Path) -> Iterator[Path]:
    workers = festival.one.port, festival.other.port
    with nginx(tmp_path / "nginx", ROOT / "deploy", festival.front, workers) as log:
        yield log


def client(address: str) -> dict[str, str]:
    return {"X-Test-Client": address}


def page_of(festival: Festival, address: str) -> requests.Response:
    return requests.get(f"{festival.url}/", headers=client(address), timeout=PATIENCE_S)


def title_of(page: requests.Response) -> str:
    return page.text.partition("<title>")[2].partition("</title>")[0]


def test_phones_are_shared_among_the_workers_each_always_the_same(
    festival: Festival, access_log: Path
) -> None:
    before = len(upstreams(access_log))
    titles = {title_of(page_of(festival, phone)) for phone in [*PHONES, *PHONES]}

    answered = upstreams(access_log)[before:]

    assert len(titles) == 1
    assert answered[: len(PHONES)] == answered[len(PHONES) :]
    assert set(answered) == {f"127.0.0.1:{festival.one.port}", f"127.0.0.1:{festival.other.port}"}


def test_code_is_exchanged_for_the_page_through_nginx(festival: Festival, access_log: Path) -> None:
    browser = admit(festival.url, festival.one.links["Bass"], **client(PHONES[0]))

    pages = [
        browser.get(f"{festival.url}/mix/bass", headers=client(phone), timeout=PATIENCE_S) for phone in PHONES
    ]

    assert [page.status_code for page in pages] == [200] * len(PHONES)
    assert len(set(upstreams(access_log)[-len(PHONES) :])) == 2


@pytest.mark.parametrize("transport", ["websocket", "polling"])
def test_every_phone_hears_through_nginx_whichever_worker_it_reached(
    festival: Festival, access_log: Path, transport: str
) -> None:
    phone = token_in(festival.one.links["Bass"])
    listeners = [Listener(festival.url, "/phone", phone, transport, **client(address)) for address in PHONES]
    asked = ask(festival.url, phone, new_client_id())

    heard = [listener.next_push()["revision"] for listener in listeners]

    with ThreadPoolExecutor(len(listeners)) as together:
        list(together.map(Listener.close, listeners))
    assert heard == [asked.json()["revision"]] * len(PHONES)
    assert len(set(upstreams(access_log))) == 2


@pytest.mark.security
def test_logs_hold_no_code(festival: Festival, access_log: Path) -> None:
    link = festival.one.links["Bass"]
    admit(festival.url, link)

    logs = {path.name: path.read_text() for path in access_log.parent.glob("*.log")}

    assert set(logs) == {"access.log", "error.log", "start.log"}
    assert len(upstreams(access_log)) >= 3
    assert [name for name, text in logs.items() if token_in(link) in text or "/j/" in text] == []


@pytest.mark.security
def test_foreign_host_and_origin_are_refused_behind_nginx(festival: Festival, access_log: Path) -> None:
    foreign = {"Host": "evil.example"}, {"Origin": "http://evil.example"}
    live = f"{festival.url}/socket.io/?EIO=4&transport=polling"

    answers = [
        requests.request(method, url, headers=one, timeout=PATIENCE_S).status_code
        for method, url in (("POST", f"{festival.url}/desk"), ("GET", live))
        for one in (*foreign, {"Origin": festival.url})
    ]

    assert answers == [421, 403, 400, 421, 403, 200]
    assert len(upstreams(access_log)) >= len(answers)


@pytest.mark.faults
def test_phones_of_a_worker_that_died_are_served_by_the_other(tmp_path: Path) -> None:
    with festival_at(tmp_path / "festival") as two:
        with nginx(tmp_path / "nginx", ROOT / "deploy", two.front, (two.one.port, two.other.port)) as log:
            phone = token_in(two.one.links["Bass"])
            first = ask(two.url, phone, new_client_id()).json()
            two.one.end()

            pages = [page_of(two, address) for address in PHONES]
            then = ask(two.url, phone, new_client_id()).json()

        assert [page.status_code for page in pages] == [200] * len(PHONES)
        assert set(upstreams(log)[-len(PHONES) :]) == {f"127.0.0.1:{two.other.port}"}
        assert then["revision"] == first["revision"] + 1
