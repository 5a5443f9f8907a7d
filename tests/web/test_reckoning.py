"""How monreq reckons: the page says each formula, and every figure on it is the domain's own."""

import math
import re
from functools import partial
from typing import get_args

import pytest

from monreq.domain import balance, exposure_weekly, feedback, loudness, paces, panning, weights
from monreq.domain.aux_partition import MOST_EXACT
from monreq.domain.aux_sharing import AS_GOOD_AS_OFF_DB, REACH_M
from monreq.domain.exposure import RuleName, allowed_hours, rule_named, time_factor
from monreq.domain.exposure_limits import EU_DAILY_VALUES, action_level, ceiling, threshold
from monreq.domain.exposure_uncertainty import COVERAGE, TYPED_LEVEL_DB
from monreq.domain.fold_held import SHORTEST_SONG_MS
from monreq.domain.setup import Settings
from monreq.web.exposure_words import RULES, duration
from monreq.web.reckoned import Reckoned, db, plain
from monreq.web.reckoned_balance import balance_chapters
from monreq.web.reckoned_exposure import exposure_chapters
from monreq.web.reckoned_feedback import feedback_chapters
from monreq.web.reckoned_guard import guard_chapters
from monreq.web.reckoned_plans import plan_chapters
from monreq.web.reckoned_shows import show_chapters
from tests.support import catalogues
from tests.support.visitor import Page, Visitor

PAGE = "/reckoning"
MINUS = "\N{MINUS SIGN}"
CHAPTERS = (
    *balance_chapters(),
    *guard_chapters(),
    *feedback_chapters(),
    *exposure_chapters(),
    *show_chapters(),
    *plan_chapters(),
)
RULE_NAMES = get_args(RuleName)


@pytest.fixture
def page(stranger: Visitor) -> Page:
    return stranger.get(PAGE)


def chapter(page: Page, anchor: str) -> str:
    return page.markup.root.one("section", id=anchor).text


def examples(page: Page, anchor: str) -> list[str]:
    return [one.text for one in page.markup.root.one("section", id=anchor).one("ul").every("li")]


def test_anybody_may_read_it(page: Page) -> None:
    assert (page.status, page.markup.root.one("h1").text) == (200, "How monreq reckons")


def test_it_tells_nothing_of_a_show(page: Page, engineer: Visitor) -> None:
    assert engineer.get(PAGE).source == page.source
    assert "Evening" not in page.text


@pytest.mark.parametrize("one", CHAPTERS, ids=lambda one: one.anchor)
def test_every_chapter_says_what_it_rests_on_and_what_to_mind(page: Page, one: Reckoned) -> None:
    words = chapter(page, one.anchor)

    for line in (one.says, *one.typeset, *one.examples, *one.rests_on, *one.mind, *one.sources):
        assert re.sub(r"\s+", " ", line) in words
    assert one.typeset
    assert one.rests_on
    assert one.mind


def test_every_chapter_is_reached_from_the_contents(page: Page) -> None:
    links = [one.attrs["href"] for one in page.markup.root.one("nav").every("a")]

    assert links == [f"#{one.anchor}" for one in CHAPTERS]
    assert len(set(links)) == len(links)


def test_cautions_on_hearing_feedback_and_cables_come_first(page: Page) -> None:
    cautions = page.markup.root.one("ul", **{"class": "cautions"}).text

    assert [word in cautions for word in ("Hearing:", "Feedback:", "Cables:")] == [True] * 3
    assert page.text.index("Hearing:") < page.text.index("Adding up requests")


@pytest.mark.parametrize("name", RULE_NAMES)
def test_a_rules_constants_are_the_domains(page: Page, name: RuleName) -> None:
    rule, words = rule_named(name), chapter(page, f"rule-{name}")
    formula = (
        f"8 h / {plain(rule.factor)}^((level {MINUS} {plain(rule.criterion_dba)}) / {plain(rule.per_db)})"
    )

    says = "over 8 hours are the upper action value" if name == "eu" else "are allowed for 8 hours"
    assert f"{plain(rule.criterion_dba)} dB(A) {says}" in words
    assert formula in words
    assert f"{plain(rule.average_per_decade_db, 2)} lg(dose / 100 %) + {plain(rule.criterion_dba)}" in words
    for level in (85.0, 94.0, 100.0):
        assert f"{plain(level)} dB(A): {duration(allowed_hours(level, name))}" in words
    for limit in filter(None, (threshold(name), ceiling(name), action_level(name))):
        assert f"{plain(limit.figure)} {limit.unit} ({limit.source}" in words


