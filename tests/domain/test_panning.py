"""Pan: laws of two gains, and where a source starts for a musician on stage."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.panning import (
    STARTING_WIDTH,
    Gains,
    Point,
    compromise,
    constant_power,
    from_stage,
    law_of_sines,
    law_of_tangents,
    linear,
)
from monreq.domain.refusals import (
    AngleOutsideBase,
    NoPlaceOnStage,
    NotAFigure,
    PanOutOfRange,
    WidthOutOfRange,
)

Law = Callable[[float], Gains]
LAWS = [constant_power, linear, compromise]
ANGLE_LAWS = [law_of_sines, law_of_tangents]
METRES = st.integers(-2000, 2000).map(lambda centimetres: centimetres / 100)
PLACES = st.tuples(METRES, METRES)
ANGLES = st.floats(-720, 720)
MIDDLE = (0.0, 2.0)
TO_AUDIENCES_RIGHT, TO_AUDIENCES_LEFT = (3.0, 2.0), (-3.0, 2.0)
BEHIND, BEFORE = (0.0, 5.0), (0.0, 0.5)


@given(st.floats(-1, 1))
def test_constant_power_holds(pan: float) -> None:
    left, right = constant_power(pan)

    assert left**2 + right**2 == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("law", LAWS)
@given(pan=st.floats(-1, 1))
def test_law_mirrors_left_and_right(law: Law, pan: float) -> None:
    assert law(-pan) == pytest.approx(law(pan)[::-1], abs=1e-7)


@pytest.mark.parametrize("law", LAWS)
def test_law_leaves_the_other_side_silent(law: Law) -> None:
    assert law(-1) == pytest.approx((1.0, 0.0), abs=1e-12)
    assert law(1) == pytest.approx((0.0, 1.0), abs=1e-12)


@pytest.mark.parametrize("law", LAWS)
@pytest.mark.parametrize("pan", [-1.01, 1.01, math.nan, math.inf])
def test_pan_out_of_range_is_refused(law: Law, pan: float) -> None:
    with pytest.raises(PanOutOfRange):
        law(pan)


@pytest.mark.parametrize("law", ANGLE_LAWS)
@given(left_deg=st.floats(-30, 30))
def test_angle_laws_mirror_and_keep_the_power(law: Callable[[float, float], Gains], left_deg: float) -> None:
    left, right = law(left_deg, 30)

    assert left**2 + right**2 == pytest.approx(1.0)
    assert law(-left_deg, 30) == pytest.approx((right, left), abs=1e-9)


@pytest.mark.parametrize("law", ANGLE_LAWS)
@pytest.mark.parametrize(
    ("left_deg", "base_deg"), [(31, 30), (-31, 30), (0, 0), (0, -30), (0, 91), (math.nan, 30), (0, math.nan)]
)
def test_angle_outside_the_base_is_refused(
    law: Callable[[float, float], Gains], left_deg: float, base_deg: float
) -> None:
    with pytest.raises(AngleOutsideBase):
        law(left_deg, base_deg)


def test_tangent_law_has_no_base_of_ninety_degrees() -> None:
    assert law_of_sines(90, 90) == pytest.approx((1.0, 0.0))
    with pytest.raises(AngleOutsideBase):
        law_of_tangents(45, 90)


def test_source_at_the_musicians_left_starts_on_the_left() -> None:
    """Common practice, no source: facing the audience, the left hand points to the audience's right."""
    assert from_stage(MIDDLE, 0, TO_AUDIENCES_RIGHT) == -1.0
    assert from_stage(MIDDLE, 0, TO_AUDIENCES_LEFT) == 1.0


@pytest.mark.parametrize(
    ("facing_deg", "source", "pan"),
    [
        (90, BEHIND, 1.0),  # facing the audience's left, with the back of the stage at the right hand
        (90, BEFORE, -1.0),
        (270, BEHIND, -1.0),
        (180, TO_AUDIENCES_RIGHT, 1.0),  # facing away from the audience, as the audience sees it
        (180, TO_AUDIENCES_LEFT, -1.0),
        (0, BEHIND, 0.0),
        (0, BEFORE, 0.0),
        (45, BEHIND, math.sqrt(0.5)),
    ],
)
def test_source_starts_where_the_musician_hears_it(facing_deg: float, source: Point, pan: float) -> None:
    assert from_stage(MIDDLE, facing_deg, source) == pytest.approx(pan, abs=1e-12)


def test_source_behind_is_placed_by_its_side() -> None:
    in_front, behind = (1.0, 1.0), (1.0, 3.0)

    assert from_stage(MIDDLE, 0, behind) == from_stage(MIDDLE, 0, in_front) == pytest.approx(-math.sqrt(0.5))


def test_own_place_is_the_middle() -> None:
    assert from_stage(MIDDLE, 37, MIDDLE) == 0.0
    assert from_stage((0.3, 0.0), 0, (0.1 + 0.2, 0.0)) == 0.0


def test_width_draws_sources_together() -> None:
    assert from_stage(MIDDLE, 0, TO_AUDIENCES_LEFT, STARTING_WIDTH) == STARTING_WIDTH
    assert str(from_stage(MIDDLE, 0, TO_AUDIENCES_RIGHT, 0.0)) == "0.0"


@given(PLACES, ANGLES, PLACES, st.floats(0, 1))
def test_pan_stays_within_the_width(listener: Point, facing_deg: float, source: Point, width: float) -> None:
    assert abs(from_stage(listener, facing_deg, source, width)) <= width


@given(PLACES, ANGLES, PLACES)
def test_turning_round_swaps_left_and_right(listener: Point, facing_deg: float, source: Point) -> None:
    turned = from_stage(listener, facing_deg + 180, source)

    assert turned == pytest.approx(-from_stage(listener, facing_deg, source), abs=1e-9)


@given(PLACES, PLACES)
def test_mirrored_stage_swaps_left_and_right(listener: Point, source: Point) -> None:
    (x, y), (source_x, source_y) = listener, source

    assert from_stage((-x, y), 0, (-source_x, source_y)) == -from_stage(listener, 0, source)


@given(PLACES, ANGLES, PLACES, st.integers(0, 359))
def test_turning_the_whole_stage_changes_nothing(
    listener: Point, facing_deg: float, source: Point, by_deg: int
) -> None:
    turned = from_stage(clockwise(listener, by_deg), facing_deg + by_deg, clockwise(source, by_deg))

    assert turned == pytest.approx(from_stage(listener, facing_deg, source), abs=1e-9)


@pytest.mark.parametrize("metres", [math.nan, math.inf, -math.inf, 1000.1])
def test_place_that_is_none_is_refused(metres: float) -> None:
    for place in ((metres, 0.0), (0.0, metres)):
        with pytest.raises(NoPlaceOnStage):
            from_stage(place, 0, MIDDLE)
        with pytest.raises(NoPlaceOnStage):
            from_stage(MIDDLE, 0, place)


@pytest.mark.parametrize("facing_deg", [math.nan, math.inf])
def test_facing_that_is_none_is_refused(facing_deg: float) -> None:
    with pytest.raises(NotAFigure):
        from_stage(MIDDLE, facing_deg, BEHIND)


@pytest.mark.parametrize("width", [-0.1, 1.1, math.nan])
def test_width_out_of_range_is_refused(width: float) -> None:
    with pytest.raises(WidthOutOfRange):
        from_stage(MIDDLE, 0, BEHIND, width)


def clockwise(place: Point, degrees: int) -> Point:
    (x, y), angle = place, math.radians(degrees)
    return x * math.cos(angle) + y * math.sin(angle), y * math.cos(angle) - x * math.sin(angle)
