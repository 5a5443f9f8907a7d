"""The aux plan of a show: what its mixes and effects need of its desk, and what the plan would number them."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from monreq.domain import aux_plan
from monreq.domain.aux_sharing import Wanted
from monreq.domain.decibels import to_db
from monreq.domain.desk_facts import DeskFacts
from monreq.domain.setup import Mix, Output
from monreq.domain.show import Show

_Key = tuple[tuple[str, Output, bool], tuple[tuple[str, float], ...], tuple[float, float] | None, bool]


@dataclass(frozen=True, slots=True)
class ShowAuxPlan:
    """What the plan comes to.

    Attributes:
        plan: Carriers, what is missing, and which mixes to share then.
        numbers: On which auxes the plan puts each mix, as they are labelled; empty where none is left.
        effects: The same for each effect send, those that leave the desk first; may be too few.
    """

    plan: aux_plan.AuxPlan
    numbers: Mapping[str, tuple[int, ...]]
    effects: tuple[tuple[int, ...], ...]


def plan_show(show: Show, desk: DeskFacts) -> ShowAuxPlan:
    """Plan a show's mixes on a desk; if auxes run out, lead singers and those added first have theirs.

    Raises:
        TooManyMixes: There are more than 64.
    """
    plan = _plan(desk, tuple(_key(mix) for mix in wanted(show)))
    numbers = {mix: desk.labels(plan.carriers[mix]) if mix in plan.carriers else () for mix in show.mixes}
    return ShowAuxPlan(plan, numbers, tuple(desk.labels(aux) for aux in plan.effects))


@lru_cache(maxsize=16)
def _plan(desk: DeskFacts, mixes: tuple[_Key, ...]) -> aux_plan.AuxPlan:
    """Plan, or return the plan that was made of the same: to find the best sharing of many mixes can take seconds."""
    return aux_plan.plan(
        desk.for_plan(),
        [Wanted(*facts, dict(levels), place, is_lead) for facts, levels, place, is_lead in mixes],
        external_effects=desk.external_effects,
        internal_effects=desk.internal_effects,
    )


def wanted(show: Show) -> list[Wanted]:
    """Return a show's mixes as the aux plan takes them, lead singers' first.

    A source is as loud in a mix as its send and the output make it, reckoned from the mean output of all mixes that are
    heard in the same way, so that figures stay on the scale of the sends.
    """
    mixes = sorted(show.mixes.values(), key=lambda mix: not is_lead(show, mix))
    return [
        Wanted(mix.id, mix.output, mix.is_fed_mono, _levels(show, mix), _place(show, mix), is_lead(show, mix))
        for mix in mixes
    ]


def mean_output_db(show: Show, mix: Mix) -> float:
    """Return the mean output level of all mixes that are heard as this one is. [dB]."""
    outputs = [
        to_db(show.levels[other.id].output.setting.level_tenths)
        for other in show.mixes.values()
        if (other.output, other.is_fed_mono) == (mix.output, mix.is_fed_mono)
    ]
    return math.fsum(outputs) / len(outputs)


def is_lead(show: Show, mix: Mix) -> bool:
    """Whether a lead singer hears a mix."""
    return any(show.musicians[one].is_lead for one in mix.musicians)


def fits(show: Show, desk: DeskFacts) -> bool:
    """Whether the auxes that were entered can carry all mixes on a desk and leave enough for its effects."""
    used = [number for mix in show.mixes.values() for number in mix.auxes]
    left = desk.mono - len(desk.taken) + desk.stereo - len(used)
    return (
        all(desk.can_carry(mix.auxes, is_stereo=mix.is_stereo) for mix in show.mixes.values())
        and len(set(used)) == len(used)
        and left >= desk.external_effects + desk.internal_effects
    )


def not_entered(show: Show) -> list[Mix]:
    """Return the mixes that stand as they were added: nobody entered a level, so that no cost can be told of them."""
    return [
        mix
        for mix in show.mixes.values()
        if all(send.confirmed_at_ms is None for send in show.levels[mix.id].sends.values())
    ]


def wedges_without_place(show: Show) -> list[Mix]:
    """Return the wedges that are never shared because it is not known where all who hear them stand."""
    return [mix for mix in show.mixes.values() if mix.output is Output.WEDGE and _place(show, mix) is None]


def carried_twice(show: Show) -> Mapping[int, list[Mix]]:
    """Return the aux numbers that were entered for several mixes, with those mixes."""
    found: dict[int, list[Mix]] = {}
    for mix in show.mixes.values():
        for number in dict.fromkeys(mix.auxes):
            found.setdefault(number, []).append(mix)
    return {number: mixes for number, mixes in sorted(found.items()) if len(mixes) > 1}


def _key(mix: Wanted) -> _Key:
    return (mix.id, mix.output, mix.is_fed_mono), tuple(mix.levels.items()), mix.place, mix.is_lead


def _levels(show: Show, mix: Mix) -> dict[str, float]:
    levels = show.levels[mix.id]
    raised = to_db(levels.output.setting.level_tenths) - mean_output_db(show, mix)
    return {
        source: max(-120.0, min(120.0, to_db(send.setting.level_tenths) + raised))
        for source, send in levels.sends.items()
        if send.setting.is_on
    }


def _place(show: Show, mix: Mix) -> tuple[float, float] | None:
    """Return the middle of those who hear a mix, None unless it is known of all where they stand. [m]."""
    spots = [show.standings[one].spot.metres for one in mix.musicians if one in show.standings]
    if not spots or len(spots) < len(mix.musicians):
        return None
    return math.fsum(x for x, _ in spots) / len(spots), math.fsum(y for _, y in spots) / len(spots)