def test_published_figures_stand_as_published(page: Page) -> None:
    """Sources: NIOSH 98-126, 29 CFR 1910.95 Table G-16, 2003/10/EC Art. 3, HSE ready-reckoner 2020, ITU-T H.870."""
    assert examples(page, "rule-niosh") == ["85 dB(A): 8 h", "94 dB(A): 1 h", "100 dB(A): 15 min"]
    assert examples(page, "rule-osha")[2:] == [
        "100 dB(A): 2 h",
        "115 dB(A): 15 min",
        "116 dB(A): none: above 115 dB(A)",
    ]
    assert "16.61 lg(dose" in chapter(page, "rule-osha")
    assert "exposure limit value: 87 dB(A), peak 200 Pa or 140 dB(C)." in chapter(page, "eu-values")
    assert "Five days of 100 points: 85 dB(A)." in chapter(page, "week")
    assert "= 40 / 2^((level" in chapter(page, "week")


def test_the_european_values_are_the_domains(page: Page) -> None:
    words = chapter(page, "eu-values")

    for value in EU_DAILY_VALUES:
        figures = (
            f"{plain(value.level_dba)} dB(A), peak {plain(value.peak_pa)} Pa or {plain(value.peak_dbc)} dB(C)"
        )
        assert f"{value.name}: {figures}." in words


def test_action_values_are_no_levels_that_are_allowed(page: Page) -> None:
    """Source: Directive 2003/10/EC, Art. 3(2): the limit value counts hearing protectors, the action values do not."""
    words = chapter(page, "rule-eu")

    assert "allowed for" not in words
    assert "so it is no level that is allowed" in words
    assert "count without protectors, the limit value of 87 dB(A) with them" in chapter(page, "eu-values")


def test_how_far_a_level_may_be_off_is_the_domains(page: Page) -> None:
    words = chapter(page, "off-by")

    assert f"U = {plain(TYPED_LEVEL_DB)} dB" in words
    assert f"{plain(COVERAGE, 2)} · u" in words


def test_an_hour_left_and_rising_is_full_sooner(page: Page) -> None:
    """Worked by hand: 60 lg2(1 + ln 2) = 45.6 minutes, since 3 dB an hour more double the rate every hour (NIOSH)."""
    assert examples(page, "full")[0] == "1 h left and rising by 3 dB an hour: full in 46 min (NIOSH)."


def test_cautions_about_hearing_are_all_there(page: Page) -> None:
    words = chapter(page, "exposure")

    for caution in (
        "In-ears are no hearing protectors",
        "Ringing or dull ears afterwards: it was too loud. Stop, and see somebody about it.",
        "not a glance at a meter",
        "The second set starts on the dose of the first.",
        "Children play too: a week's listening is 40 h at 75 dB(A) for them",
    ):
        assert caution in words


def test_what_is_not_verified_says_so(page: Page) -> None:
    assert chapter(page, "rule-niosh").count("told from memory, so nothing is decided by it") == 2
    assert "told from memory" not in chapter(page, "rule-osha")


def test_weekly_constants_are_the_domains(page: Page) -> None:
    words = chapter(page, "week")

    assert f"points / {plain(exposure_weekly.WEEKLY_POINTS)}" in words
    assert (
        f"= {plain(exposure_weekly.ALLOWANCE_H)} / 2^((level {MINUS} {plain(exposure_weekly.ADULTS_DBA)})"
        in words
    )
    assert f"for children from {plain(exposure_weekly.CHILDREN_DBA)} dB(A)" in words


def test_three_dB_more_are_told_for_every_rule(page: Page) -> None:  # noqa: N802 - dB is written so
    told = ", ".join(f"{plain(time_factor(3, rule), 2)} ({RULES[rule]})" for rule in RULE_NAMES)

    assert told == "0.5 (NIOSH), 0.66 (OSHA), 0.5 (EU and UK)"
    assert told in chapter(page, "exposure")


def test_the_same_loudness_is_worked_by_the_program(page: Page) -> None:
    """Worked by hand: 10 lg((0.3162 + 0.3162 + 0.1585 + 0.1259) / (0.0794 + 0.3162 + 0.1585 + 0.1259)) = 1.30 dB."""
    moves = balance.as_two_moves({"kick": -11, "voice": -5, "guitar": -8, "keys": -9}, "kick", 6)

    assert db(moves.output_change_db) == f"{MINUS}1.3 dB"
    assert f"kick {MINUS}11 to {MINUS}5, output {db(moves.output_change_db)}." in chapter(
        page, "same-loudness"
    )


def test_feedback_constants_are_the_domains(page: Page) -> None:
    words, settings = chapter(page, "margin"), Settings()

    assert f"the last {plain(settings.reserve_tenths / 10)} dB (the reserve" in words
    assert f"below {plain(feedback.LOW_MARGIN_DB)} dB a caution" in words
    assert (
        f"Not measured: at most {db(settings.unmeasured_raise_tenths / 10)} above what it began with" in words
    )
    assert f"or up to what stood a whole song of at least {SHORTEST_SONG_MS // 1000} s, together" in words
    assert "2 open mics cost +3.0 dB, 4 cost +6.0 dB, 10 cost +10.0 dB." in chapter(page, "open-mics")


