"""Lists pasted into Prepare, groups that are offered, and mixes that start with the own source forward."""

import pytest

from monreq.domain.setup import Output, SourceKind
from monreq.domain.start_mixes import FORWARD_TENTHS
from tests.support.evening import Evening
from tests.support.prepare_page import PREPARE
from tests.support.visitor import Page, Visitor

INPUTS, CHAIRS = "add these sources", "add these chairs"


def paste(visitor: Visitor, button: str, lines: str) -> Page:
    return visitor.do(visitor.get(PREPARE), button, {"lines": lines})


def test_a_pasted_input_list_is_added_with_its_guesses(evening: Evening, engineer: Visitor) -> None:
    page = paste(engineer, INPUTS, "1 Kick\n2 Bass DI\n3 Keys L\n4 Keys R\n5 Plate reverb\n6 Banjo DI")

    added = list(evening.show.sources.values())[-5:]
    assert page.notes == []
    assert [(one.name, one.kind, one.is_stereo, one.is_acoustic) for one in added] == [
        ("Kick", SourceKind.OPEN_MIC, False, False),
        ("Bass DI", SourceKind.DIRECT, False, False),
        ("Keys", SourceKind.DIRECT, True, False),
        ("Plate reverb", SourceKind.RETURN, False, False),
        ("Banjo DI", SourceKind.DIRECT, False, True),
    ]


def test_what_is_on_the_list_already_is_left_and_told(evening: Evening, engineer: Visitor) -> None:
    before = len(evening.show.sources)

    page = paste(engineer, INPUTS, "Voice\nFiddle")

    assert page.notes == ["On the list already, left as they are: Voice."]
    assert len(evening.show.sources) == before + 1


def test_two_hundred_lines_are_taken_at_once(evening: Evening, engineer: Visitor) -> None:
    before = len(evening.show.sources)

    page = paste(engineer, INPUTS, "\n".join(f"Source {number}" for number in range(200)))

    assert page.notes == []
    assert len(evening.show.sources) == before + 200


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        ("", "There is no line with a name in it: type one source a line."),
        (
            "\n".join(f"Source {number}" for number in range(201)),
            "That is more than 200 lines: part the list.",
        ),
        ("Fiddle\nfiddle", "fiddle stands in two lines: give each a name of its own."),
        ("Fiddle\n" + "x" * 61, "Line 2 cannot be read: a name has 1 to 60 characters."),
    ],
)
def test_a_list_that_cannot_be_taken_is_refused_whole_and_stays_in_its_field(
    evening: Evening, engineer: Visitor, lines: str, sentence: str
) -> None:
    before = evening.show

    page = paste(engineer, INPUTS, lines)

    assert [note.replace("\u2068", "").replace("\u2069", "") for note in page.notes] == [sentence]
    assert page.sent_by(page.button(INPUTS))["lines"] == [lines]
    assert evening.show == before


@pytest.mark.security
def test_markup_in_a_pasted_list_is_a_name(evening: Evening, engineer: Visitor) -> None:
    nasty = "<script>alert(1)</script>"

    page = paste(engineer, INPUTS, nasty)

    assert list(evening.show.sources.values())[-1].name == nasty
    assert "<script>alert" not in page.source


def test_pasted_chairs_get_their_mixes_in_one_go(evening: Evening, engineer: Visitor) -> None:
    page = paste(engineer, CHAIRS, "Tuba: Ida, in-ears, right\nFiddle: Bo + Viola: Cy")

    mixes = list(evening.show.mixes.values())[-2:]
    assert page.notes == []
    assert [(one.name, one.output, one.place, len(one.musicians)) for one in mixes] == [
        ("Tuba", Output.IN_EAR_PAIR, "right", 1),
        ("Fiddle + Viola", Output.WEDGE, "", 2),
    ]


