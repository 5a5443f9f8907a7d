"""`monreq serve` as a person starts it: what it opens, prints and keeps."""

import signal
from pathlib import Path

import requests

from monreq.domain.commands import PutMix
from monreq.domain.setup import Mix, Output
from tests.support import evening as evenings
from tests.support.monreq_process import Ended, Served, monreq, serving, token_in
from tests.support.started_commands import MIXES, show_on


def test_serve_on_an_empty_folder_leads_to_an_empty_prepare_page_until_told_to_stop(tmp_path: Path) -> None:
    with serving("serve", tmp_path / "new", 0) as served:
        browser = requests.Session()
        page = browser.get(served.desk, timeout=30)
        token = page.text.partition('name="csrf_token"')[2].partition('value="')[2].partition('"')[0]
        answer = browser.post(page.url, data={"csrf_token": token}, timeout=30)

        assert answer.url == f"{served.url}/desk/prepare"
        assert [one.status_code for one in answer.history] == [303, 303]
        assert served.read("/show")["name"] == "New show"
        assert served.stop() == Ended("", "", 0)


def test_serve_opens_the_newest_open_show_until_interrupted(tmp_path: Path) -> None:
    show_on(tmp_path, "Last night")

    with serving("serve", tmp_path, 0) as served:
        show = served.read("/show")
        ended = served.stop(signal.SIGINT)

    assert (show["show"], show["name"]) == ("old1", "Last night")
    assert (ended.output, ended.errors, ended.code) == ("", "", 0)


def test_serve_refuses_a_folder_in_use_in_one_sentence(demo: Served) -> None:
    ended = monreq("serve", "--data", demo.folder, "--host", "127.0.0.1", "--port", "0", "--no-browser")

    assert (ended.output, ended.code) == ("", 1)
    assert ended.errors == f"monreq: Another monreq is using this folder: {demo.folder}.\n"


def test_restart_keeps_links_and_what_was_asked(tmp_path: Path) -> None:
    with serving("demo", tmp_path, len(MIXES), "--still") as served:
        token = token_in(served.phones["Bass"])
        body = {"client_id": "once", "kind": "level", "source": "kick", "amount": "some", "direction": "more"}
        asked = served.api("/mixes/bass/requests", token, body)
        served.stop()

    with serving("serve", tmp_path, len(MIXES)) as again:
        (row,) = again.read("/queue")["rows"]
        replayed = again.api("/mixes/bass/requests", token, body)

        assert token_in(again.desk) == served.desk_token
        assert {name: token_in(link) for name, link in again.phones.items()} == {
            name: token_in(link) for name, link in served.phones.items()
        }
        assert (row["mix"], row["source"], row["sum_db"], row["asked"]) == ("bass", "kick", 3, 1)
        assert (asked.status_code, replayed.status_code) == (201, 200)
        assert replayed.json() == asked.json()


def test_serve_prints_names_that_the_terminal_cannot_show(tmp_path: Path) -> None:
    folder = tmp_path / "data"
    show_on(folder, "Evening")
    _add_mix(folder, "Čelo \N{CJK UNIFIED IDEOGRAPH-97F3}")

    with serving("serve", folder, 1, PYTHONIOENCODING="latin-1") as served:
        assert list(served.phones) == [r"\u010celo \u97f3"]


def _add_mix(folder: Path, name: str) -> None:
    other = evenings.start(folder)
    other.shows.submit("old1", PutMix(Mix("celo", name, Output.WEDGE, ())))
    other.close()
