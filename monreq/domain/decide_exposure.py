"""Levels at the ear: which are taken, since a figure that says nothing would be believed."""

from monreq.domain import measuring_commands as c
from monreq.domain.ear_refusals import MeasureAtTheEar, NoEarLevel, NothingToMeasure, SayHowMeasured
from monreq.domain.events import Event
from monreq.domain.measuring_events import EarLevelMeasured
from monreq.domain.music import heard
from monreq.domain.readings import EarMethod
from monreq.domain.setup import Output
from monreq.domain.show import Show
from monreq.domain.texts import clean_words

LOWEST_EAR_TENTHS = 400  # chosen: a quiet room, below which nobody plays
HIGHEST_EAR_TENTHS = 1400  # the ceiling of every rule here, see `exposure_limits.ceiling`


def measure_ear_level(show: Show, command: c.MeasureEarLevel) -> tuple[Event, ...]:
    """Enter a level at the ear as it was measured; beside an open ear it is that of the field."""
    is_wedge = show.mix(command.mix).output is Output.WEDGE
    if is_wedge and command.how is not EarMethod.AT_THE_EAR:
        raise MeasureAtTheEar
    if not LOWEST_EAR_TENTHS <= command.level_tenths <= HIGHEST_EAR_TENTHS:
        raise NoEarLevel
    words = clean_words(command.words) if command.how is EarMethod.OTHER else ""
    if command.how is EarMethod.OTHER and not words:
        raise SayHowMeasured
    if not heard(show, show.levels[command.mix], show.gains):
        raise NothingToMeasure
    is_correction = command.is_correction and command.mix in show.ear_levels
    is_field_level = True if is_wedge else command.is_field_level
    return (
        EarLevelMeasured(
            command.mix, command.level_tenths, command.how, words, is_correction, is_field_level
        ),
    )
