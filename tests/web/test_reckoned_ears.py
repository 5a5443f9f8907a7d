"""What the page says of when a day is full."""

from tests.support.visitor import Visitor


def test_it_says_by_which_end_of_the_range_raises_stop_and_where_that_stands(stranger: Visitor) -> None:
    """Worked by hand: 94 dB(A) is allowed for an hour, 4.44 dB more for 21.5 min (NIOSH 98-126)."""
    told = stranger.get("/reckoning").markup.root.one("section", id="full").text

    assert "94 dB(A) since the first reading: full after 1 h, no raise after 21 min (NIOSH)." in told
    assert "TRLV Lärm, part 2 (Germany, 2017), section 9(3)" in told
    assert "ISO 9612:2009, clause 14" in told