def test_room_sound_costs_potential_gain_by_the_formula_told(page: Page) -> None:
    ds, d0, d1, d2 = (25.0 + length**2 for length in (1.0, 7.0, 4.0, 6.0))
    potential = partial(
        feedback.potential_gain,
        talker_to_mic_m=1,
        talker_to_listener_m=7,
        mic_to_speaker_m=4,
        speaker_to_listener_m=6,
    )

    cost = potential() - potential(critical_distance_m=5)

    assert cost == pytest.approx(10 * math.log10(d0 * d1 / (ds * d2)))
    assert f"potential {MINUS} 10 lg(g(D0) · g(D1) / (g(Ds) · g(D2)))" in chapter(page, "planned-gain")


def test_planned_gain_is_the_handbooks_example(page: Page) -> None:
    """Source: Sound System Design Reference Manual, p. 4-2 and 4-4: 7.5 dB potential and needed, to a tenth and a half."""
    assert "kept free: +7.4 dB potential. To be heard as from 3 m: +7.4 dB needed." in chapter(
        page, "planned-gain"
    )


def test_thresholds_of_hearing_a_change_are_the_domains(page: Page) -> None:
    words = chapter(page, "heard")

    assert f"About {plain(loudness.JUST_HEARD_DB)} dB are just heard" in words
    assert f"{plain(loudness.CLEARLY_HEARD_DB)} dB clearly" in words
    assert f"{plain(loudness.TWICE_AS_LOUD_DB)} dB as twice as loud" in words


def test_plans_are_worked_by_the_program(page: Page) -> None:
    gap = chapter(page, "gap")

    assert f"at a width of {plain(panning.STARTING_WIDTH)}: pan {MINUS}0.6." in chapter(page, "pan")
    assert f"both sides are at {MINUS}3.0 dB" in chapter(page, "pan")
    assert f"{plain(paces.START_MOVE_S)} s for a move and {plain(paces.START_SETUP_S)} s" in gap
    assert f"up to {weights.MOST_ASKS} asks" in gap
    assert "Planned: snare, kick, guitar." in gap
    assert "is put off by newer ones after 6 gaps." in gap


def test_auxes_are_counted_by_the_program(page: Page) -> None:
    """Facts of the trade (common practice, no source): 6 auxes for the smallest band, 14 mixes on 8 mono and 6 stereo.

    Worked by hand: two sends of which one lies 3 dB from the mean of both mixes, root of (9 + 0) / 2 = 2.1 dB.
    """
    words = chapter(page, "auxes")

    assert "Five wedges and one effect take 6 auxes, five in-ear pairs and one effect 11" in words
    assert "8 mono and 6 stereo auxes carry 14 separate mixes." in words
    assert "shared at a cost of 2.1 dB." in words
    assert f"within {plain(REACH_M)} m of each other" in words
    assert f"stood at {plain(AS_GOOD_AS_OFF_DB)} dB" in words
    assert f"Exact up to {MOST_EXACT} mixes" in words


@pytest.mark.parametrize(
    ("value", "words"), [(3.0103, "+3.0 dB"), (-0.04, "0.0 dB"), (0.04, "0.0 dB"), (-1.25, f"{MINUS}1.2 dB")]
)
def test_changes_stand_with_their_sign(value: float, words: str) -> None:
    assert db(value) == words


@pytest.mark.parametrize(
    ("value", "words"),
    [(85.0, "85"), (-3.0, f"{MINUS}3"), (0.6, "0.6"), (100.0, "100"), (-0.01, "0"), (0, "0")],
)
def test_plain_figures_have_no_needless_end(value: float, words: str) -> None:
    assert plain(value) == words


def test_the_words_of_the_limits_are_in_the_catalogues() -> None:
    limits = [limit(name) for limit in (threshold, ceiling, action_level) for name in RULE_NAMES]
    words = {text for one in limits if one for text in (one.source, one.unit)}

    has_words = re.compile(r"[a-z]{4}")

    assert {text for text in words if has_words.search(text)} <= catalogues.texts()
    assert {value.name for value in EU_DAILY_VALUES} <= catalogues.texts()


def test_japanese_sentences_end_as_japanese_does(stranger: Visitor) -> None:
    words = stranger.ask("GET", PAGE, headers={"Accept-Language": "ja"}).text

    assert "monreqの計算" in words
    assert re.findall(r"\w[.;](?=\s*<)|。 ", words) == []
