"""Sound requests at the desk, answered in words; and the remark about a source that many ask up."""

import pytest

from monreq.domain import commands as c
from monreq.web.desk_keys import SOUND_LETTERS
from monreq.web.sound_answers import ANSWER_TO, SOUND_ANSWERS
from monreq.web.wording import SOUND_WORDS
from tests.support.desk_page import press
from tests.support.evening import Evening
from tests.support.visitor import Visitor

ROW = "row-front-voice-sound"


def complain(evening: Evening, words: str = "boomy") -> None:
    evening.do(c.AskAboutSound("front", None, "voice", words))


def test_every_word_of_the_phone_has_an_answer_ready_and_every_answer_a_letter_of_its_own() -> None:
    assert set(ANSWER_TO) == set(SOUND_WORDS)
    assert set(ANSWER_TO.values()) == set(SOUND_ANSWERS) == set(SOUND_LETTERS)
    assert len({*SOUND_LETTERS.values(), "w", "x", "j"}) == len(SOUND_LETTERS) + 3


def test_one_key_says_what_was_done_about_it(evening: Evening, engineer: Visitor, singer: Visitor) -> None:
    complain(evening)
    page = engineer.get("/desk")
    assert "done: some lows taken out" in page.place(ROW)

    press(engineer, page, f"done:{ROW}")

    assert "done: some lows taken out" in singer.get("/mix/front").place("strip-voice")


@pytest.mark.parametrize(
    ("button", "told"),
    [("highs_cut", "done: the highs softened"), ("", "done")],
)
def test_another_answer_is_one_more_key(
    evening: Evening, engineer: Visitor, singer: Visitor, button: str, told: str
) -> None:
    complain(evening)

    page = engineer.get("/desk")
    engineer.do(page, page.button_with(f"answered:{ROW}:{button}"))

    assert told in singer.get("/mix/front").place("strip-voice")
    assert "lows" not in singer.get("/mix/front").place("strip-voice")


def test_own_words_are_answered_in_own_words(evening: Evening, engineer: Visitor, singer: Visitor) -> None:
    complain(evening, "like through a pillow")
    page = engineer.get("/desk")
    assert "enter done s" in page.place(ROW).replace("y done, in words", "s")

    press(engineer, page, f"answered:{ROW}", said="windscreen off")

    assert "done: windscreen off" in singer.get("/mix/front").place("strip-voice")


def test_source_asked_up_in_three_mixes_is_told_with_the_way_to_its_preamp(
    evening: Evening, engineer: Visitor
) -> None:
    evening.ask("front", "drums", 30)
    evening.ask("ears", "drums", 30, "bass")
    assert "asked up" not in engineer.get("/desk").text
    evening.ask("side", "drums", 30)

    page = engineer.get("/desk")

    assert "Drums asked up in 3 mixes: is the channel's gain low?" in page.place("asked-up")
    assert "asked up in 3 mixes: is the channel's gain low?" in page.place("row-front-drums-level")
    form = engineer.get("/desk?preamp=drums")
    chosen = [
        one.attrs["value"]
        for one in form.markup.root.one(id="gain").every("option")
        if "selected" in one.attrs
    ]
    assert chosen == ["drums"]
    assert "open" in form.markup.root.one(id="gain").attrs
