"""What was pressed, and where a browser was, before the laptop was put back to an earlier state: told, and never a dead end."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from monreq.storage.backup import back_up
from monreq.storage.backup_file import BackupFacts
from monreq.storage.folder import DataFolder
from monreq.storage.restore import Restoring, check_backup
from tests.support import evening as evenings
from tests.support.api_client import ApiClient
from tests.support.evening import SHOW, Evening
from tests.support.visitor import JSON, Visitor

COOKIE = f"monreq_{evenings.PORT}"


def restored(folder: Path) -> Evening:
    """Serve what was backed up, put back from it."""
    data = DataFolder(folder / "restored")
    data.create()
    url = f"sqlite:///{data.path / 'monreq.sqlite'}"
    Restoring(url, data, may_replace=False, aside="before", epoch="again").restore(
        folder / "tonight.backup", check_backup(folder / "tonight.backup")
    )
    shutil.copy(folder / "data" / "key", data.path / "key")
    return Evening(evenings.start(data.path))


def test_what_was_pressed_before_a_restoring_is_refused_after_it(
    evening: Evening, engineer: Visitor, tmp_path: Path
) -> None:
    url = f"sqlite:///{tmp_path / 'data' / 'monreq.sqlite'}"
    back_up(url, tmp_path / "tonight.backup", BackupFacts(made_at_ms=0))
    lost = evening.ask("front", "voice", 30, "singer")
    page = engineer.get("/desk")
    fields = page.sent_by(page.button_with("done:row-front-voice-level"))
    cookie = engineer.client.get_cookie(COOKIE)
    assert cookie is not None
    token = evening.link().rpartition("/")[2]
    told = f"{lost}.{SHOW}.0"
    after = restored(tmp_path)
    try:
        back = Visitor(after.monreq.flask)
        back.client.set_cookie(COOKIE, cookie.value)
        assert after.ask("front", "voice", 20, "singer") == lost
        before = after.show

        pressed = back.post("/desk", fields, **JSON)
        called = ApiClient(after.monreq.flask, token).post(
            "/decisions", {"requests": [told], "outcome": "done"}
        )

        assert (pressed.status, pressed.response.get_json()["error"]) == (409, "for_another_show")
        assert (called.status, called.error) == (404, "unknown_request")
        assert after.show == before
        assert back.get("/desk").status == 200
    finally:
        after.monreq.close()


@pytest.fixture
def behind(evening: Evening, tmp_path: Path) -> Iterator[tuple[Visitor, Evening]]:
    """A browser that was at a show and at the next one when the laptop was put back to before that; and what is served."""
    url = f"sqlite:///{tmp_path / 'data' / 'monreq.sqlite'}"
    visitor = Visitor(evening.monreq.flask)
    visitor.scan(evening.link())
    visitor.scan(evening.link("front"))
    back_up(url, tmp_path / "tonight.backup", BackupFacts(made_at_ms=0))
    visitor.press(visitor.get("/desk/prepare"), "close this show and begin the next")
    begun = Evening(evening.monreq, evening.monreq.shows.entries()[-1].id)
    for command in evenings.commands():
        begun.do(command)
    visitor.scan(begun.link("front"))
    assert "New show" in visitor.get("/desk/prepare").text
    cookie = visitor.client.get_cookie(COOKIE)
    assert cookie is not None
    after = restored(tmp_path)
    try:
        back = Visitor(after.monreq.flask)
        back.client.set_cookie(COOKIE, cookie.value)
        yield back, after
    finally:
        after.monreq.close()


@pytest.mark.parametrize("way_in", ["/", "/desk", "/desk/prepare", "link"])
def test_a_desk_that_was_at_a_show_which_a_restoring_lacks_is_at_the_one_that_is_there(
    behind: tuple[Visitor, Evening], way_in: str
) -> None:
    visitor, evening = behind

    page = visitor.get(evening.link() if way_in == "link" else way_in)
    led = visitor.get(page.headers["Location"]) if page.status == 303 else page

    assert led.status == 200
    assert led.path.startswith("/desk")
    assert evening.show.name in led.text


def test_a_phone_that_was_at_a_show_which_a_restoring_lacks_asks_on_the_one_that_is_there(
    behind: tuple[Visitor, Evening],
) -> None:
    visitor, evening = behind

    visitor.do(visitor.get("/mix/front"), "more Voice")

    assert evening.asked() == [("front", "voice", "level", 30)]
    assert visitor.scan(evening.link("front")).path == "/mix/front"


def test_an_address_that_names_a_show_which_a_restoring_lacks_means_the_one_that_is_there(
    behind: tuple[Visitor, Evening], evening: Evening
) -> None:
    visitor, after = behind
    lost = evening.monreq.shows.entries()[-1].id
    assert lost not in [entry.id for entry in after.monreq.shows.entries()]

    page = visitor.get(f"/desk?show={lost}")

    assert page.status == 200
    assert after.show.name in page.text


def test_what_is_gone_leaves_the_cookie_when_the_browser_is_admitted_anew(
    behind: tuple[Visitor, Evening],
) -> None:
    visitor, evening = behind

    visitor.scan(evening.link("ears"))

    with visitor.client.session_transaction() as cookie:
        assert {show_id for show_id, *_ in cookie["admissions"]} == {SHOW}


def test_a_browser_that_was_only_at_a_show_which_a_restoring_lacks_is_told_to_scan(
    behind: tuple[Visitor, Evening],
) -> None:
    visitor, _ = behind
    with visitor.client.session_transaction() as cookie:
        cookie["admissions"] = [one for one in cookie["admissions"] if one[0] != SHOW]
        cookie["tablet"] = [cookie["admissions"][0][0], 0, ""]

    pages = [visitor.get(address) for address in ("/desk", "/mix/front", "/tablet")]

    assert [page.status for page in pages] == [401] * 3
    assert visitor.get("/").status == 200
