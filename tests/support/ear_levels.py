"""A stage on which a level was measured at the ear."""

from monreq.domain import measuring_commands as m
from monreq.domain.readings import EarMethod
from tests.support.stage import Stage, small_stage

COUPLER, AT_THE_EAR, OTHER = EarMethod.COUPLER, EarMethod.AT_THE_EAR, EarMethod.OTHER


def measured_stage(level: int = 850, mix: str = "ears", how: EarMethod = COUPLER) -> Stage:
    stage = small_stage()
    stage.mark()
    stage.do(m.MeasureEarLevel(mix, level, how))
    return stage
