"""The history of a mix in words, newest first, and the difference between two of its moments."""

from collections.abc import Sequence
from dataclasses import dataclass

from monreq.domain.events import DESK
from monreq.domain.hearing import Heard
from monreq.domain.history import Difference, Entry, What
from monreq.domain.requests import PUT_BACK, Kind, Move, Way
from monreq.domain.setup import Setting
from monreq.domain.show import Show
from monreq.domain.songs import SONG_PLAN
from monreq.web import wording
from monreq.web.heard_view import how_it_sounds
from monreq.web.speech import N_, _, listed

_VERBS = {
    What.ASKED: N_("asked"),
    What.CANCELLED_OUT: N_("cancelled out"),
    What.WITHDRAWN: N_("withdrawn"),
    What.DONE: N_("done"),
    What.NOT_DONE: N_("not done"),
    What.SET_ASIDE: N_("set aside"),
    What.UNDONE: N_("undone"),
    What.HEARD: N_("heard"),
    What.CORRECTED: N_("corrected from the desk"),
    What.ENTERED: N_("entered"),
    What.SOURCE_TAKEN_OFF: N_("taken off the list"),
    What.MIX_CHANGED: N_("mix set up"),
    What.CARRIED_OVER: N_("starts from a kept mix"),
    What.PUT_LOW: N_("comes from another output: starts low"),
    What.MIX_REMOVED: N_("mix removed"),
    What.SOUNDCHECK_MARK: N_("soundcheck mark set"),
    What.PREAMP_PLANNED: N_("preamp change planned"),
    What.PREAMP_TURNED: N_("preamp turned"),
    What.PREAMP_DROPPED: N_("preamp change given up"),
    What.MARGIN_READ: N_("feedback margin read"),
    What.MARGINS_STALE: N_("feedback margins stale"),
    What.EAR_LEVEL_MEASURED: N_("level at the ear measured"),
}

_BESIDE = {
    Way.PLAIN: N_("also"),
    Way.SAME_LOUDNESS: N_("same loudness"),
    Way.REST_DOWN: N_("rest down"),
    Way.LAST_RAISE: N_("last raise taken back"),
}
_PREAMP = (What.PREAMP_PLANNED, What.PREAMP_TURNED, What.PREAMP_DROPPED)


@dataclass(frozen=True, slots=True)
class HistoryLine:
    """One entry in words.

    Attributes:
        undoes: The decision that can be taken back here; empty if none.
    """

    revision: int
    at_ms: int
    who: str
    what: str
    source: str
    figures: str
    is_mark: bool
    undoes: str


def history_lines(show: Show, entries: Sequence[Entry]) -> list[HistoryLine]:
    """Return a mix's history, the newest entry first."""
    return [_line(show, entry) for entry in reversed(entries)]


def _line(show: Show, entry: Entry) -> HistoryLine:
    return HistoryLine(
        revision=entry.revision,
        at_ms=entry.at_ms,
        who=_("desk") if entry.by == DESK else show.musician_name(entry.by),
        what=_(_VERBS[entry.what]),
        source=_about(show, entry),
        figures=_figures(show, entry),
        is_mark=entry.what is What.SOUNDCHECK_MARK,
        undoes=_undoes(show, entry),
    )


def _undoes(show: Show, entry: Entry) -> str:
    decision = show.decisions.get(entry.decision or "")
    is_standing = decision is not None and not decision.is_undone and entry.what is not What.UNDONE
    return entry.decision or "" if is_standing else ""


def _about(show: Show, entry: Entry) -> str:
    if entry.call is not None or entry.kind is Kind.CALL:
        return _("call")
    if entry.source is not None:
        return show.source_name(entry.source) or entry.source
    is_whole = entry.kind is not None or entry.before is not None or entry.after is not None
    return _("whole mix") if is_whole else ""


def _figures(show: Show, entry: Entry) -> str:
    """Say what was asked or measured, what moved from where to where, and why."""
    parts = [_amount(show, entry)]
    if entry.after is not None:
        parts.append(_move(entry.before, entry.after))
    if entry.also:
        moves = listed(
            wording.named(_moved_name(show, move), _move(move.before, move.after)) for move in entry.also
        )
        parts.append(_("%(what)s: %(moves)s", what=_(_BESIDE[entry.way]), moves=moves))
    if entry.reason:
        parts.append(wording.reason(entry.reason))
    return "; ".join(part for part in parts if part)


def _amount(show: Show, entry: Entry) -> str:
    match entry.what:
        case What.ASKED:
            return _asked(entry)
        case What.HEARD:
            return how_it_sounds(show.decisions[entry.decision or ""], Heard(entry.words))
        case What.MARGIN_READ:
            figure = wording.figure(entry.amount or 0)
            return _("%(figure)s dB with %(count)s open", figure=figure, count=entry.open_mics)
        case What.EAR_LEVEL_MEASURED:
            return _("%(figure)s dB(A)", figure=wording.figure(entry.amount or 0))
        case _:
            return wording.signed(entry.amount or 0) if entry.what in _PREAMP else ""


def _asked(entry: Entry) -> str:
    """Say what was asked, and for what where no musician asked it."""
    call = _(wording.CALLED[entry.call]) if entry.call else ""
    asked = wording.sound(entry.words) or call or wording.change(entry.kind or Kind.LEVEL, entry.amount or 0)
    if entry.group.startswith(SONG_PLAN):
        return _("%(asked)s for a song", asked=asked)
    if entry.group.startswith(PUT_BACK):
        return _("%(asked)s to be put back", asked=asked)
    return _("%(asked)s for the preamp", asked=asked) if entry.group else asked


def _moved_name(show: Show, move: Move) -> str:
    return _("output") if move.source is None else show.source_name(move.source) or move.source


def _move(before: Setting | None, after: Setting) -> str:
    """Say where a hand went; what stayed is left out."""
    if before is None:
        return _standing(after)
    changes = []
    if before.is_on is not after.is_on:
        changes.append(_("put into the mix") if after.is_on else _("taken out"))
    if before.level_tenths != after.level_tenths:
        changes.append(_from_to(wording.level(before.level_tenths), wording.level(after.level_tenths)))
    if before.pan_percent != after.pan_percent:
        changes.append(_from_to(wording.pan(before.pan_percent), wording.pan(after.pan_percent)))
    return listed(changes) or _("stays at %(level)s", level=_standing(after))


def _standing(setting: Setting) -> str:
    level = wording.level(setting.level_tenths) if setting.is_on else _("off")
    return listed((level, wording.pan(setting.pan_percent))) if setting.pan_percent else level


def _from_to(before: str, after: str) -> str:
    return _("%(before)s to %(after)s", before=before, after=after)


def difference_lines(show: Show, differences: Sequence[Difference]) -> list[str]:
    """Return what stands differently, a line each: Kick: -11 to -5."""
    return [
        _("%(name)s: %(change)s", name=_name(show, one.source), change=_between(one)) for one in differences
    ]


def _name(show: Show, source: str | None) -> str:
    return show.source_name(source) or _("Whole mix")


def _between(one: Difference) -> str:
    if one.then is None and one.now is not None:
        return _("new, %(level)s", level=_standing(one.now))
    if one.now is None:
        return _("not in the mix any more")
    return _move(one.then, one.now)
