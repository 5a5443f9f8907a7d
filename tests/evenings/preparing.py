"""The afternoon: a pasted list, chairs and mixes, stage, outputs, groups, songs, settings, start levels, cards."""

from typing import Final

from tests.evenings.company import Company
from tests.evenings.players import ENDS, Desk

PREPARE: Final = "/desk/prepare"

INPUTS: Final = (
    "1 Kick\n2 Snare\n3 Rack tom\n4 Floor tom\n5 OH L\n6 OH R\n7 Bass DI\n8 Guitar\n9 Keys L\n10 Keys R\n"
    "11 Lead voice\n12 Choir voice\n13 Click\n14 Talkback\n15 Hall mics L\n16 Hall mics R",
    "Kick\nSnare\nBass DI\nKeys L/R\nLead voice\nTrumpet\nSaxophone\nTalkback",
)
CHAIRS: Final = (
    "Lead voice: Ada, wedge, centre\nBass: Bo, in-ears, back left\nDrums: Cy, in-ears, back\n"
    "Guitar + Keys, wedge, left",
    "Lead voice: Dorothea, in-ears, centre\nTrumpet + Saxophone, wedge, right\nBass: Émile, wedge, back",
)
SONGS: Final = "Slow lamp\nFast lamp\nNo lamp at all\nLamp, again"

_IDLE: Final = 14  # chosen: so many presses as somebody does who looks around


def prepare(company: Company, desk: Desk, line_up: int) -> None:
    """Prepare a show from nothing."""
    _lists(desk, line_up)
    _more_and_less(desk)
    _stage_and_auxes(desk)
    _groups_and_songs(desk)
    for _ in range(_IDLE):
        desk.wander(ENDS | {"desk.answer"})  # a mark that is set too early keeps a band from being taken over
    _at(desk, "show_settings.change_settings", some="2")
    _start_levels(desk)
    company.bench.compare(desk.browser)


def _at(desk: Desk, endpoint: str, value: str = "", /, **typed: str | list[str]) -> None:
    """Press a button of the page Prepare."""
    desk.go(PREPARE)
    desk.press(desk.find(endpoint, "", value), **typed)


def _lists(desk: Desk, line_up: int) -> None:
    desk.come()
    _at(desk, "lists.paste_sources", lines=INPUTS[line_up])
    _at(desk, "lists.paste_chairs", lines=CHAIRS[line_up])
    _at(desk, "prepare.rename_show", name=f"Evening {line_up}")


def _more_and_less(desk: Desk) -> None:
    """Put what nobody needs, move it, and take it away again."""
    _at(desk, "lists.paste_sources", lines="Spare one\nSpare two")
    _at(desk, "lists.paste_chairs", lines="Spare: Zed, wedge, right")
    show = desk.house.show(desk.browser.show_id)
    source, musician, mix = list(show.sources)[-1], list(show.musicians)[-1], list(show.mixes)[-1]
    _at(desk, "prepare.move_source_up", source)
    _at(desk, "prepare.put_source", source, name="Spare three", trim="2")
    _at(desk, "prepare.put_musician", musician, deputy="Zoë")
    _at(desk, "prepare.put_mix", mix, output="in_ear_pair", auxes="15 16")
    desk.go(f"/desk/mix/{mix}")
    _at(desk, "prepare.remove_mix", mix)
    _at(desk, "prepare.remove_musician", musician)
    _at(desk, "prepare.remove_source", source)


def _stage_and_auxes(desk: Desk) -> None:
    _at(desk, "desk_auxes.describe_desk", mono="12", stereo="2", taken="", outputs="")
    desk.go(PREPARE)
    if desk.has("desk_auxes.take_numbers"):
        desk.press(desk.find("desk_auxes.take_numbers"))
    desk.go(PREPARE)
    if desk.has("stage.spread_over_stage"):
        desk.press(desk.find("stage.spread_over_stage"))
    desk.go(PREPARE)
    form, _ = choice = desk.find("stage.place_on_stage")
    besides = [one for one in form.fields if one.name.endswith("-beside")]
    desk.press(choice, **{one.name: desk.dice.choice(one.choices) for one in besides})


def _groups_and_songs(desk: Desk) -> None:
    sources = list(desk.house.show(desk.browser.show_id).sources)
    desk.go(PREPARE)
    group = [
        one for one in desk.choices() if desk.house.endpoint("POST", one[0].action) == "groups.put_group"
    ][-1]
    desk.press(group, name="All low", sources=sources[:3])
    made = list(desk.house.show(desk.browser.show_id).groups)
    _at(desk, "groups.remove_group", made[-1])
    desk.go("/desk/songs")
    desk.press(desk.find("songs.put_set_list"), lines=SONGS)


def _start_levels(desk: Desk) -> None:
    _at(desk, "start_mixes.start_with_own_forward")
    for mix in desk.house.show(desk.browser.show_id).mixes:
        desk.go(f"/desk/mix/{mix}")
        levels = desk.find("levels.enter_levels")
        fields = [one.name for one in levels[0].fields if one.name.endswith("-level")]
        chosen = desk.dice.sample(fields, min(4, len(fields)))
        desk.press(levels, **{name: str(desk.dice.randint(-30, -6)) for name in chosen})
