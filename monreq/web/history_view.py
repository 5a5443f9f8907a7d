"""The history of a mix in words, newest first, and the difference between two of its moments."""

from collections.abc import Sequence
from dataclasses import dataclass

from monreq.domain.events import DESK
from monreq.domain.history import Difference, Entry, What
from monreq.domain.requests import Kind, Move, Way
from monreq.domain.setup import Setting
from monreq.domain.show import Show
from monreq.web import wording

_VERBS = {
    What.ASKED: "asked",
    What.CANCELLED_OUT: "cancelled out",
    What.WITHDRAWN: "withdrawn",
    What.DONE: "done",
    What.NOT_DONE: "not done",
    What.SET_ASIDE: "set aside",
    What.UNDONE: "undone",
    What.CORRECTED: "corrected from the desk",
    What.ENTERED: "entered",
    What.SOURCE_TAKEN_OFF: "taken off the list",
    What.MIX_CHANGED: "mix set up",
    What.CARRIED_OVER: "starts from a kept mix",
    What.MIX_REMOVED: "mix removed",
    What.SOUNDCHECK_MARK: "soundcheck mark set",
    What.PREAMP_PLANNED: "preamp change planned",
    What.PREAMP_TURNED: "preamp turned",
    What.PREAMP_DROPPED: "preamp change given up",
    What.MARGIN_READ: "feedback margin read",
    What.MARGINS_STALE: "feedback margins stale",
    What.EAR_LEVEL_MEASURED: "level at the ear measured",
}

_BESIDE = {
    Way.PLAIN: "also",
    Way.SAME_LOUDNESS: "same loudness",
    Way.REST_DOWN: "rest down",
    Way.LAST_RAISE: "last raise taken back",
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
        who="desk" if entry.by == DESK else show.musician_name(entry.by),
        what=_VERBS[entry.what],
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
        return "call"
    if entry.source is not None:
        return show.source_name(entry.source) or entry.source
    is_whole = entry.kind is not None or entry.before is not None or entry.after is not None
    return "whole mix" if is_whole else ""


def _figures(show: Show, entry: Entry) -> str:
    """Say what was asked or measured, what moved from where to where, and why."""
    parts = [_amount(entry)]
    if entry.after is not None:
        parts.append(_move(entry.before, entry.after))
    if entry.also:
        moves = ", ".join(
            f"{_moved_name(show, move)} {_move(move.before, move.after)}" for move in entry.also
        )
        parts.append(f"{_BESIDE[entry.way]}: {moves}")
    if entry.reason:
        parts.append(wording.reason(entry.reason))
    return "; ".join(part for part in parts if part)


def _amount(entry: Entry) -> str:
    match entry.what:
        case What.ASKED:
            call = wording.CALLS[entry.call].lower() if entry.call else ""
            asked = entry.words or call or wording.change(entry.kind or Kind.LEVEL, entry.amount or 0)
            return f"{asked} for the preamp" if entry.group else asked
        case What.MARGIN_READ:
            return f"{wording.figure(entry.amount or 0)} dB with {entry.open_mics} open"
        case What.EAR_LEVEL_MEASURED:
            return f"{wording.figure(entry.amount or 0)} dB(A)"
        case _:
            return wording.signed(entry.amount or 0) if entry.what in _PREAMP else ""


def _moved_name(show: Show, move: Move) -> str:
    return "output" if move.source is None else show.source_name(move.source) or move.source


def _move(before: Setting | None, after: Setting) -> str:
    """Say where a hand went; what stayed is left out."""
    if before is None:
        return _standing(after)
    changes = []
    if before.is_on is not after.is_on:
        changes.append("put in" if after.is_on else "taken out")
    if before.level_tenths != after.level_tenths:
        changes.append(f"{wording.level(before.level_tenths)} to {wording.level(after.level_tenths)}")
    if before.pan_percent != after.pan_percent:
        changes.append(f"{wording.pan(before.pan_percent)} to {wording.pan(after.pan_percent)}")
    return ", ".join(changes) or f"stays at {_standing(after)}"


def _standing(setting: Setting) -> str:
    level = wording.level(setting.level_tenths) if setting.is_on else "off"
    return f"{level}, {wording.pan(setting.pan_percent)}" if setting.pan_percent else level


def difference_lines(show: Show, differences: Sequence[Difference]) -> list[str]:
    """Return what stands differently, a line each: Kick: -11 to -5."""
    return [f"{_name(show, one.source)}: {_between(one)}" for one in differences]


def _name(show: Show, source: str | None) -> str:
    return show.source_name(source) or "Whole mix"


def _between(one: Difference) -> str:
    if one.then is None and one.now is not None:
        return f"new, {_standing(one.now)}"
    if one.now is None:
        return "not in the mix any more"
    return _move(one.then, one.now)
