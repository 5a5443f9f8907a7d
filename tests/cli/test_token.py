"""`monreq token`: the token of a mix or of the desk, and what it says where there is none."""

from pathlib import Path

import pytest

from monreq.cli import demo_show
from monreq.domain.setup import Mix
from tests.support.monreq_process import Ended, Served, monreq, token_in
from tests.support.started_commands import Command


@pytest.mark.parametrize("mix", demo_show.MIXES[:2], ids=lambda mix: mix.id)
def test_token_of_a_mix_by_id_and_by_name(here: Command, demo: Served, mix: Mix) -> None:
    by_id, by_name = (here("token", one, "--data", demo.folder) for one in (mix.id, mix.name))

    assert by_id.output == by_name.output == token_in(demo.phones[mix.name]) + "\n"
    assert (by_id.errors, by_id.code) == ("", 0)


def test_token_of_the_desk(here: Command, demo: Served) -> None:
    assert here("token", "desk", "--data", demo.folder).output == demo.desk_token + "\n"


def test_token_is_told_by_a_process_of_its_own(demo: Served) -> None:
    ended = monreq("token", "Lead voice", "--data", demo.folder)

    assert ended == Ended(token_in(demo.phones["Lead voice"]) + "\n", "", 0)


def test_token_of_an_unknown_mix_lists_those_there_are(here: Command, demo: Served) -> None:
    ended = here("token", "kazoo", "--data", demo.folder)

    assert (ended.output, ended.code) == ("", 1)
    assert ended.errors == (
        "monreq: There is no mix 'kazoo'. Mixes here: lead (Lead voice), bass (Bass), horns (Horns), "
        "drums (Drums), accord (Accordion), guitar (Guitar).\n"
    )


def test_token_of_an_unknown_show_lists_those_there_are(here: Command, demo: Served) -> None:
    show = demo.read("/show")["show"]

    ended = here("token", "desk", "--data", demo.folder, "--show", "none")

    assert ended.code == 1
    assert ended.errors == f"monreq: There is no show none. Shows here: {show} ({demo_show.NAME}).\n"


def test_token_beside_nothing_makes_nothing(here: Command, tmp_path: Path) -> None:
    ended = here("token", "desk", "--data", tmp_path / "none")

    assert (ended.output, ended.code, ended.errors.count("\n")) == ("", 1, 1)
    assert not (tmp_path / "none").exists()
