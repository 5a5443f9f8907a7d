"""What each ear gets of a mix."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.ears import ear_powers, louder_ear_db
from monreq.domain.levels import Levels, Position
from monreq.domain.setup import Setting, Source, SourceKind, SourceUse

KICK = Source("kick", "Kick", SourceKind.OPEN_MIC)
CLICK = Source("click", "Click", SourceKind.DIRECT, use=SourceUse.CLICK)
SOURCES = {one.id: one for one in (KICK, CLICK)}


def mix(output_tenths: int = 0, **sends: Setting) -> Levels:
    return Levels(
        Position(Setting(output_tenths)), {one: Position(setting) for one, setting in sends.items()}
    )


def louder_db(levels: Levels) -> float:
    told = louder_ear_db(SOURCES, levels, {})
    assert told is not None
    return told


def test_source_in_the_middle_counts_as_its_level_in_either_ear() -> None:
    left, right = ear_powers(SOURCES, mix(-100, kick=Setting(-30)), {})

    assert left == pytest.approx(right) == pytest.approx(10**-1.3)


def test_source_at_one_side_is_3_db_up_in_that_ear_and_silent_in_the_other() -> None:
    left, right = ear_powers(SOURCES, mix(kick=Setting(0, -100)), {})

    assert 10 * math.log10(left) == pytest.approx(3.01, abs=0.01)
    assert right == pytest.approx(0, abs=1e-12)


def test_click_counts() -> None:
    quiet, loud = mix(kick=Setting(-200), click=Setting(-200)), mix(kick=Setting(-200), click=Setting(100))

    assert louder_db(loud) - louder_db(quiet) == pytest.approx(27, abs=0.1)


def test_preamp_trim_and_output_count_like_the_send() -> None:
    sources = {"kick": Source("kick", "Kick", SourceKind.OPEN_MIC, trim_tenths=20)}

    told = louder_ear_db(sources, mix(-50, kick=Setting(-100)), {"kick": 60})

    assert told == pytest.approx(-7)


@pytest.mark.parametrize(
    "levels",
    [
        mix(kick=Setting(0, 0, is_on=False)),
        Levels(Position(Setting(0, is_on=False)), {"kick": Position(Setting(0))}),
        mix(),
    ],
)
def test_nothing_on_is_silence(levels: Levels) -> None:
    assert ear_powers(SOURCES, levels, {}) == (0, 0)
    assert louder_ear_db(SOURCES, levels, {}) is None


@given(st.lists(st.tuples(st.integers(-900, 100), st.integers(-100, 100)), max_size=8))
def test_both_ears_together_get_what_is_sent_twice(sends: list[tuple[int, int]]) -> None:
    settings = [Setting(level, pan) for level, pan in sends]
    levels = Levels(Position(Setting(0)), {f"s{place}": Position(one) for place, one in enumerate(settings)})

    both = sum(ear_powers({}, levels, {}))

    assert both == pytest.approx(2 * math.fsum(10 ** (level / 100) for level, _ in sends), rel=1e-9)
