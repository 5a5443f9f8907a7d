"""The aux plan: what a desk's auxes carry, what is missing, and which mixes could be shared then."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from monreq.domain.aux_outputs import Aux, Desk, Needs, check_counts, lay_out
from monreq.domain.aux_sharing import REACH_M, Sharing, Wanted, sharing
from monreq.domain.plan_refusals import BadPlace, MixTwice, TooManyMixes

MOST_MIXES = 64
"""Chosen: twice what the largest stage takes."""


def auxes_needed(wedges: int, in_ear_pairs: int, effects: int) -> int:
    """Return how many mono auxes it takes: one a wedge, two an in-ear pair, one an effect send.

    A shared mix counts once.

    Raises:
        BadCount: One of them is no count.
    """
    check_counts(wedges, in_ear_pairs, effects)
    return wedges + 2 * in_ear_pairs + effects


def mixes_possible(mono: int, stereo: int) -> int:
    """Return how many separate mixes mono and stereo auxes can carry: one each.

    Raises:
        BadCount: One of them is no count.
    """
    check_counts(mono, stereo)
    return mono + stereo


@dataclass(frozen=True, slots=True)
class AuxPlan:
    """What carries what.

    Attributes:
        carriers: The aux of each mix, by id; who is not in it has none.
        effects: The auxes of the effect sends, those that leave the desk first; may be too few.
        without: Ids of the mixes that have none.
        auxes_needed: As `auxes_needed` counts them.
        outputs_needed: Physical outputs; an effect within the desk takes none.
        missing_auxes: Mono auxes that are missing, two that can be linked for an in-ear pair.
        missing_outputs: Physical outputs that are missing.
        sharing: Which mixes to share, if that is enough; None if nothing is missing or nothing helps.
    """

    carriers: Mapping[str, Aux]
    effects: tuple[Aux, ...]
    without: tuple[str, ...]
    auxes_needed: int
    outputs_needed: int
    missing_auxes: int
    missing_outputs: int
    sharing: Sharing | None

    @property
    def is_enough(self) -> bool:
        """Whether nothing is missing."""
        return not self.missing_auxes and not self.missing_outputs


def plan(
    desk: Desk,
    mixes: Iterable[Wanted],
    *,
    external_effects: int = 0,
    internal_effects: int = 0,
    reach_m: float = REACH_M,
) -> AuxPlan:
    """Say which aux carries which mix, and what to do if there are too few.

    Args:
        desk: What there is.
        mixes: What is needed, the most important first: if auxes run out, the last ones have none.
        external_effects: Effect sends that leave the desk: a bus and an output each.
        internal_effects: Effect sends within the desk: a bus and no output each.
        reach_m: Wedges that stand further apart than this are not shared. [m]

    Raises:
        BadCount: A count is no count.
        BadPlace: The reach is no distance.
        MixTwice: An id stands twice.
        TooManyMixes: There are more than 64.
    """
    wanted = list(mixes)
    _check(wanted, external_effects, internal_effects, reach_m)
    needs = _needs(wanted, external_effects, internal_effects)
    layout = lay_out(desk, needs)
    served = wanted if layout.is_enough else _served(desk, wanted)
    carriers, effects = _carriers(desk, served, external_effects, internal_effects)
    return AuxPlan(
        carriers=carriers,
        effects=effects,
        without=tuple(mix.id for mix in wanted if mix.id not in carriers),
        auxes_needed=auxes_needed(needs.mono, needs.stereo, external_effects + internal_effects),
        outputs_needed=needs.outputs,
        missing_auxes=layout.missing_buses,
        missing_outputs=layout.missing_outputs,
        sharing=None if layout.is_enough else sharing(desk, wanted, needs, reach_m),
    )


def _needs(mixes: Sequence[Wanted], external_effects: int = 0, internal_effects: int = 0) -> Needs:
    stereo = sum(mix.is_stereo for mix in mixes)
    return Needs(len(mixes) - stereo, stereo, external_effects, internal_effects)


def _served(desk: Desk, wanted: Sequence[Wanted]) -> list[Wanted]:
    """Return the mixes that have an aux where there are too few: each that still fits beside those before it."""
    served: list[Wanted] = []
    for mix in wanted:
        if lay_out(desk, _needs([*served, mix])).is_enough:
            served.append(mix)
    return served


def _carriers(
    desk: Desk, served: Sequence[Wanted], external_effects: int, internal_effects: int
) -> tuple[dict[str, Aux], tuple[Aux, ...]]:
    """Return what carries each of these mixes, and the effects as far as auxes are left."""
    layout = lay_out(desk, _needs(served, external_effects, internal_effects))
    stereo = [mix.id for mix in served if mix.is_stereo]
    mono = [mix.id for mix in served if not mix.is_stereo]
    of_stereo = zip(stereo, layout.stereo, strict=True)
    of_mono = zip(mono, layout.single, strict=False)
    return {**dict(of_stereo), **dict(of_mono)}, layout.single[len(mono) :]


def _check(wanted: Sequence[Wanted], external_effects: int, internal_effects: int, reach_m: float) -> None:
    check_counts(external_effects, internal_effects, external_effects + internal_effects)
    if not reach_m >= 0:
        raise BadPlace
    if len({mix.id for mix in wanted}) < len(wanted):
        raise MixTwice
    if len(wanted) > MOST_MIXES:
        raise TooManyMixes
