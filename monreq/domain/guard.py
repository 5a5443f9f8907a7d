"""The guard: how far something may get louder on advice, whichever road it comes by.

Every suggestion, key, plan and undo that turns a send, an output or a mix up passes here: a raise (`raised`), a source
that comes in (`comes_in_at`), or any move (`within`). Counted is what it does at the ear and in the loop of a wedge:
in one go, in this song or gap, since the evening began, and against what calls said. What a hand did is recorded as it
was; the guard bounds advice alone.
"""

import math
from collections.abc import Collection, Sequence
from dataclasses import replace

from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.ears import Ears, at_ear_tenths, ear_powers
from monreq.domain.guard_ear import comes_in_limits, ear_limits, louder_than_advised, one_trip
from monreq.domain.guard_loop import loop_limits
from monreq.domain.requests import Move
from monreq.domain.setup import Setting
from monreq.domain.show import Show, Stood
from monreq.domain.starting_low import START_TENTHS

Bounded = tuple[int, tuple[Caution, ...]]

_SAID_WHERE_THEY_CUT = frozenset(
    {
        CautionCode.AFTER_HURTS,
        CautionCode.AFTER_SQUEAL,
        CautionCode.DOSE_FULL,
        CautionCode.EVENING_LIMIT,
        CautionCode.MARGIN_SHORT,
        CautionCode.RAISED_ALREADY,
        CautionCode.RAISE_LIMITED,
    }
)

_PAST_WHICH_TO_ASK = frozenset({CautionCode.AFTER_HURTS, CautionCode.AFTER_SQUEAL, CautionCode.EVENING_LIMIT})


def raised(
    show: Show, mix: str, sources: Collection[str] | None, asked: int, *, is_louder: bool = True
) -> Bounded:
    """Return how far up is advised, and what to mind: the tightest bound first. [0.1 dB].

    Args:
        show: The show now.
        mix: The id of one of its mixes.
        sources: What goes up by the same amount; None is the output, and everything with it.
        asked: How far, above 0. [0.1 dB]
        is_louder: Whether the mix becomes louder with it: not where the output goes down against it.
    """
    limits = [
        *_limits(show, mix, sources, is_louder=is_louder),
        Caution(CautionCode.RAISE_LIMITED, one_trip(show, mix)),
    ]
    move = _least(asked, limits)
    limits = [replace(limit, figure=max(0, limit.figure or 0)) for limit in limits]
    is_one = sources is not None and len(sources) == 1
    return move, _said(limits, move if move < asked else None, is_one=is_one)


def crossed(show: Show, mix: str, sources: Collection[str] | None) -> Caution | None:
    """Return the bound that what was raised stands past by now, the one it is farthest past; None if it is past none.

    Looked at are those that are not to be crossed in passing: into the reserve of a margin that was read, past what is
    advised over an evening, and to where it squealed or hurt. How far one goes in one trip is none of them.

    Args:
        show: The show with the raise done.
        mix: The id of one of its mixes.
        sources: What went up, or came in; None is the output.
    """
    over = [one for one in _limits(show, mix, sources) if _is_crossed(show, one)]
    return min(over, key=lambda one: one.figure or 0, default=None)


def comes_in_at(show: Show, mix: str, source: str) -> tuple[int | None, tuple[Caution, ...]]:
    """Return the level at which a send that is off may come in, and what to mind; None where it had better stay out.

    That is at most where it stands, what it was last heard at or else began with, and what its wedge and the ear take.
    The figures of the cautions are levels here. [0.1 dB]
    """
    kept = show.position(mix, source).setting.level_tenths
    known = kept + min(0, _known_at_ear(show, mix, source) - _at_ear(show, mix, source))
    bounds = [*loop_limits(show, mix, [source]), *comes_in_limits(show, mix, [source])]
    limits = [replace(limit, figure=kept + (limit.figure or 0)) for limit in bounds]
    level = min(known, *(limit.figure or 0 for limit in limits))
    said = _said(limits, level if level < known else None, is_one=True)
    if level < show.settings.lowest_tenths:
        return None, said
    lower = (Caution(CautionCode.COMES_IN_LOWER, level),) if level < kept else ()
    return level, (*lower, *said)


def panned(show: Show, mix: str, source: str, pan_percent: int) -> Caution | None:
    """Return what speaks against a pan: that the louder ear gets more of the mix than is advised; None if nothing does."""
    setting = show.position(mix, source).setting
    after = _with(show, mix, source, replace(setting, pan_percent=pan_percent))
    is_louder = max(_ears(after, mix)) > max(_ears(show, mix))
    return louder_than_advised(after, mix) if is_louder else None


def louder_by_db(show: Show, mix: str, source: str | None, change: int) -> float:
    """Return how much louder a mix becomes at the louder ear if a send, or the output (None), goes up. [dB].

    Args:
        show: The show now.
        mix: The id of one of its mixes.
        source: What goes up.
        change: How far. [0.1 dB]
    """
    setting = show.position(mix, source).setting
    after = _with(show, mix, source, replace(setting, level_tenths=setting.level_tenths + change))
    was, is_now = max(_ears(show, mix)), max(_ears(after, mix))
    return 10 * math.log10(is_now / was) if was and is_now else 0.0


