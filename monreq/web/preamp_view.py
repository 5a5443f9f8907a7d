"""Planned preamp changes in words: the safe order, and what else a change of gain moves."""

from dataclasses import dataclass

from monreq.domain.readings import PreampChange
from monreq.domain.show import Show
from monreq.web import wording
from monreq.web.speech import N_, _, listed, ngettext

REMINDERS = N_("house fader, gate and compressor thresholds, recording send")


@dataclass(frozen=True, slots=True)
class PreampLine:
    """One planned change that is not finished.

    Attributes:
        open_in: The mixes that are not lowered yet, where the gain should wait for them; may be empty.
    """

    change: str
    text: str
    is_moved: bool
    open_in: str


def preamp_lines(show: Show) -> tuple[PreampLine, ...]:
    """Return what is still to do for each planned change: the gain to turn, or the rows to work."""
    lines = (_line(show, planned) for planned in show.preamp_changes.values())
    return tuple(line for line in lines if line is not None)


def _line(show: Show, planned: PreampChange) -> PreampLine | None:
    waiting = [one.key.mix for one in show.open_requests.values() if one.group == planned.id]
    left = len(waiting)
    if planned.is_moved and not left:
        return None
    name = show.source_name(planned.source) or planned.source
    gain = _("Preamp of %(name)s %(figure)s", name=name, figure=wording.signed(planned.change_tenths))
    said = f"{gain}{_what_next(planned, left)}"
    open_in = listed(show.mixes[mix].name for mix in waiting) if planned.change_tenths > 0 else ""
    return PreampLine(planned.id, said, planned.is_moved, open_in)


def _what_next(planned: PreampChange, left: int) -> str:
    """Say what to do now, in the safe order: before a gain goes up its sends go down, after it goes down they go up."""
    rows = ngettext("%(num)d compensating row", "%(num)d compensating rows", left)
    if planned.is_moved:
        return _(" is done: work its %(rows)s.", rows=rows)
    if planned.change_tenths < 0:
        return _(": turn the gain down first; its compensating rows follow.")
    if left:
        return _(": lower first, work its %(rows)s; then turn the gain.", rows=rows)
    return _(": all sends are compensated, turn the gain.")
