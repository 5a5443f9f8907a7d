"""The sends of a mix that is carried over, told one by one: as kept, as they start, and what happened between."""

from collections.abc import Iterator

from monreq.domain.band import Band
from monreq.domain.carry_conversion import Converted, Task
from monreq.domain.carry_report import SendChange, SendNote
from monreq.domain.show import Show


def send_changes(band: Band, after: Show, task: Task, converted: Converted) -> tuple[SendChange, ...]:
    """Return the sends of a mix in the order of the show's input list, then those that were left out."""
    return (*_here(after, task, converted), *_gone(band, task, converted))


def _here(after: Show, task: Task, converted: Converted) -> Iterator[SendChange]:
    known = {source.id: one for one, source in task.sources.items()}
    for source, position in after.sends_in_order(task.after.id):
        of_band = known.get(source.id)
        before = task.kept.sends.get(of_band) if of_band is not None else None
        if source.id in converted.sends and of_band is not None:
            notes, setting = converted.send_notes[of_band], converted.sends[source.id]
            yield SendChange(source.id, source.name, before, setting, notes)
        elif of_band is None or before is None:
            yield SendChange(source.id, source.name, None, position.setting, (SendNote.NEW_SOURCE,))


def _gone(band: Band, task: Task, converted: Converted) -> Iterator[SendChange]:
    names = {source.id: source.name for source in band.sources}
    here = {one for one, source in task.sources.items() if source.id in converted.sends}
    for known, setting in task.kept.sends.items():
        if known not in here:
            yield SendChange(known, names.get(known, known), setting, None, converted.send_notes[known])
