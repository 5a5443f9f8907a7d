"""A row of the queue in words: what was asked, what to set, and what one key records."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from monreq.domain.balance import SAME_LOUDNESS_FIRST_DB
from monreq.domain.cautions import CautionCode
from monreq.domain.drifts import drift_db
from monreq.domain.queue import Row
from monreq.domain.refusals import Refusal
from monreq.domain.requests import Call, Kind, RowKey, Way
from monreq.domain.shares import share_db
from monreq.domain.show import Show
from monreq.domain.ways import output_against, rest_down, ways_for
from monreq.web import wording

_MOST_FIGURES = 12  # chosen: what stands in one line of the desk

_CALL_STEPS = {
    Call.HURTS: "output down; ask what hurts",
    Call.SQUEAL: "take back the last raise there, or output down; it may be another wedge or the house",
    Call.NOTHING: "desk first: mute, output, listen on cue; then pack (on, battery, volume, channel, plug) or wedge (power, cable)",
    Call.TALK: "talkback",
}


@dataclass(frozen=True, slots=True)
class Option:
    """Something that one key records, as work done."""

    button: str
    key: str
    text: str


@dataclass(frozen=True, slots=True)
class RowView:
    """One row of the queue in words.

    Attributes:
        requests: Ids of exactly the requests shown here, parted by spaces.
        key_figure: The sum, or what is asked in a word.
        set_to: "from" and "to" of the hand, or one standing figure.
        move: The suggested move, in the unit of the kind; empty if there is none.
        because: The reason's code that the musician reads where the suggested move is less than the sum; may be empty.
        options: What one key records, the best first.
    """

    requests: str
    mix_name: str
    tape: str
    key_figure: str
    now: str
    set_to: str
    asked: str
    cautions: tuple[str, ...]
    ask_first: str
    urgent: str
    steps: str
    move: str
    because: str
    options: tuple[Option, ...]
    takes_figure: bool
    takes_level: bool
    is_set_aside: bool
    oldest_at_ms: int


def row_place(key: RowKey) -> str:
    """Return the id of a row's place."""
    return f"row-{key.mix}-{key.source or ''}-{key.kind}"


def row_view(show: Show, row: Row) -> RowView:
    """Return a row in words."""
    kind, suggested = row.key.kind, row.suggestion.move
    target = row.set_to
    return RowView(
        requests=" ".join(request.id for request in row.requests),
        mix_name=show.mix(row.key.mix).name,
        tape=show.source_name(row.key.source) or "Whole mix",
        key_figure=_key_figure(row),
        now=wording.standing(kind, row.now) if row.now and kind is not Kind.SOUND else "",
        set_to=wording.standing(kind, target) if target and target != row.now else "",
        asked=_asked(show, row),
        cautions=_cautions(show, row),
        ask_first=_ask_first(show, row),
        urgent=_urgent(show, row),
        steps=_CALL_STEPS[row.urgent] if row.urgent else "",
        move="" if suggested is None else str(suggested),
        because=row.cut_because,
        options=_options(show, row),
        takes_figure=kind in (Kind.LEVEL, Kind.PAN, Kind.CALL),
        takes_level=kind in (Kind.LEVEL, Kind.CALL),
        is_set_aside=row.is_set_aside,
        oldest_at_ms=row.oldest_at_ms,
    )


def _cautions(show: Show, row: Row) -> tuple[str, ...]:
    only_compensates = all(one.group for one in row.requests)
    return tuple(
        wording.caution(show, row, one)
        for one in row.suggestion.cautions
        if not (only_compensates and one.code is CautionCode.PREAMP)
    )


def _options(show: Show, row: Row) -> tuple[Option, ...]:
    """Return what one key each records; the best comes first, under Enter.

    Turning the rest down is best where no margin is left, the same loudness where the mix drifted up already.
    """
    options = [option for option in (_plain(row), _same_loudness(show, row), _rest_down(show, row)) if option]
    is_short = any(one.code is CautionCode.AT_RESERVE for one in row.suggestion.cautions)
    has_drifted = (drift_db(show, row.key.mix) or 0) > SAME_LOUDNESS_FIRST_DB
    first = "rest_down" if is_short else "same_loudness" if has_drifted else "done"
    options.sort(key=lambda option: option.button != first)
    return tuple(
        Option(option.button, "Enter" if place == 0 else option.key, option.text)
        for place, option in enumerate(options)
    )


