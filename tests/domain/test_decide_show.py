"""How a show is opened, named and set, and which settings are refused."""

from dataclasses import replace
from typing import Any

import pytest

from monreq.domain import commands as c
from monreq.domain import events as e
from monreq.domain.refusals import BadSetting, IdTaken, OutsideRange
from monreq.domain.setup import Settings
from tests.support.stage import Stage


def test_show_opens_with_a_cleaned_name() -> None:
    stage = Stage("  Town \t hall ", is_demo=True)

    assert (stage.show.name, stage.show.is_open, stage.show.is_demo) == ("Town hall", True, True)
    assert stage.show.revision == 1


def test_show_opens_only_once(stage: Stage) -> None:
    with pytest.raises(IdTaken):
        stage.do(c.OpenShow("Again"))


def test_show_is_renamed_only_to_another_name(stage: Stage) -> None:
    renamed = stage.do(c.RenameShow("Late show"))
    again = stage.do(c.RenameShow(" Late show "))

    assert renamed == (e.ShowRenamed("Late show"),)
    assert again == ()


@pytest.mark.parametrize(
    "change",
    [
        {"touch_tenths": 0},
        {"touch_tenths": 30},
        {"some_tenths": 60},
        {"lot_tenths": 121},
        {"wedge_raise_tenths": -1},
        {"in_ear_raise_tenths": 121},
        {"unmeasured_raise_tenths": 10**30},
        {"lowest_tenths": 100},
        {"lowest_tenths": -(10**30)},
        {"highest_tenths": 10**30},
        {"hurts_tenths": 0},
        {"squeal_tenths": 10},
        {"hurts_tenths": -(10**30)},
        {"pan_step_percent": 0},
        {"pan_step_percent": 101},
        {"reserve_tenths": 29},
        {"reserve_tenths": 10**30},
    ],
)
def test_settings_that_make_no_sense_are_refused(stage: Stage, change: dict[str, Any]) -> None:
    with pytest.raises(BadSetting):
        stage.do(c.ChangeSettings(replace(Settings(), **change)))


def test_settings_are_changed_once(stage: Stage) -> None:
    new = Settings(touch_tenths=5)

    changed = stage.do(c.ChangeSettings(new))
    again = stage.do(c.ChangeSettings(new))

    assert changed == (e.SettingsChanged(new),)
    assert again == ()


def test_range_that_leaves_a_level_outside_is_refused(stage: Stage) -> None:
    with pytest.raises(OutsideRange):
        stage.do(c.ChangeSettings(Settings(lowest_tenths=-240)))
    with pytest.raises(OutsideRange):
        stage.do(c.ChangeSettings(Settings(highest_tenths=-10)))


def test_start_levels_keep_to_a_narrow_range() -> None:
    stage = Stage()
    stage.do(c.ChangeSettings(Settings(lowest_tenths=-150, highest_tenths=-50)))
    stage.source("voice")

    stage.wedge("front")

    assert (stage.level("front", "voice"), stage.level("front", None)) == (-150, -50)
