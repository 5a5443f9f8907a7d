"""A band with as many sources as a list may have goes through the same pages, with none of them left behind."""

import pytest

from monreq.domain import commands as c
from monreq.domain.band import Band
from monreq.domain.input_list import LINES_LIMIT
from monreq.domain.setup import Mix, Musician, Output, Source, SourceKind
from tests.support.evening import Evening
from tests.support.visitor import Visitor

NEXT, MIXES = "next", 12
LARGE = Band(
    "band1",
    "A large band",
    sources=tuple(Source(f"s{one:03d}", f"Source {one}", SourceKind.DIRECT) for one in range(LINES_LIMIT)),
    musicians=tuple(Musician(f"p{one}", f"Player {one}") for one in range(MIXES)),
    mixes=tuple(Mix(f"m{one}", f"Mix {one}", Output.IN_EAR_PAIR, (f"p{one}",)) for one in range(MIXES)),
)


@pytest.mark.parametrize("has_list", [False, True], ids=["an empty show", "a show with a list of its own"])
def test_two_hundred_sources_are_taken_over(evening: Evening, *, has_list: bool) -> None:
    evening.monreq.bands.add(LARGE)
    shows = evening.monreq.shows
    shows.open(NEXT, c.OpenShow("Next evening"))
    for one in range(LINES_LIMIT if has_list else 0):
        shows.submit(NEXT, c.PutSource(Source(f"x{one:03d}", f"source {one}", SourceKind.DIRECT)))
    engineer = Visitor(evening.monreq.flask)
    engineer.scan(evening.monreq.link(shows.state(NEXT), None, ""))

    page = engineer.get("/desk/books/band1/open")
    for button in ("go on to the levels", "show what changes", "enter all of this as plans"):
        page = engineer.press(page, button)

    show = shows.state(NEXT)
    assert page.status == 303
    assert [one.name.casefold() for one in show.sources.values()] == [
        one.name.casefold() for one in LARGE.sources
    ]
    assert len(show.mixes) == MIXES
    assert {len(levels.sends) for levels in show.levels.values()} == {LINES_LIMIT}
