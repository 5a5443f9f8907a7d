"""Prepare: the input list, the musicians and their mixes, typed in before the first note."""

import pytest

from monreq.domain.refusals import TooManyAuxes
from monreq.domain.setup import Mix, Output, Setting, Source, SourceKind, SourceUse
from tests.support.evening import SHOW, Evening
from tests.support.prepare_page import PREPARE, add, save
from tests.support.visitor import Visitor


def test_a_source_is_added_and_joins_the_mixes_it_suits(evening: Evening, engineer: Visitor) -> None:
    page = add(engineer, "sources", name="  Theremin  ", kind="direct", use="click", is_stereo="y")

    source = list(evening.show.sources.values())[-1]
    assert page.notes == []
    assert (source.name, source.kind, source.use, source.is_stereo) == (
        "Theremin",
        SourceKind.DIRECT,
        SourceUse.CLICK,
        True,
    )
    assert [mix for mix, levels in evening.show.levels.items() if source.id in levels.sends] == ["ears"]
    assert evening.show.position("ears", source.id).setting.is_on is False


def test_a_source_is_changed_where_it_stands(evening: Evening, engineer: Visitor) -> None:
    before = list(evening.show.sources)

    save(engineer, "/sources/drums", name="Drum kit", kind="return", is_stereo="y")

    assert evening.show.sources["drums"] == Source("drums", "Drum kit", SourceKind.RETURN, is_stereo=True)
    assert list(evening.show.sources) == before


def test_an_acoustic_pickup_is_chosen_and_stays_when_the_line_is_saved_again(
    evening: Evening, engineer: Visitor
) -> None:
    add(engineer, "sources", name="Cello", kind="acoustic_pickup", use="music")
    cello = list(evening.show.sources)[-1]
    chosen = evening.show.sources[cello]

    save(engineer, f"/sources/{cello}", name="Violoncello")
    saved = evening.show.sources[cello]
    save(engineer, f"/sources/{cello}", kind="direct")

    assert chosen == Source(cello, "Cello", SourceKind.DIRECT, is_acoustic=True)
    assert saved == Source(cello, "Violoncello", SourceKind.DIRECT, is_acoustic=True)
    assert not evening.show.sources[cello].is_acoustic


def test_a_source_is_moved_up(evening: Evening, engineer: Visitor) -> None:
    engineer.do(engineer.get(PREPARE), "move Drums up")

    assert list(evening.show.sources)[:3] == ["drums", "voice", "guitar"]


def test_the_first_source_cannot_go_further_up(engineer: Visitor) -> None:
    buttons = engineer.get(PREPARE).buttons()

    assert "move Drums up" in buttons
    assert "move Voice up" not in buttons


def test_a_removed_source_is_gone_and_its_requests_are_answered(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)

    engineer.do(engineer.get(PREPARE), "remove Voice")

    assert "voice" not in evening.show.sources
    assert evening.asked() == []


# Musicians and mixes.


def test_a_musician_is_added_renamed_and_removed(evening: Evening, engineer: Visitor) -> None:
    add(engineer, "musicians", name="Eve")
    eve = list(evening.show.musicians)[-1]
    save(engineer, f"/musicians/{eve}", name="Eva")
    renamed = evening.show.musicians[eve].name

    engineer.do(engineer.get(PREPARE), "remove Eva")

    assert renamed == "Eva"
    assert eve not in evening.show.musicians


def test_a_mix_is_added_low_with_its_own_code(evening: Evening, engineer: Visitor) -> None:
    page = add(
        engineer,
        "mixes",
        name="Drum fill",
        output="in_ear_pair",
        musicians=["drummer", "guest"],
        place="back",
        auxes="7",
        is_fed_mono="y",
    )

    mix = list(evening.show.mixes.values())[-1]
    assert page.notes == []
    assert mix == Mix(
        mix.id, "Drum fill", Output.IN_EAR_PAIR, ("drummer", "guest"), "back", (7,), is_fed_mono=True
    )
    assert evening.show.levels[mix.id].output.setting == Setting(-100)
    assert {one.setting.is_on for one in evening.show.levels[mix.id].sends.values()} == {False}
    assert "Drum fill" in engineer.get("/desk/codes").text


def test_a_wedge_takes_no_second_aux(evening: Evening, engineer: Visitor) -> None:
    before = evening.show.mixes

    page = add(engineer, "mixes", name="Fill", output="wedge", auxes="7 8")

    assert page.notes == [TooManyAuxes().sentence]
    assert evening.show.mixes == before


def test_a_mix_keeps_what_is_not_touched(evening: Evening, engineer: Visitor) -> None:
    before = evening.show.mix("ears")

    save(engineer, "/mixes/ears", name="Rhythm section")

    assert evening.show.mix("ears") == Mix(
        "ears", "Rhythm section", before.output, before.musicians, before.place, before.auxes
    )
    assert evening.show.levels["ears"].sends["voice"].setting == Setting(-40)


def test_nobody_ticked_is_nobody(evening: Evening, engineer: Visitor) -> None:
    save(engineer, "/mixes/side", musicians=[])

    assert evening.show.mix("side").musicians == ()


def test_a_removed_mix_closes_its_phones(evening: Evening, engineer: Visitor, singer: Visitor) -> None:
    engineer.do(engineer.get(PREPARE), "remove Front wedge")

    assert "front" not in evening.show.mixes
    assert singer.get("/mix/front").status == 410


def test_prepare_leads_to_the_start_levels_of_each_mix(engineer: Visitor) -> None:
    links = [one.attrs["href"] for one in engineer.get(PREPARE).markup.root.every("a")]

    assert {f"/desk/mix/{mix}" for mix in ("front", "ears", "side")} <= set(links)


# The show.


def test_the_show_is_renamed(evening: Evening, engineer: Visitor) -> None:
    engineer.do(engineer.get(PREPARE), "rename", {"name": "Village green"})

    assert evening.show.name == "Village green"


def test_the_next_show_begins_empty_at_the_same_desk(
    evening: Evening, engineer: Visitor, singer: Visitor
) -> None:
    page = engineer.do(engineer.get(PREPARE), "close this show and begin the next")

    entries = evening.monreq.shows.entries()
    assert [(one.id == SHOW, one.is_open) for one in entries] == [(True, False), (False, True)]
    assert page.path == PREPARE
    assert "Front wedge" not in page.text
    assert "this show is closed" in singer.get("/mix/front").place("head")


def test_the_next_show_begins_once_though_the_button_is_pressed_twice(
    evening: Evening, engineer: Visitor
) -> None:
    page = engineer.get(PREPARE)

    engineer.do(page, "close this show and begin the next")
    engineer.do(page, "close this show and begin the next")

    assert [one.is_open for one in evening.monreq.shows.entries()] == [False, True]


# What people type.


@pytest.mark.security
def test_names_are_shown_as_they_were_typed(engineer: Visitor) -> None:
    nasty = '"><script>alert(1)</script>'

    page = add(engineer, "musicians", name=nasty)

    assert page.notes == []
    assert "<script>alert" not in page.source
    assert nasty in [one.attrs.get("value") for one in page.markup.root.every("input")]
