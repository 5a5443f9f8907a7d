"""How raises, starts, typed figures and the gap plan are told: bounds are the domain's, examples what it does."""

import pytest

from monreq.domain.asked_up import LATELY_MS, MIXES_FOR_GAIN
from monreq.domain.setup import Settings
from monreq.domain.song_commands import BeginSong
from monreq.web.reckoned import db
from monreq.web.reckoned_guard import guard_chapters
from tests.support.stage import Stage
from tests.support.visitor import Page, Visitor

MINUS = "\N{MINUS SIGN}"


@pytest.fixture
def page(stranger: Visitor) -> Page:
    return stranger.get("/reckoning")


def chapter(page: Page, anchor: str) -> str:
    return page.markup.root.one("section", id=anchor).text


def examples(page: Page, anchor: str) -> list[str]:
    return [one.text for one in page.markup.root.one("section", id=anchor).one("ul").every("li")]


def four_equal_in_ears() -> Stage:
    stage = Stage()
    for source in ("kick", "voice", "guitar", "keys"):
        stage.source(source)
    stage.in_ears("ears", stage.musician("singer"))
    stage.mark()
    return stage


def test_the_reserve_of_all_mics_together_is_worked_as_the_guard_does(page: Page) -> None:
    """Worked by hand: 10 lg((0.5012 - 3 * 0.0631) / 0.0631) = 6.94 dB; 12 - 10 lg 4 - 3 = 2.98 dB; never more than that."""
    told = examples(page, "reserve")

    assert told == [
        "4 mics are on, each read alone at 12 dB: one could rise by +6.9 dB. Counted as open mics: +2.9 dB. "
        "The lesser is advised."
    ]


def test_the_guard_of_a_show_comes_to_what_the_page_says_of_it() -> None:
    """Worked by hand: 10 lg(4 * 3.981 - 3) = 11.11 dB, in steps of 3 dB, a gap each; 2.11 dB are left for the last."""
    stage = four_equal_in_ears()
    before = stage.level("ears", "voice")
    steps = [before]

    for _gap in range(6):
        stage.wait(60)
        stage.done(stage.ask("ears", "voice", 120))
        steps.append(stage.level("ears", "voice"))

    assert [level - before for level in steps] == [0, 30, 60, 90, 111, 111, 111]
    assert "one alone comes to +11.1 dB" in guard_chapters()[0].examples[1]


def test_an_undo_upwards_goes_as_the_page_says(page: Page) -> None:
    stage = four_equal_in_ears()
    before = stage.level("ears", "voice")
    lowered = stage.done(stage.ask("ears", "voice", -120))
    stage.wait(600)
    stage.do(BeginSong())

    stage.undo(lowered)

    put_back = sum(one.amount for one in stage.show.open_requests.values() if one.is_put_back)
    assert (stage.level("ears", "voice") - (before - 120), put_back) == (30, 90)
    assert examples(page, "undo") == [
        f"In in-ears {MINUS}12.0 dB of an earlier song is undone: +3.0 dB now, +9.0 dB to be put back."
    ]


def test_bounds_are_those_that_a_show_starts_with(page: Page) -> None:
    settings = Settings()

    assert (
        f"at most {db(settings.in_ear_raise_tenths / 10)} in in-ears and {db(settings.wedge_raise_tenths / 10)} in a wedge. "
        f"Over the evening the whole mix at most {db(settings.in_ear_evening_tenths / 10)} and "
        f"{db(settings.wedge_evening_tenths / 10)}, one source {db(settings.source_evening_tenths / 10)}."
    ) in chapter(page, "guard")
    assert f"First key at hurts: output {db(settings.hurts_tenths / 10)}." in chapter(page, "calls")
    assert f"else output {db(settings.squeal_tenths / 10)}." in chapter(page, "calls")


def test_cautions_about_feedback_and_the_order_of_hands_are_all_there(page: Page) -> None:
    told = {
        "margin": "Limiters stay in and nobody stands near a wedge or listens on cue at level",
        "same-loudness": "Output down before the send goes up",
        "calls": 'Never raise on a word like "I hear nothing": pack down or both out first',
        "rest-down": "Click and talkback stay.",
    }

    assert [anchor for anchor, words in told.items() if words not in chapter(page, anchor)] == []
    assert "or a battery changed, output and channel are off, and the pack is down" in page.text


def test_starts_are_the_domains_and_conversions_worked_by_it(page: Page) -> None:
    """Worked by hand: -25 - (-4) = -21 dB; the lower of -10 and -6; the lower of -10 and -12 - 3."""
    assert examples(page, "start") == [
        f"Wedge: sends {MINUS}20, own source {MINUS}10, output 0.",
        f"In-ear pair: sends {MINUS}25, own source {MINUS}15, output {MINUS}10.",
    ]
    assert examples(page, "conversion") == [
        f"Loudest send {MINUS}4 into in-ears: all sends {MINUS}21.0 dB; output {MINUS}6 to {MINUS}10.",
        f"Fed mono from now on, output at {MINUS}12: to {MINUS}15.",
    ]


def test_a_typed_figure_is_scored_by_median_and_mad(page: Page) -> None:
    """Worked by hand: the median of 0, 1, -1, 2, 0 is 0, their MAD 1; 0.6745 * 14 / 1 = 9.4. 3.5 / 0.6745 = 5.2."""
    words = chapter(page, "typed")

    assert "0.6745 · (level" in words
    assert "asked about beyond ±3.5" in words
    assert "score 9.4, so it is asked about." in words
    assert "nothing within 5.2 dB" in words


def test_asked_up_goes_by_the_domains_figures(page: Page) -> None:
    assert f"within {LATELY_MS // 60_000} min, are {MIXES_FOR_GAIN} or more" in chapter(page, "asked-up")


def test_the_gap_plan_is_not_sold(page: Page) -> None:
    words = chapter(page, "gap")

    assert "this plan is worth no more than the plainest order" in words
    assert "so there it is no promise" in words
