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

    def can_carry(self, numbers: tuple[int, ...], *, is_stereo: bool) -> bool:
        """Whether auxes of these labels can carry a mix: one for a mono mix, a stereo or linked one for a stereo mix."""
        match numbers:
            case (number,) if self.mono < number <= self.mono + self.stereo:
                return True
            case (number,):
                return not is_stereo and self._is_free(number)
            case (left, right):
                return is_stereo and self._is_free(left) and self._is_free(right) and self._links(left, right)
            case _:
                return False

    def labels(self, aux: Aux) -> tuple[int, ...]:
        """Return the numbers that an aux of the plan is labelled by at the desk."""
        if aux.kind is AuxKind.STEREO:
            return tuple(self.mono + number for number in aux.numbers)
        return aux.numbers

    def _is_free(self, number: int) -> bool:
        return 1 <= number <= self.mono and number not in self.taken

    def _links(self, left: int, right: int) -> bool:
        is_odd_even = left % 2 == 1 or self.links is Links.NEIGHBOURS
        return self.links is not Links.NONE and right == left + 1 and is_odd_even
