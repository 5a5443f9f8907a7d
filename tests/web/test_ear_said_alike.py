"""The desk's row and figures, the phone and the JSON interface say the same of the same ear, on any evening."""

from contextlib import suppress
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.cautions import CautionCode
from monreq.domain.ear_exposure import ear_exposure
from monreq.domain.ear_forecast import last_forecast
from monreq.domain.ear_levels import level_at_ear
from monreq.domain.exposure import RuleName
from monreq.domain.readings import EarMethod
from monreq.domain.refusals import Refusal
from monreq.domain.setup import Settings
from monreq.web.api_views import queue_answer
from monreq.web.clock import local_time
from monreq.web.ear_sentences import level_line
from monreq.web.exposure_view import exposure_view
from monreq.web.exposure_words import duration
from monreq.web.own_exposure import own_exposure
from monreq.web.row_view import row_view
from tests.support.api_client import ApiClient
from tests.support.evening import Evening
from tests.support.stage import Stage, small_stage
from tests.support.visitor import Visitor
from tests.support.web_app import Site

SONG_MS = Settings().song_s * 1000
HOW = {"ears": EarMethod.COUPLER, "front": EarMethod.AT_THE_EAR}
MUSICIAN = {"ears": "bass", "front": "singer"}

STEPS = st.lists(
    st.tuples(
        st.sampled_from(["ask", "done", "output", "measure", "in"]),
        st.sampled_from(sorted(HOW)),
        st.integers(0, 60),
        st.floats(0, 3600),
    ),
    max_size=8,
)
RULES: st.SearchStrategy[RuleName] = st.sampled_from(["niosh", "osha", "eu"])


def step(stage: Stage, what: str, mix: str, tenths: int) -> None:
    match what:
        case "ask":
            stage.ask(mix, "drums" if tenths % 2 else None, tenths + 10, MUSICIAN[mix])
        case "done":
            for row in stage.rows:
                stage.done(*(one.id for one in row.requests))
        case "output":
            stage.correct(mix, None, level=-100 + tenths)
        case "measure":
            stage.do(m.MeasureEarLevel(mix, 800 + 6 * tenths, HOW[mix], is_field_level=tenths % 7 != 0))
        case "in":
            stage.correct(mix, "drums", is_on=tenths % 2 == 0)


def evening(rule: RuleName, steps: list[tuple[str, str, int, float]]) -> Stage:
    stage = small_stage()
    stage.do(c.ChangeSettings(Settings(exposure_rule=rule)))
    for what, mix, tenths, seconds in steps:
        with suppress(Refusal):  # what is refused is no step
            step(stage, what, mix, tenths)
        stage.wait(seconds)
    stage.ask("ears", None, 20, "bass")
    stage.ask("front", None, 20, "singer")
    return stage


@given(rule=RULES, steps=STEPS)
def test_desk_and_phone_say_the_same_of_an_ear(
    rule: RuleName, steps: list[tuple[str, str, int, float]]
) -> None:
    stage = evening(rule, steps)
    show = stage.show
    for mix in HOW:
        desk = exposure_view(show, mix, ear_exposure(show, mix, stage.now_ms))
        lines = own_exposure(show, mix)
        phone = [line.text for line in lines if line.holds_at(stage.now_ms)]
        level = level_at_ear(show, mix)

        assert set(desk.forecast) <= set(phone) or level is None
        if level is not None:
            figures = {line.name: line.value for line in desk.figures}
            assert figures["at the louder ear now"] == level_line(show, mix, level)
            assert level_line(show, mix, level) in phone[0]


@given(rule=RULES, steps=STEPS)
def test_a_row_says_over_json_what_the_desk_shows(
    rule: RuleName, steps: list[tuple[str, str, int, float]]
) -> None:
    stage = evening(rule, steps)
    rows = queue_answer(stage.show, stage.now_ms).rows
    for answer, row in zip(rows, stage.rows, strict=True):
        shown = row_view(stage.show, row).cautions
        assert shown == (*answer.cautions, *(answer.ear.said if answer.ear else ()))
        assert (answer.ear is None) == (answer.mix not in stage.show.ear_levels)
        if answer.ear is not None:
            _figures_are_those_in_words(stage, answer.mix, answer.ear.model_dump())


