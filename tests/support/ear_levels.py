"""A stage on which a level was measured at the ear."""

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.ear_exposure import EarExposure, ear_exposure
from monreq.domain.exposure import RuleName
from monreq.domain.readings import EarMethod
from monreq.domain.setup import Settings
from tests.support.stage import Stage, small_stage

COUPLER, AT_THE_EAR, OTHER = EarMethod.COUPLER, EarMethod.AT_THE_EAR, EarMethod.OTHER


def measured_stage(level: int = 850, mix: str = "ears", how: EarMethod = COUPLER) -> Stage:
    stage = small_stage()
    stage.mark()
    stage.do(m.MeasureEarLevel(mix, level, how))
    return stage


def exposure(stage: Stage, mix: str = "ears") -> EarExposure:
    found = ear_exposure(stage.show, mix, stage.now_ms)
    assert found is not None
    return found


def dose(stage: Stage, mix: str = "ears") -> float:
    found = exposure(stage, mix).dose_percent
    assert found is not None
    return found.about


def left_h(stage: Stage, mix: str = "ears") -> float:
    found = exposure(stage, mix).left_h
    assert found is not None
    return found.about


def points(stage: Stage, mix: str = "ears") -> float:
    found = exposure(stage, mix).points
    assert found is not None
    return found.about


def under(stage: Stage, rule: RuleName) -> None:
    stage.do(c.ChangeSettings(Settings(exposure_rule=rule)))
