"""`monreq demo` as a person starts it: what it shows, and the folders it refuses."""

from pathlib import Path

import pytest

from monreq.cli import demo_show
from monreq.config import Config
from monreq.domain.commands import PutMix, PutMusician
from monreq.domain.setup import Mix
from tests.support import evening as evenings
from tests.support.monreq_process import Served, serving, token_in
from tests.support.started_commands import MIXES, Command, show_on


def test_demo_prints_the_desk_and_every_mix(demo: Served) -> None:
    assert list(demo.phones) == MIXES
    assert len(MIXES) == 6


def test_still_demo_has_an_empty_queue(demo: Served) -> None:
    assert demo.read("/queue")["rows"] == []


@pytest.mark.parametrize("mix", demo_show.MIXES, ids=lambda mix: mix.id)
def test_demo_links_open_mixes_with_six_sends_below_zero(demo: Served, mix: Mix) -> None:
    found = demo.read(f"/mixes/{mix.id}", token_in(demo.phones[mix.name]))

    levels = [send["level_db"] for send in found["sends"] if send["level_db"] is not None]
    assert found["mix_name"] == mix.name
    assert sum(level < 0 for level in levels) >= 6


def test_demo_with_phones_stops_well_while_they_ask(tmp_path: Path) -> None:
    with serving("demo", tmp_path / "new", len(MIXES)) as served:
        assert served.read("/show")["is_demo"] is True

        ended = served.stop()

    assert (ended.output, ended.errors, ended.code) == ("", "", 0)


def test_demo_goes_on_in_a_folder_of_a_demo(tmp_path: Path) -> None:
    show_on(tmp_path, "Rehearsal", is_demo=True)

    with serving("demo", tmp_path, 0, "--still") as served:
        assert served.read("/show")["name"] == "Rehearsal"


def test_demo_that_was_killed_while_it_set_up_begins_afresh(tmp_path: Path) -> None:
    folder = tmp_path / "data"
    cut_off = evenings.start(folder)
    cut_off.shows.open("cut1", demo_show.opening())
    cut_off.shows.submit("cut1", PutMusician(demo_show.MUSICIANS[0]))
    cut_off.shows.submit("cut1", PutMix(demo_show.MIXES[0]))
    cut_off.close()

    with serving("demo", folder, len(MIXES), "--still") as served:
        assert list(served.phones) == MIXES


@pytest.mark.parametrize("content", ["a show", "a file"])
def test_demo_refuses_a_folder_of_something_else(here: Command, tmp_path: Path, content: str) -> None:
    if content == "a show":
        show_on(tmp_path, "Real evening")
    else:
        (tmp_path / "letter.txt").write_text("Dear all", encoding="utf-8")
    before = sorted(tmp_path.iterdir())

    ended = here("demo", "--data", tmp_path, "--host", "127.0.0.1", "--port", "0", "--no-browser")

    assert ended.code == 1
    assert ended.output == ""
    assert ended.errors == f"monreq: {tmp_path} is neither empty nor a demo's folder: choose another.\n"
    assert sorted(tmp_path.iterdir()) == before


def test_demo_refuses_a_database_of_real_shows_elsewhere(here: Command, tmp_path: Path) -> None:
    show_on(tmp_path / "real", "Real evening")
    url = Config.from_environment({}, data_dir=tmp_path / "real").database_url

    ended = here("demo", "--host", "127.0.0.1", "--port", "0", "--no-browser", MONREQ_DATABASE_URL=url)

    assert (ended.output, ended.code) == ("", 1)
    assert ended.errors.count("\n") == 1
    assert "shows that are no demo's" in ended.errors