def _figures_are_those_in_words(stage: Stage, mix: str, ear: dict[str, Any]) -> None:
    level = level_at_ear(stage.show, mix)
    assert ear["level_dba"] == (None if level is None else round(level, 1))
    for line in ear["said"]:
        figure = ear["as_asked_dba"] if line.startswith("as asked") else ear["after_dba"]
        assert f" {figure:.1f}".removesuffix(".0") in line
        if line.startswith("then about") and "left today" in line and ear["minutes_left_least"]:
            assert duration(ear["minutes_left"] / 60) in line
            assert duration(ear["minutes_left_least"] / 60) in line


@given(rule=RULES, steps=STEPS)
def test_a_row_holds_back_from_a_song_before_the_phone_says_that_the_day_may_be_full(
    rule: RuleName, steps: list[tuple[str, str, int, float]]
) -> None:
    stage = evening(rule, steps)
    for row in stage.rows:
        told = last_forecast(stage.show, row.key.mix)
        if told is None or (row.asked or 0) <= 0 or abs(told.earliest_ms - stage.show.at_ms - SONG_MS) <= 2:
            continue
        codes = {one.code for one in row.suggestion.cautions}
        is_over = told.earliest_ms < stage.show.at_ms + SONG_MS
        assert (row.suggestion.move == 0) or not is_over
        assert is_over or CautionCode.DOSE_FULL not in codes


def test_an_ear_is_told_over_the_api(site: Site, site_with_a_level: ApiClient) -> None:
    """Worked by hand: 8 h / 2^((103 - 85) / 3) = 7.5 min at 103 dB(A) (NIOSH 98-126); 4.44 dB are a factor of 2.79."""
    (row,) = site_with_a_level.get("/queue").json["rows"]

    now = local_time(site.now_ms)
    assert row["ear"] == {
        "level_dba": 100.0,
        "after_dba": 103.0,
        "as_asked_dba": 106.0,
        "off_db": 4.4,
        "minutes_left": 7,
        "minutes_left_least": 2,
        "minutes_left_most": 20,
        "rule": "niosh",
        "said": [
            f"then about 103 dB(A), left today at {now}: about 7 min, between 2 min and 20 min",
            f"as asked it would be 106 dB(A), left today at {now}: about 3 min, between 1 min and 10 min",
        ],
    }


def test_an_ear_is_told_over_the_api_as_of_now_though_nothing_happened(
    site: Site, site_with_a_level: ApiClient
) -> None:
    """Worked by hand: 4 min at 97 dB(A) are 4 of 30, so that of 15 min at 100 dB(A) 13 are left (NIOSH 98-126)."""
    site.do(m.MeasureEarLevel("ears", 970, EarMethod.COUPLER))
    site.wait(240)

    (row,) = site_with_a_level.get("/queue").json["rows"]

    assert (row["ear"]["minutes_left"], row["ear"]["minutes_left_least"]) == (13, 3)
    assert f"left today at {local_time(site.now_ms)}: about 13 min" in row["ear"]["said"][0]


@pytest.fixture
def site_with_a_level(site: Site, desk: ApiClient) -> ApiClient:
    site.do(m.MeasureEarLevel("ears", 1000, EarMethod.COUPLER))
    site.do(c.AskForLevel("ears", "bass", None, 60))
    return desk


def test_the_desk_page_shows_what_the_row_says_of_the_ear(evening: Evening, engineer: Visitor) -> None:
    engineer.do(
        engineer.get("/desk/mix/ears"),
        "enter this level",
        {"level": "100", "how": "coupler", "field": "converted"},
    )
    evening.ask("ears", None, 60, "bass")

    page = engineer.get("/desk")

    assert "then about 103 dB(A), left today at " in page.text
    assert "as asked it would be 106 dB(A), left today at " in page.text
