"""Soundcheck, songs and gaps: what phones ask, what desks answer, what the stage is told."""

from collections.abc import Callable
from typing import Final

from tests.evenings import programs
from tests.evenings.company import Company
from tests.evenings.forms import Button
from tests.evenings.players import Desk, Phone, weighted

_USUAL: Final = weighted(
    {"more": 8, "less": 3, "call": 1, "withdraw": 2, "sounds": 6, "heard": 5, "note": 4}, 0.6
)
_MORE: Final = weighted({"more": 1}, 0)
_SONG_S: Final = (150, 260)
_GAP_S: Final = (20, 60)


def soundcheck(company: Company) -> None:
    """Check lines, read margins and levels, let everybody ask, and set the mark."""
    _tell(company, company.desk)
    for mix in company.house.show(company.desk.browser.show_id).mixes:
        _measure(company.desk, mix)
    _asks(company, rounds=2)
    _answers(company, 10)
    company.desk.do("mark")
    _keep_for_a_song(company.desk)
    company.settle()


def around(company: Company) -> None:
    """Do what is done seldom: look back, ask for somebody, say it in own words, take it back by the opposite."""
    desk, dice = company.desk, company.dice
    for mix in company.house.show(desk.browser.show_id).mixes:
        path = f"/desk/mix/{mix}"
        desk.go(path)
        desk.press(desk.find("levels.ask_for_somebody"), change="+1", source="")
        desk.go(path)
        if desk.has("levels.put_on_list"):
            desk.press(desk.find("levels.put_on_list"))
        moments = [link for link in desk.page.read.links if "/at/" in link]
        if moments:
            desk.go(dice.choice(moments))
    desk.browser.fetch("/desk/songs/asked?line=1+kick+%2B3")
    for phone in company.phones:
        if phone.wake():
            _to_and_fro(phone)


def _to_and_fro(phone: Phone) -> None:
    """Ask for more and as much less; write one's own words."""
    mores = [one for one in phone.choices() if one[1].value.startswith("more:") and one[1].value != "more:"]
    if mores:
        chosen = phone.dice.choice(mores)
        phone.press(chosen)
        less = chosen[1].value.replace("more:", "less:")
        both = [one for one in phone.choices() if one[1].value == less]
        if both:
            phone.press(both[0])
    phone.go(f"{phone.home()}?write=1")
    if phone.has("phone.ask", "sound-own"):
        phone.press(phone.find("phone.ask", "sound-own"), words="too thin in the verse")


def songs(company: Company, count: int) -> None:
    """Play songs, with a gap after each."""
    desk = company.desk
    for number in range(count):
        desk.do("begin_song")
        _during(company)
        desk.do("begin_gap")
        if number == 0:
            company.second.do("take_back_stretch")
            desk.do("begin_gap")
        _answers(company, 6)
        _gap_work(company, number)
        company.house.clock.wait(company.dice.randint(*_GAP_S))
        company.listen()
        company.settle()


def everybody_wants_more(company: Company, rounds: int) -> None:
    """Let every phone ask for more, and the desk do whatever is suggested."""
    for _ in range(rounds):
        _tap_all(company, _MORE, taps=2)
        while company.desk.do("done"):
            company.house.clock.wait(2)
    company.settle()


def _during(company: Company) -> None:
    for _ in range(3):
        company.house.clock.wait(company.dice.randint(*_SONG_S) / 3)
        _asks(company, rounds=1)
        _answers(company, 2)
        company.listen()


def _asks(company: Company, rounds: int) -> None:
    for _ in range(rounds):
        _tap_all(company, _USUAL, taps=1)
        company.tablet.ask()
        company.house.clock.wait(5)


def _tap_all(company: Company, weigh: Callable[[Button], float], taps: int) -> None:
    """Let each phone press something; some sleep, and press on the page that they looked at before."""
    for phone in company.phones:
        for _ in range(taps):
            is_asleep = company.dice.random() < 0.25 and not phone.page.is_out
            if is_asleep or phone.wake():
                _tap(phone, weigh)
            company.house.clock.wait(company.dice.random())


def _tap(phone: Phone, weigh: Callable[[Button], float]) -> None:
    if phone.dice.random() < 0.05:
        phone.go(f"{phone.home()}?write=1")
    if phone.dice.random() < 0.3:
        asks = [one for one in phone.choices() if one[1].name == "do" and weigh(one[1]) > 0]
        if asks:
            phone.press(phone.rarest(asks), words="too thin")
        return
    phone.tap(weigh)


