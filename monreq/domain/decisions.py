"""The decisions that answer requests, and what each request got of what was done."""

from collections.abc import Mapping
from dataclasses import dataclass

from monreq.domain.requests import Kind, Move, Outcome, Request, RequestState, RowKey, Way, moved


@dataclass(frozen=True, slots=True)
class Decision:
    """An answer of the desk, with all that undoing it needs.

    Attributes:
        requests: What it answered, as they were when they were answered.
        asked: The sum of what they asked for, in the unit of the kind.
        move: What was done, None where nothing was moved, or several sends of a group.
        reason: A reason's code or free words; may be empty when done.
        also: Further moves that belong to it: the output against a raise, the rest of the mix down, a raise taken back.
        desk: The name of the desk that answered; empty if it has none.
    """

    id: str
    key: RowKey
    outcome: Outcome
    requests: tuple[Request, ...]
    asked: int
    move: Move | None
    reason: str
    at_ms: int
    by: str
    is_undone: bool = False
    way: Way = Way.PLAIN
    also: tuple[Move, ...] = ()
    desk: str = ""

    @property
    def done(self) -> int | None:
        """How far the hand went, in the unit of the kind; of a group the farthest; None where nothing was moved."""
        if self.move is not None:
            return moved(self.key.kind, self.move)
        return max((moved(self.key.kind, one) or 0 for one in self.moves_of_group), key=abs, default=None)

    @property
    def moves_of_group(self) -> tuple[Move, ...]:
        """What was done to each send of a group; nothing for a single send."""
        if self.move is not None or self.way not in (Way.PLAIN, Way.SAME_LOUDNESS):
            return ()
        return tuple(one for one in self.also if one.source is not None)

    @property
    def done_for_musicians(self) -> int | None:
        """How far the hand went for musicians, beside what the desk itself had waiting, in the unit of the kind."""
        return None if self.done is None else self.done - sum(self._got.values())

    @property
    def done_for_song(self) -> int | None:
        """How far the hand went for a song, in the unit of the kind."""
        if self.done is None:
            return None
        return sum(self.got(one) for one in self.requests if one.is_for_song)

    @property
    def done_for_put_back(self) -> int | None:
        """How far the hand went to put something back, in the unit of the kind."""
        if self.done is None:
            return None
        return sum(self.got(one) for one in self.requests if one.is_put_back)

    @property
    def to_put_back(self) -> int:
        """How far something was to be put back, in the unit of the kind."""
        return sum(one.amount for one in self.requests if one.is_put_back)

    def done_for_group(self, group: str) -> int:
        """Return how far the hand went for one thing: a change of a preamp's gain, or what is put back; in the kind's unit."""
        return sum(self.got(one) for one in self.requests if one.group == group)

    def got(self, request: Request) -> int:
        """Return how much of what was done is for one request of the desk's own, in the unit of the kind."""
        return self._got.get(request.id, 0)

    @property
    def _got(self) -> Mapping[str, int]:
        """What each request of the desk's own got of what was done: all of it together is never more than was done.

        What is missing, or went too far, is missing to songs first, then to what is put back, then to what makes up for
        preamps, of each to the last asked first; musicians have the rest. But what is put back comes before musicians who
        ask the same way, or it would go up again on top of what they got. For in and out all that is asked is got at once.
        """
        own = sorted((one for one in self.requests if one.group), key=_gives_way)
        if self.done is None:
            return {}
        if self.key.kind is Kind.IN_OUT:
            return {one.id: one.amount if one.amount * self.done > 0 else 0 for one in own}
        missing, got = self.asked - self.done, {}
        is_same_way = self.asked_by_musicians * self.to_put_back > 0
        for one in own:
            if one.is_put_back and is_same_way:
                missing -= _part_of(self.asked_by_musicians, missing)
                is_same_way = False
            part = _part_of(one.amount, missing)
            missing -= part
            got[one.id] = one.amount - part
        return got

    @property
    def asked_by_musicians(self) -> int:
        """What musicians asked for, beside a preamp, a song and what is put back, in the unit of the kind."""
        return self.asked - self._compensating - self._for_song - self.to_put_back

    def is_before(self, revision: int) -> bool:
        """Whether it was taken before a revision of the show."""
        return int(self.id[1:]) < revision

    @property
    def is_for_musicians(self) -> bool:
        """Whether it answers any musician, and not the desk's compensation of a preamp alone."""
        return any(not one.group for one in self.requests)

    def state_of(self, request: Request) -> RequestState:
        """Return the state that this decision, while it stands, gives one of its requests."""
        own = sum(
            one.amount
            for one in self.requests
            if (one.musician, one.group) == (request.musician, request.group)
        )
        if self.way is Way.REST_DOWN:
            lowered = max((one.before.level_tenths - one.after.level_tenths for one in self.also), default=0)
            return answered_state(self.outcome, own, self.asked, lowered)
        if request.is_put_back:
            return answered_state(self.outcome, own, self.to_put_back, self.done_for_put_back)
        if request.is_for_song:
            return answered_state(self.outcome, own, self._for_song, self.done_for_song)
        if not request.is_for_preamp:
            return answered_state(self.outcome, own, self.asked_by_musicians, self.done_for_musicians)
        done = None if self.done is None else self.done_for_group(request.group)
        return answered_state(self.outcome, own, own, done)

    @property
    def _compensating(self) -> int:
        return sum(one.amount for one in self.requests if one.is_for_preamp)

    @property
    def _for_song(self) -> int:
        return sum(one.amount for one in self.requests if one.is_for_song)


def _gives_way(request: Request) -> tuple[int, int]:
    """Return the order in which the desk's own requests do without what is missing."""
    rank = 0 if request.is_for_song else 1 if request.is_put_back else 2
    return rank, -int(request.id[1:])


def _part_of(asked: int, done: int) -> int:
    """Return how much of what was asked for is in what was done."""
    return max(min(asked, 0), min(max(asked, 0), done))


def answered_state(outcome: Outcome, own: int, asked: int, done: int | None) -> RequestState:
    """Return the state of a request once a decision answered it.

    Done in part is what moved less than the row asked for, or the other way than its musician asked.

    Args:
        outcome: The decision's outcome.
        own: What the request's musician asked for in this decision, all their requests together.
        asked: What all requests of the decision asked for together.
        done: What was done, None where the kind has no figure.
    """
    if outcome is not Outcome.DONE:
        return RequestState(outcome.value)
    if not own or done is None:
        return RequestState.DONE
    direction = 1 if own > 0 else -1
    reached = done * direction >= max(asked * direction, 1)
    return RequestState.DONE if reached else RequestState.DONE_IN_PART