def test_a_list_that_is_sent_twice_is_added_once(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get(PREPARE)

    for _ in range(2):
        engineer.press(page, CHAIRS, {"lines": "Tuba: Ida"})

    assert [one.name for one in evening.show.musicians.values()].count("Ida") == 1


def test_usual_groups_are_offered_and_made_at_a_press(evening: Evening, engineer: Visitor) -> None:
    paste(engineer, INPUTS, "Kick\nSnare\nTuba")

    page = engineer.do(engineer.get(PREPARE), "make the group Drums")

    (group,) = evening.show.groups.values()
    assert [evening.show.sources[one].name for one in group.sources] == ["Drums", "Kick", "Snare"]
    assert "make the group Drums" not in page.buttons()


def test_a_group_is_changed_and_removed(evening: Evening, engineer: Visitor) -> None:
    paste(engineer, INPUTS, "Kick\nSnare")
    page = engineer.do(engineer.get(PREPARE), "make the group Drums")
    (group,) = evening.show.groups
    kept = evening.show.groups[group].sources[:2]

    page = engineer.do(page, page.button("save", f"/groups/{group}"), {"name": "Kit", "sources": list(kept)})
    changed = evening.show.groups[group]
    engineer.do(page, "remove Kit")

    assert (changed.name, changed.sources) == ("Kit", kept)
    assert evening.show.groups == {}


def test_the_own_source_starts_forward_where_it_is_known(evening: Evening, engineer: Visitor) -> None:
    engineer.do(engineer.get(PREPARE), "close this show and begin the next")
    paste(engineer, INPUTS, "Kick\nTuba")
    paste(engineer, CHAIRS, "Tuba: Ida")

    page = engineer.do(engineer.get(PREPARE), "start with the own source forward")

    show = evening.monreq.shows.state(evening.monreq.shows.entries()[-1].id)
    ((mix, levels),) = show.levels.items()
    kick, tuba = (levels.sends[source] for source in show.sources)
    assert page.notes == []
    assert show.mix(mix).name == "Tuba"
    assert tuba.setting.level_tenths - kick.setting.level_tenths == FORWARD_TENTHS
    assert tuba.confirmed_at_ms is None


def test_a_mix_does_not_start_anew_once_the_soundcheck_is_over(evening: Evening, engineer: Visitor) -> None:
    paste(engineer, INPUTS, "Tuba")
    paste(engineer, CHAIRS, "Tuba: Ida")
    before = evening.show.levels

    page = engineer.do(engineer.get(PREPARE), "start with the own source forward")

    assert len(page.notes) == 1
    assert "soundcheck" in page.notes[0]
    assert evening.show.levels == before


def test_a_deputy_sits_on_the_chair_and_keeps_its_mix(
    evening: Evening, engineer: Visitor, singer: Visitor
) -> None:
    page = engineer.get(PREPARE)

    engineer.do(page, page.button("save", "/musicians/singer"), {"deputy": "Zoë", "chair": "Lead voice"})

    assert evening.show.musician_name("singer") == "Zoë"
    assert evening.show.musicians["singer"].name != "Zoë"
    assert singer.get("/mix/front").status == 200


def test_how_sends_are_taken_and_packs_are_worn_is_asked_and_cautioned(
    evening: Evening, engineer: Visitor
) -> None:
    page = engineer.get(PREPARE)

    after = engineer.do(
        page,
        page.button("save", "/mixes/ears"),
        {"taken_at": "post_fader", "is_cut_by_mutes": "yes", "has_limiter": "no", "is_pack_low": "yes"},
    )

    mix = evening.show.mix("ears")
    assert (mix.is_cut_by_mutes, mix.has_limiter, mix.is_pack_low) == (True, False, True)
    for words in ("every move of a house fader changes this mix", "Mutes cut it", "No limiter"):
        assert words in after.text


def test_mix_put_on_another_output_starts_low_and_the_desk_is_told_what_to_set(
    evening: Evening, engineer: Visitor
) -> None:
    page = engineer.get(PREPARE)

    answer = engineer.press(page, page.button("save", "/mixes/ears"), {"output": "wedge", "auxes": "3"})
    after = engineer.get(PREPARE)

    assert (evening.level("ears", None), evening.level("ears", "voice")) == (-60, -200)
    assert "#" not in answer.headers["Location"]  # the note stands at the head of the page
    (note,) = after.notes
    assert note.startswith(
        "Rhythm comes from another output now and starts low: set its output to \N{MINUS SIGN}6 and"
    )
    assert "Taken off, since it would leak: Click." in note


def test_mix_saved_on_the_same_output_says_nothing_of_it(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get(PREPARE)

    after = engineer.do(page, page.button("save", "/mixes/ears"), {"place": "stage left"})

    assert (after.notes, evening.level("ears", None)) == ([], -60)
