"""The guard: how far something may get louder on advice, whichever road it comes by.

Every suggestion, key, plan and undo that turns a send, an output or a mix up passes here: a raise (`raised`), a source
that comes in (`comes_in_at`), or any move (`within`). Counted is what it does at the ear and in the loop of a wedge:
in one go, in this song or gap, since the evening began, and against what calls said. What a hand did is recorded as it
was; the guard bounds advice alone.
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from typing import NamedTuple

from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.ears import path_tenths, with_output_on
from monreq.domain.gains import gains_to_come
from monreq.domain.guard_ear import comes_in_limits, ear_limits, louder_than_advised, moments_of_gap, one_trip
from monreq.domain.guard_loop import BOUNDLESS_TENTHS, loop_limits
from monreq.domain.requests import Move
from monreq.domain.setup import Setting
from monreq.domain.show import Show, Stood, with_past
from monreq.domain.starting_low import START_TENTHS

LEAST_RAISE_TENTHS = 5  # chosen: nobody hears less
A_HAIR_MORE = 1 + 1e-9  # what sums of powers may differ by in the last digits

Bounded = tuple[int, tuple[Caution, ...]]


class Beside(NamedTuple):
    """What goes up to make up for a preamp, beside what is asked: it only keeps things as they were.

    Attributes:
        amount: How far, at least 0. [0.1 dB]
        up_to: How far its path was turned up before the gain was turned: so far nothing but a call or a reading since
            speaks against it. [0.1 dB]
    """

    amount: int
    up_to: int


NOTHING_BESIDE = Beside(0, -BOUNDLESS_TENTHS)
OUTPUT_AGAINST = Beside(0, -BOUNDLESS_TENTHS - 1)

_DISPROVED_SINCE = frozenset(
    {
        CautionCode.AFTER_HURTS,
        CautionCode.AFTER_SQUEAL,
        CautionCode.AT_RESERVE,
        CautionCode.LOW_MARGIN,
        CautionCode.MARGIN_SHORT,
        CautionCode.NO_TIME_ABOVE,
        CautionCode.MARGIN_STALE,
    }
)
_SAID_WHERE_THEY_CUT = frozenset(
    {
        CautionCode.AFTER_HURTS,
        CautionCode.AFTER_SQUEAL,
        CautionCode.DOSE_FULL,
        CautionCode.EVENING_LIMIT,
        CautionCode.MARGIN_SHORT,
        CautionCode.NO_TIME_ABOVE,
        CautionCode.RAISED_ALREADY,
        CautionCode.RAISE_LIMITED,
    }
)

_PAST_WHICH_TO_ASK = frozenset(
    {CautionCode.AFTER_HURTS, CautionCode.AFTER_SQUEAL, CautionCode.EVENING_LIMIT, CautionCode.NO_TIME_ABOVE}
)


def raised(
    show: Show,
    mix: str,
    sources: Collection[str] | None,
    asked: int,
    *,
    beside: Beside = NOTHING_BESIDE,
) -> Bounded:
    """Return how far up is advised, and what to mind: the tightest bound first. [0.1 dB].

    Args:
        show: The show now.
        mix: The id of one of its mixes.
        sources: What goes up by the same amount; None is the output, and everything with it.
        asked: How far, above 0. [0.1 dB]
        beside: What goes up with it to make up for a preamp; the move is then as far below 0 as that had better not.
    """
    back = beside.up_to - _path(show, mix, sources)
    limits = [
        _not_below(limit, back)
        for limit in _limits(show, mix, sources, is_louder=beside is not OUTPUT_AGAINST)
    ]
    trip = one_trip(show, mix)
    limits = [one for one in limits if one.code is not CautionCode.RAISED_ALREADY or (one.figure or 0) < trip]
    limits.append(Caution(CautionCode.RAISE_LIMITED, trip))
    if asked >= LEAST_RAISE_TENTHS:
        limits = [
            replace(one, figure=0) if 0 < (one.figure or 0) < LEAST_RAISE_TENTHS else one for one in limits
        ]
    least = min([asked, *(limit.figure or 0 for limit in limits)])
    move = max(min(asked, -beside.amount), least)
    limits = [limit if (limit.figure or 0) >= 0 else replace(limit, figure=0) for limit in limits]
    return move, _said(limits, max(0, move) if move < asked else None, sources)


def crossed(
    show: Show, mix: str, sources: Collection[str] | None, *, only_came_in: bool = False
) -> Caution | None:
    """Return the bound that what was raised stands past by now, the one it is farthest past; None if it is past none.

    Looked at are those that are not to be crossed in passing: into the reserve of a margin that was read, past what is
    advised over an evening, to where it squealed or hurt, and on a day that is over. How far one goes in one trip is none
    of them. Beside another mic that stands right at its reserve nothing is to go up, though it may come in.

    Args:
        show: The show with the raise done.
        mix: The id of one of its mixes.
        sources: What went up, or came in; None is the output.
        only_came_in: Whether none of it was on before.
    """
    limits = _limits(show, mix, sources)
    beside = [one for one in limits if sources is not None and one.source and one.source not in sources]
    over = [
        one for one in limits if _is_crossed(show, one, may_reach_reserve=only_came_in or one not in beside)
    ]
    return min(over, key=lambda one: one.figure or 0, default=None)


def comes_in_at(show: Show, mix: str, source: str) -> tuple[int | None, tuple[Caution, ...]]:
    """Return the level at which a send that is off may come in, and what to mind; None where it had better stay out.

    That is at most where it stands, what it was last heard at or else began with, and what its wedge and the ear take.
    The figures of the cautions are levels here. [0.1 dB]
    """
    kept = show.position(mix, source).setting.level_tenths
    known = kept + min(0, _known_path(show, mix, source) - _path(show, mix, [source]))
    bounds = [*loop_limits(show, mix, [source]), *comes_in_limits(show, mix, [source])]
    limits = [replace(limit, figure=kept + (limit.figure or 0)) for limit in bounds]
    level = min(known, *(limit.figure or 0 for limit in limits))
    said = _said(limits, level if level < known else None, [source])
    if level < show.settings.lowest_tenths:
        cut = [limit for limit in limits if (limit.figure or 0) < show.settings.lowest_tenths]
        return None, tuple(replace(one, figure=None) for one in _said(cut, level, [source]))
    lower = (Caution(CautionCode.COMES_IN_LOWER, level),) if level < kept else ()
    return level, (*lower, *said)


def panned(show: Show, mix: str, source: str, pan_percent: int) -> Caution | None:
    """Return what speaks against a pan: that the louder ear gets more than is advised, or either on a day that is over."""
    setting = show.position(mix, source).setting
    after = with_setting(show, mix, source, replace(setting, pan_percent=pan_percent))
    said = louder_than_advised(after, mix)
    is_over = said is not None and said.code is CautionCode.DOSE_FULL
    return said if _is_louder(show, after, mix, at_either=is_over) else None


def at_same_loudness(show: Show, after: Show, mix: str) -> bool:
    """Whether a mix that is as loud as before is so for either ear, or else below all bounds."""
    return not _is_louder(show, after, mix) or louder_than_advised(after, mix) is None


def within(show: Show, move: Move) -> Move:
    """Return a move as far as it is advised: down and out always, up, in and aside as far as the guard lets.

    Up to where it stood when this song or gap began, one go is enough: it was heard there a moment ago.
    """
    now, after = move.before, move.after
    if move.source is not None and after.pan_percent != now.pan_percent and after.is_on:
        if panned(show, move.mix, move.source, after.pan_percent) is not None:
            after = replace(after, pan_percent=now.pan_percent)
        show = with_setting(show, move.mix, move.source, replace(now, pan_percent=after.pan_percent))
        move = replace(move, after=after)
    if after.is_on and not now.is_on and move.source is not None:
        off = with_setting(show, move.mix, move.source, replace(after, is_on=False))
        allowed, _ = comes_in_at(off, move.mix, move.source)
        level = now.level_tenths if allowed is None else min(allowed, after.level_tenths)
        return replace(move, after=replace(after, level_tenths=level, is_on=allowed is not None))
    up = after.level_tenths - now.level_tenths
    is_unheard = move.source is not None and not after.is_on
    if up <= 0 or is_unheard:
        return move
    trip = max(one_trip(show, move.mix), _fallen(show, move))
    limits = _limits(show, move.mix, None if move.source is None else [move.source])
    allowed_up = max(0, min([up, trip, *(limit.figure or 0 for limit in limits)]))
    return replace(move, after=replace(after, level_tenths=now.level_tenths + allowed_up))


def all_within(show: Show, moves: Sequence[Move]) -> tuple[Move, ...]:
    """Return moves made one after another, each as far as it is advised; what goes down comes first."""
    bounded = {}
    stood = {
        move.mix: (Stood(show.levels[move.mix], show.gains, show.at_ms, show.revision),) for move in moves
    }
    counting = {mix: moments for mix in stood if (moments := moments_of_gap(show, mix))}
    show = with_past(show, before_raises={**show.past.before_raises, **stood, **counting})
    for place, move in sorted(enumerate(moves), key=lambda one: _is_up(one[1])):
        bounded[place] = within(show, move)
        show = with_setting(show, move.mix, move.source, bounded[place].after)
    return tuple(bounded[place] for place in range(len(moves)))


def _limits(
    show: Show, mix: str, sources: Collection[str] | None, *, is_louder: bool = True
) -> list[Caution]:
    """Return what bounds a raise beside how far one goes in one trip."""
    up = _on(show, mix) if sources is None else sources
    return [*loop_limits(show, mix, up), *ear_limits(show, mix, up, is_louder=is_louder)]


def _is_crossed(show: Show, limit: Caution, *, may_reach_reserve: bool) -> bool:
    if limit.margin_tenths is not None:
        reserve = show.settings.reserve_tenths
        return limit.margin_tenths < reserve or (limit.margin_tenths == reserve and not may_reach_reserve)
    is_past = limit.code in _PAST_WHICH_TO_ASK and (limit.figure or 0) < 0
    return is_past or limit.code is CautionCode.DOSE_FULL


def _fallen(show: Show, move: Move) -> int:
    """Return how far a place stands below where it stood when this song or gap began; 0 if it does not. [0.1 dB]."""
    stood = moments_of_gap(show, move.mix)
    then = stood[0].levels.at(move.source) if stood else None
    return 0 if then is None else then.setting.level_tenths - move.before.level_tenths


def _is_up(move: Move) -> bool:
    comes_in = move.after.is_on and not move.before.is_on
    return comes_in or move.after.level_tenths > move.before.level_tenths


def _on(show: Show, mix: str) -> list[str]:
    return [source for source, position in show.levels[mix].sends.items() if position.setting.is_on]


def _is_louder(show: Show, after: Show, mix: str, *, at_either: bool = False) -> bool:
    """Whether the louder ear, or either, gets more of a mix than before."""
    was, now = (with_output_on(one.sources, one.levels[mix], one.gains) for one in (show, after))
    ears = zip(was, now, strict=True) if at_either else [(max(was), max(now))]
    return any(more > before * A_HAIR_MORE for before, more in ears)


def _path(show: Show, mix: str, sources: Collection[str] | None) -> int:
    """Return how far a single source is turned up, or will be once preamps are turned; 0 for the output, or several."""
    if sources is None or len(sources) != 1:
        return 0
    return path_tenths(show.levels[mix], gains_to_come(show, mix), next(iter(sources)))


def _not_below(limit: Caution, back: int) -> Caution:
    """Return a bound that lets something come back to where it stood, unless that was disproved since."""
    if limit.code in _DISPROVED_SINCE or (limit.figure or 0) >= back:
        return limit
    return replace(limit, figure=back)


def _known_path(show: Show, mix: str, source: str) -> int:
    """Return how far a source was turned up when last heard, or began; where nobody knows, as low as a new one.

    [0.1 dB]
    """
    if (mix, source) in show.past.last_heard:
        return show.past.last_heard[mix, source]
    began = show.began_as_now(mix)
    if began is not None and source in began.levels.sends:
        return path_tenths(began.levels, began.gains, source)
    low = Setting(START_TENTHS[show.mix(mix).output])
    return _path(with_setting(show, mix, source, low), mix, [source])


def with_setting(show: Show, mix: str, source: str | None, setting: Setting) -> Show:
    """Return a show with one setting made otherwise, to look at."""
    levels = show.levels[mix]
    old = levels.at(source)
    if old is None:
        return show
    return replace(
        show, levels={**show.levels, mix: levels.with_position(source, replace(old, setting=setting))}
    )


def said_anyway(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """Return of cautions those that are said of a raise whether they cut it or not: for where something else cuts it."""
    return tuple(one for one in cautions if one.code not in _SAID_WHERE_THEY_CUT)


def _said(limits: list[Caution], cut_to: int | None, raised: Collection[str] | None) -> tuple[Caution, ...]:
    """Return what to tell of bounds: what cuts, and always a margin that is short or unknown; of each kind the tightest.

    Of a single source that is raised its own bounds do not name it.
    """
    said: dict[CautionCode, Caution] = {}
    own = next(iter(raised)) if raised is not None and len(raised) == 1 else None
    for limit in sorted(limits, key=lambda one: one.figure or 0):
        cuts = cut_to is not None and (limit.figure or 0) <= cut_to
        if cuts or limit.code not in _SAID_WHERE_THEY_CUT:
            said.setdefault(limit.code, replace(limit, source="") if limit.source == own else limit)
    return tuple(said.values())