def within(show: Show, move: Move) -> Move:
    """Return a move as far as it is advised: down and out always, up and in as far as the guard lets.

    Up to where it stood when this song or gap began, one go is enough: it was heard there a moment ago.
    """
    now, after = move.before, move.after
    if after.is_on and not now.is_on and move.source is not None:
        allowed, _ = comes_in_at(
            _with(show, move.mix, move.source, replace(after, is_on=False)), move.mix, move.source
        )
        level = now.level_tenths if allowed is None else min(allowed, after.level_tenths)
        return replace(move, after=replace(after, level_tenths=level, is_on=allowed is not None))
    up = after.level_tenths - now.level_tenths
    if up <= 0 or not after.is_on:
        return move
    trip = max(one_trip(show, move.mix), _fallen(show, move))
    limits = _limits(show, move.mix, None if move.source is None else [move.source])
    allowed_up = _least(min(up, trip), limits)
    return replace(move, after=replace(after, level_tenths=now.level_tenths + allowed_up))


def all_within(show: Show, moves: Sequence[Move]) -> tuple[Move, ...]:
    """Return moves made one after another, each as far as it is advised; what goes down comes first."""
    bounded = {}
    stood = {move.mix: Stood(show.levels[move.mix], show.gains, show.at_ms, show.revision) for move in moves}
    show = replace(show, before_raises={**stood, **show.before_raises})
    for place, move in sorted(enumerate(moves), key=lambda one: _is_up(one[1])):
        bounded[place] = within(show, move)
        show = _with(show, move.mix, move.source, bounded[place].after)
    return tuple(bounded[place] for place in range(len(moves)))


def _limits(
    show: Show, mix: str, sources: Collection[str] | None, *, is_louder: bool = True
) -> list[Caution]:
    """Return what bounds a raise beside how far one goes in one trip."""
    up = _on(show, mix) if sources is None else sources
    return [*loop_limits(show, mix, up), *ear_limits(show, mix, up, is_louder=is_louder)]


def _is_crossed(show: Show, limit: Caution) -> bool:
    if limit.margin_tenths is not None:
        return limit.margin_tenths < show.settings.reserve_tenths
    return limit.code in _PAST_WHICH_TO_ASK and (limit.figure or 0) < 0


def _least(asked: int, limits: list[Caution]) -> int:
    return max(0, min([asked, *(limit.figure or 0 for limit in limits)]))


def _fallen(show: Show, move: Move) -> int:
    """Return how far a place stands below where it stood when this song or gap began; 0 if it does not. [0.1 dB]."""
    stood = show.before_raises.get(move.mix)
    then = stood.levels.at(move.source) if stood else None
    return 0 if then is None else then.setting.level_tenths - move.before.level_tenths


def _is_up(move: Move) -> bool:
    comes_in = move.after.is_on and not move.before.is_on
    return comes_in or move.after.level_tenths > move.before.level_tenths


def _on(show: Show, mix: str) -> list[str]:
    return [source for source, position in show.levels[mix].sends.items() if position.setting.is_on]


def _ears(show: Show, mix: str) -> Ears:
    return ear_powers(show.sources, show.levels[mix], show.gains)


def _at_ear(show: Show, mix: str, source: str) -> int:
    return at_ear_tenths(show.sources, show.levels[mix], show.gains, source)


def _known_at_ear(show: Show, mix: str, source: str) -> int:
    """Return what a source was last heard at, or began with; where nobody knows, as low as a new one. [0.1 dB]."""
    if (mix, source) in show.last_heard:
        return show.last_heard[mix, source]
    began = show.began.get(mix)
    if began is not None and source in began.levels.sends:
        return at_ear_tenths(show.sources, began.levels, began.gains, source)
    low = Setting(START_TENTHS[show.mix(mix).output])
    return _at_ear(_with(show, mix, source, low), mix, source)


def _with(show: Show, mix: str, source: str | None, setting: Setting) -> Show:
    """Return a show with one setting made otherwise, to look at."""
    levels = show.levels[mix]
    old = levels.at(source)
    if old is None:
        return show
    return replace(
        show, levels={**show.levels, mix: levels.with_position(source, replace(old, setting=setting))}
    )


def _said(limits: list[Caution], cut_to: int | None, *, is_one: bool) -> tuple[Caution, ...]:
    """Return what to tell of bounds: what cuts, and always a margin that is short or unknown; of each kind the tightest."""
    said: dict[CautionCode, Caution] = {}
    for limit in sorted(limits, key=lambda one: one.figure or 0):
        cuts = cut_to is not None and (limit.figure or 0) <= cut_to
        if cuts or limit.code not in _SAID_WHERE_THEY_CUT:
            said.setdefault(limit.code, replace(limit, source="") if is_one else limit)
    return tuple(said.values())
