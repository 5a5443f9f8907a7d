"""Which aux of a desk carries what: mono and stereo auxes, linked pairs, buses and physical outputs counted apart."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from monreq.domain.plan_refusals import BadCount, NoSuchAux

MOST = 999


class Links(StrEnum):
    """Which mono auxes the desk can link to a stereo pair."""

    NONE = "none"
    ODD_EVEN = "odd_even"
    NEIGHBOURS = "neighbours"


@dataclass(frozen=True, slots=True)
class Desk:
    """What a desk has for monitors.

    Attributes:
        mono: How many mono auxes; they are numbered from 1.
        stereo: How many stereo auxes; they are numbered from 1 by themselves.
        outputs: Physical outputs there are for auxes; None if every aux has its own, a stereo aux two.
        links: Whether mono auxes can be linked, and which: only 1-2, 3-4 and so on, or any two neighbours.
        taken: Numbers of mono auxes that serve something else.
    """

    mono: int
    stereo: int
    outputs: int | None = None
    links: Links = Links.ODD_EVEN
    taken: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        check_counts(self.mono, self.stereo, self.outputs or 0)
        if not self.taken <= set(range(1, self.mono + 1)):
            raise NoSuchAux

    @property
    def free(self) -> list[int]:
        """The mono auxes that can be used, by number."""
        return [aux for aux in range(1, self.mono + 1) if aux not in self.taken]

    @property
    def physical_outputs(self) -> int:
        """The physical outputs there are for what the auxes carry."""
        return len(self.free) + 2 * self.stereo if self.outputs is None else self.outputs

    @property
    def linkable(self) -> list[tuple[int, int]]:
        """As many pairs of free mono auxes as can be linked at once."""
        if self.links is Links.NONE:
            return []
        return list(_pairs(self.free, odd_even=self.links is Links.ODD_EVEN))


def _pairs(free: list[int], *, odd_even: bool) -> Iterator[tuple[int, int]]:
    last: int | None = None
    for aux in free:
        if last is not None and aux == last + 1 and not (odd_even and aux % 2):
            yield last, aux
            last = None
        else:
            last = aux


def check_counts(*counts: int) -> None:
    """Refuse what is no count.

    Raises:
        BadCount: It is not a whole number from 0 to 999.
    """
    if not all(count in range(MOST + 1) for count in counts):
        raise BadCount


@dataclass(frozen=True, slots=True)
class Needs:
    """What has to be carried.

    Attributes:
        mono: Mixes of one output: wedges, and in-ear pairs fed mono.
        stereo: Mixes of two outputs: in-ear pairs.
        external_effects: Effect sends that leave the desk: a bus and an output each.
        internal_effects: Effect sends within the desk: a bus and no output each.
    """

    mono: int
    stereo: int
    external_effects: int = 0
    internal_effects: int = 0

    @property
    def single_buses(self) -> int:
        """The buses of which one is enough each."""
        return self.mono + self.external_effects + self.internal_effects

    @property
    def outputs(self) -> int:
        """The physical outputs that it takes."""
        return self.mono + 2 * self.stereo + self.external_effects


class AuxKind(StrEnum):
    """What carries a mix or an effect."""

    MONO = "mono"
    LINKED = "linked"
    STEREO = "stereo"


@dataclass(frozen=True, slots=True)
class Aux:
    """A mono aux, two linked ones, or a stereo aux, by the numbers they have among their kind."""

    kind: AuxKind
    numbers: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Layout:
    """What carries what, and what is missing.

    Attributes:
        stereo: For the mixes of two outputs in their order, as far as it reaches.
        single: For the mixes of one output and then the effects, as far as it reaches.
        missing_buses: Mono auxes that are missing; for a mix of two outputs two that can be linked.
        missing_outputs: Physical outputs that are missing.
    """

    stereo: tuple[Aux, ...]
    single: tuple[Aux, ...]
    missing_buses: int
    missing_outputs: int

    @property
    def is_enough(self) -> bool:
        """Whether nothing is missing."""
        return not self.missing_buses and not self.missing_outputs


def lay_out(desk: Desk, needs: Needs) -> Layout:
    """Say what carries what.

    Mixes of two outputs take the stereo auxes first and link mono ones after; what needs one bus takes a mono aux, and
    a stereo one only when those are used up. No other way carries more.
    """
    stereo_auxes = [Aux(AuxKind.STEREO, (number,)) for number in range(1, desk.stereo + 1)]
    wide = [*stereo_auxes, *(Aux(AuxKind.LINKED, pair) for pair in desk.linkable)][: needs.stereo]
    used = {number for aux in wide if aux.kind is AuxKind.LINKED for number in aux.numbers}
    mono_auxes = [Aux(AuxKind.MONO, (number,)) for number in desk.free if number not in used]
    single = [*mono_auxes, *stereo_auxes[needs.stereo :]][: needs.single_buses]
    return Layout(
        stereo=tuple(wide),
        single=tuple(single),
        missing_buses=2 * (needs.stereo - len(wide)) + needs.single_buses - len(single),
        missing_outputs=max(0, needs.outputs - desk.physical_outputs),
    )
