"""Lists turned into commands: everything once, and what is there already is left as it is."""

from monreq.domain.carry_commands import DoTogether
from monreq.domain.chair_list import read_chair_list
from monreq.domain.input_list import read_input_list
from monreq.domain.listing import list_chairs, list_sources
from monreq.domain.setup import Output
from tests.support.stage import Stage

INPUTS = "1 Kick\n2 Bass\n3 Keys L\n4 Keys R\n5 Lead voice"
CHAIRS = "Bass: Ada, in-ears\nTrumpet: Ida + Saxophone: Bo, wedge, right\nLead voice: Cy"


def new_id(number: int) -> str:
    return f"n{number}"


def test_a_pasted_list_becomes_the_input_list_in_its_order() -> None:
    stage = Stage()

    listing = list_sources(stage.show, read_input_list(INPUTS), new_id)
    stage.do(DoTogether(listing.commands))

    assert [one.name for one in stage.show.sources.values()] == ["Kick", "Bass", "Keys", "Lead voice"]
    assert [one.name for one in stage.show.sources.values() if one.is_stereo] == ["Keys"]
    assert listing.already == ()


def test_a_list_pasted_again_adds_only_what_is_new() -> None:
    stage = Stage()
    stage.do(DoTogether(list_sources(stage.show, read_input_list("Kick"), new_id).commands))

    listing = list_sources(stage.show, read_input_list("KICK\nSnare"), lambda number: f"m{number}")
    stage.do(DoTogether(listing.commands))

    assert [one.name for one in stage.show.sources.values()] == ["Kick", "Snare"]
    assert listing.already == ("KICK",)


def test_each_line_of_chairs_gets_a_mix_of_its_own() -> None:
    stage = Stage()

    listing = list_chairs(stage.show, read_chair_list(CHAIRS), new_id)
    stage.do(DoTogether(listing.commands))

    mixes = [
        (mix.name, mix.output, [stage.show.musician_name(one) for one in mix.musicians], mix.place)
        for mix in stage.show.mixes.values()
    ]
    assert mixes == [
        ("Bass", Output.IN_EAR_PAIR, ["Ada"], ""),
        ("Trumpet + Saxophone", Output.WEDGE, ["Ida", "Bo"], "right"),
        ("Lead voice", Output.WEDGE, ["Cy"], ""),
    ]
    assert [one.is_lead for one in stage.show.musicians.values()] == [False, False, False, True]


def test_chairs_that_are_there_already_are_left_and_told() -> None:
    stage = Stage()
    stage.do(DoTogether(list_chairs(stage.show, read_chair_list(CHAIRS), new_id).commands))
    before = stage.show

    listing = list_chairs(stage.show, read_chair_list(CHAIRS), lambda number: f"m{number}")

    assert listing.commands == ()
    assert listing.already == ("Bass", "Trumpet", "Saxophone", "Lead voice")
    assert stage.show is before