def _answers(company: Company, count: int) -> None:
    """Let both desks answer, by turns, mostly as suggested."""
    for _ in range(count):
        desk = company.dice.choice((company.desk, company.second))
        if company.dice.random() < 0.45:
            desk.answer("done")
        elif company.dice.random() < 0.8:
            desk.answer()
        else:
            desk.do("undo", "d")


def _gap_work(company: Company, number: int) -> None:
    """Do what a desk does beside the rows: look around, tell the stage, turn a gain, set songs."""
    desk, second = company.desk, company.second
    for _ in range(8):
        second.wander()
    if number == 0:
        second.do("drop_moves")
        second.do("plan_moves")
        _gain(desk)
    elif number == 1:
        _tell(company, desk)
        programs.ring(desk)
        desk.do("take_back")
        desk.do("choose_typed", **{"typed-song": "2"})
        desk.do("choose_song")
    else:
        desk.do("ask_line", **{"asked-line": "1 kick +3"})
        second.do("drop_moves")


def _gain(desk: Desk) -> None:
    show = desk.house.show(desk.browser.show_id)
    for turned in (True, False):
        desk.go("/desk")
        source = desk.dice.choice(list(show.sources))
        desk.press(desk.find("measuring.plan_preamp"), source=source, change=desk.dice.choice(("+3", "-4")))
        desk.do("preamp_moved" if turned else "preamp_dropped")


def _tell(company: Company, desk: Desk) -> None:
    """Send a note and check a line, hear what phones say, and end both."""
    desk.do("note")
    desk.do("note_own", **{"note-words": "stand by"})
    desk.do("line_check", **{"line-source": next(iter(company.house.show(desk.browser.show_id).sources))})
    for phone in company.phones[:4]:
        if phone.wake():
            _say(phone, "heard-yes", "heard-no")
    desk.do("line_check_end")
    for phone in company.phones[:3]:
        if phone.wake():
            _say(phone, "note-ok", "note-not-yet", "note-come-here")
    desk.do("note_back")


def _say(phone: Phone, *verbs: str) -> None:
    """Answer what the desk asked, in the way that was said least."""
    answers = [one for one in phone.choices() if one[1].verb in verbs]
    if answers:
        phone.press(phone.rarest(answers))


def _measure(desk: Desk, mix: str) -> None:
    """Read margins of a wedge, and a level at the ear; one wedge is moved afterwards."""
    path = f"/desk/mix/{mix}"
    desk.go(path)
    if desk.has("measuring.read_margin"):
        form, _ = desk.find("measuring.read_margin")
        mics = next((one.choices for one in form.fields if one.name == "source"), ())
        for mic in mics[:3]:
            desk.go(path)
            margin = str(desk.dice.randint(5, 12))
            desk.press(desk.find("measuring.read_margin"), source=mic, margin=margin, open_mics="1")
        if desk.dice.random() < 0.3 or not desk.house.reached.routes["POST", "measuring.make_stale"]:
            desk.go(path)
            desk.press(desk.find("measuring.make_stale"), because="wedge moved")
    desk.go(path)
    desk.press(desk.find("exposure.measure"), level="94", how="at_the_ear")
    desk.go(path)
    desk.press(desk.find("exposure.choose_rule"), rule=desk.dice.choice(("niosh", "osha")))


def _keep_for_a_song(desk: Desk) -> None:
    """Move a mix, keep it for the second song, and move it on, so that the song asks for moves."""
    show = desk.house.show(desk.browser.show_id)
    song, mix = list(show.songs)[1], next(iter(show.mixes))
    _type_levels(desk, mix)
    desk.go("/desk/kept")
    desk.press(
        desk.find("keeping.keep"), band="The Test Matches", name="for the song", song=song, mixes=[mix]
    )
    _type_levels(desk, mix)


def _type_levels(desk: Desk, mix: str) -> None:
    """Type some levels of a mix, and confirm what is asked about them."""
    desk.go(f"/desk/mix/{mix}")
    fields = [one.name for one in desk.find("levels.enter_levels")[0].fields if one.name.endswith("-level")]
    typed = {name: str(desk.dice.randint(-30, -6)) for name in fields[:4]}
    for _ in range(2):
        desk.press(desk.find("levels.enter_levels"), **typed)
