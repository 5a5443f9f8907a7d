"""The desk's line for somebody without a phone: who, what, how much."""

import pytest

from monreq.domain.refusals import Refusal
from monreq.web.asked_line import NobodyMeant, NothingMeant, UnreadableLine, read_line
from monreq.web.figures import UnreadableFigure
from tests.support.evening import Evening
from tests.support.visitor import Visitor


@pytest.mark.parametrize(
    ("line", "asked"),
    [
        ("1 v +3", ("front", None, "voice", 30)),
        ("1v+3", ("front", None, "voice", 30)),
        ("1 drums -1,5", ("front", None, "drums", -15)),
        ("1 +2", ("front", None, None, 20)),
        ("1 \u22122", ("front", None, None, -20)),
    ],
)
def test_line_reads(evening: Evening, line: str, asked: tuple[object, ...]) -> None:
    command = read_line(evening.show, line).command

    assert (command.mix, command.musician, command.source, command.change) == asked


def test_line_names_a_musician_of_a_shared_mix(evening: Evening) -> None:
    name = evening.show.musicians["drummer"].name

    command = read_line(evening.show, f"{name} voice +1").command

    assert (command.mix, command.musician, command.source) == ("ears", "drummer", "voice")


@pytest.mark.parametrize(
    ("line", "refusal"),
    [
        ("", UnreadableLine),
        ("1 v", UnreadableLine),
        ("1 v 3", UnreadableLine),
        ("99 v +3", NobodyMeant),
        ("nobody v +3", NobodyMeant),
        ("1 xyz +3", NothingMeant),
        ("1 v +3x", UnreadableFigure),
    ],
)
def test_line_that_means_nothing_is_refused(evening: Evening, line: str, refusal: type[Refusal]) -> None:
    with pytest.raises(refusal):
        read_line(evening.show, line)


def test_line_is_sent_by_its_button(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get("/desk")

    engineer.do(page, page.button_with("ask_line:"), {"asked-line": "1 v +3"})

    assert evening.asked() == [("front", "voice", "level", 30)]


def test_line_is_read_while_it_is_typed(engineer: Visitor) -> None:
    def reads(line: str) -> object:
        return (engineer.ask("GET", f"/desk/songs/asked?line={line}").json or {})["reads"]

    assert "+3" in str(reads("1 v %2B3"))
    assert reads("1 xyz %2B3") == "No source in this mix begins like this."
