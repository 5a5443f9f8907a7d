"""Settings that make no sense are refused by a sentence that says which."""

from dataclasses import replace
from typing import Any

import pytest

from monreq.domain.plausible_settings import check_settings
from monreq.domain.refusals import BadSetting
from monreq.domain.setup import Settings


@pytest.mark.parametrize(
    ("change", "names"),
    [
        ({"touch_tenths": 30}, "three amounts"),
        ({"lot_tenths": 121}, "three amounts"),
        ({"wedge_raise_tenths": -1}, "largest raise"),
        ({"unmeasured_raise_tenths": 121}, "largest raise"),
        ({"reserve_tenths": 29}, "from 3 to 12 dB"),
        ({"song_s": 0}, "A song lasts"),
        ({"song_s": 3601}, "A song lasts"),
        ({"gap_s": 0}, "A song lasts"),
        ({"gap_s": 10**30}, "A song lasts"),
        ({"pan_step_percent": 0}, "This setting is out of its range"),
    ],
)
def test_a_refused_setting_is_named(change: dict[str, Any], names: str) -> None:
    with pytest.raises(BadSetting, match=names):
        check_settings(replace(Settings(), **change))


@pytest.mark.parametrize(
    "change",
    [
        {"touch_tenths": 29},
        {"lot_tenths": 120},
        {"in_ear_raise_tenths": 0},
        {"reserve_tenths": 30},
        {"song_s": 1, "gap_s": 3600},
    ],
)
def test_settings_at_the_ends_of_their_ranges_are_taken(change: dict[str, Any]) -> None:
    check_settings(replace(Settings(), **change))
