"""What a desk has for monitors, as the engineer says in Prepare, with the numbers that its auxes are labelled by."""

from dataclasses import dataclass

from monreq.domain.aux_outputs import Aux, AuxKind, Desk, Links, check_counts


@dataclass(frozen=True, slots=True)
class DeskFacts:
    """A desk's auxes and effects.

    Attributes:
        mono: How many mono auxes, labelled from 1.
        stereo: How many stereo auxes, labelled on after the mono ones.
        outputs: Physical outputs there are for auxes; None if every aux has its own, a stereo aux two.
        links: Whether mono auxes can be linked, and which.
        taken: Numbers of mono auxes that serve something else.
        external_effects: Effect sends that leave the desk: a bus and an output each.
        internal_effects: Effect sends within the desk: a bus and no output each.
    """

    mono: int
    stereo: int = 0
    outputs: int | None = None
    links: Links = Links.ODD_EVEN
    taken: tuple[int, ...] = ()
    external_effects: int = 0
    internal_effects: int = 0

    def for_plan(self) -> Desk:
        """Return the desk as the aux plan takes it.

        Raises:
            BadCount: One of the counts is none.
            NoSuchAux: A taken aux is not there.
        """
        check_counts(self.mono, self.stereo, self.external_effects, self.internal_effects)
        check_counts(self.mono + self.stereo, self.external_effects + self.internal_effects)
        return Desk(self.mono, self.stereo, self.outputs, self.links, frozenset(self.taken))

    def labels(self, aux: Aux) -> tuple[int, ...]:
        """Return the numbers that an aux of the plan is labelled by at the desk."""
        if aux.kind is AuxKind.STEREO:
            return tuple(self.mono + number for number in aux.numbers)
        return aux.numbers