def _plain(row: Row) -> Option | None:
    move, target = row.suggestion.move, row.set_to
    if move == 0:
        makes_up = row.asked == 0 and any(one.group for one in row.requests)
        return Option("done", "d", "done: it stays") if makes_up else None
    if move is None or target is None:
        return Option("done", "d", "done")
    if row.key.kind is Kind.CALL:
        return Option("done", "d", f"done: output now {wording.level(target.level_tenths)}")
    return Option("done", "d", f"done {wording.change(row.key.kind, move)}")


def _same_loudness(show: Show, row: Row) -> Option | None:
    """Return the two moves, the output's with the level to set; nothing where a tenth of a dB is too much for it."""
    move = row.suggestion.move or 0
    if Way.SAME_LOUDNESS not in ways_for(show, row) or move <= 0:
        return None
    against = output_against(show, row, move)
    after = against.after.level_tenths
    lower = after - against.before.level_tenths
    if not lower:
        return None
    output = f"output {wording.signed(lower)} (to {wording.level(after)})"
    return Option("same_loudness", "=", f"same loudness: {wording.signed(move)}, {output}")


def _rest_down(show: Show, row: Row) -> Option | None:
    if Way.REST_DOWN not in ways_for(show, row):
        return None
    try:
        rest_down(show, row, row.asked or 0)
    except Refusal:
        return None
    return Option("rest_down", "r", f"rest down {wording.signed(-(row.asked or 0))} instead")


def _key_figure(row: Row) -> str:
    if row.key.kind is Kind.SOUND:
        return "sound"
    return "" if row.asked is None else wording.change(row.key.kind, row.asked)


def _asked(show: Show, row: Row) -> str:
    """Say how often it was asked and by whom, with each figure: asked 2 times by Bass, +3 +3."""
    if all(one.group for one in row.requests):
        return "compensates the preamp"
    names = " and ".join(dict.fromkeys(show.musician_name(one.musician) for one in row.requests))
    times = "once" if len(row.requests) == 1 else f"{len(row.requests)} times"
    if row.key.kind is Kind.SOUND:
        each = ", ".join(dict.fromkeys(one.words for one in row.requests))
    else:
        each = _figures([wording.change(row.key.kind, one.amount) for one in row.requests if one.amount])
    return f"asked {times} by {names}" + (
        f": {each}" if (each and len(row.requests) > 1) or row.key.kind is Kind.SOUND else ""
    )


def _figures(changes: Sequence[str]) -> str:
    """Return each figure in the order of asking; of very many, how often each was asked."""
    if len(changes) <= _MOST_FIGURES:
        return " ".join(changes)
    return ", ".join(f"{times} of {figure}" for figure, times in Counter(changes).items())


def _ask_first(show: Show, row: Row) -> str:
    """Say how a source that is asked up stands, and what to ask before it is raised."""
    if row.key.kind is not Kind.LEVEL or row.key.source is None or (row.asked or 0) <= 0:
        return ""
    stands = share_db(show, row.key.mix, row.key.source)
    if stands is None:
        return ""
    return f"{wording.share(stands)}. First: playing now? polarity? mic close?"


def _urgent(show: Show, row: Row) -> str:
    """Say who calls, from where, on which aux: Lead voice, centre, aux 1: HURTS."""
    if row.urgent is None:
        return ""
    mix = show.mix(row.key.mix)
    names = " and ".join(dict.fromkeys(show.musician_name(one.musician) for one in row.requests))
    calls = dict.fromkeys(wording.CALLS[one.call] for one in row.requests if one.call)
    where = ", ".join(part for part in (names, mix.place, wording.auxes(mix)) if part)
    return f"{where}: {', '.join(calls)}"
