"""The one write path: decide a command on the newest state, append what it comes to, commit, tell."""

import logging
import threading
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass

from monreq.domain.band_events import KeepAnswered
from monreq.domain.commands import Command, OpenShow
from monreq.domain.decide import decide
from monreq.domain.events import DESK, ChangeAsked, Event, Recorded, RequestWithdrawn
from monreq.domain.fold import fold
from monreq.domain.hearing_events import HeardSaid
from monreq.domain.refusals import Refusal, SameIdOtherBody, UnknownRevision, UnknownShow
from monreq.domain.show import Show
from monreq.domain.telling_events import LineHeard, NoteAnswered
from monreq.domain.time_passing import as_of
from monreq.services.ports import (
    Change,
    Clock,
    HeldShow,
    Kept,
    ShowEntry,
    ShowLog,
    StorageFailed,
    Submission,
    Writer,
)
from monreq.services.turns import Job, Turns

LOG = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Receipt:
    """What a command came to.

    Attributes:
        show: The state after it; for a repetition, the state now.
        recorded: Its events, none if there was nothing to change.
        is_repeated: Whether it was taken before, and nothing was stored now.
    """

    show: Show
    recorded: tuple[Recorded, ...]
    is_repeated: bool = False

    @property
    def revision(self) -> int:
        """The show's revision right after it."""
        return self.recorded[-1].revision if self.recorded else self.show.revision


class _CommandJob(Job[Receipt]):
    def __init__(self, command: Command, submission: Submission | None) -> None:
        super().__init__()
        self.command = command
        self.submission = submission


class Shows:
    """All shows of this installation: their states, kept in memory, and the way to change them."""

    def __init__(self, log: ShowLog, writer: Writer, clock: Clock, tell: Callable[[Change], None]) -> None:
        self._log = log
        self._writer = writer
        self._clock = clock
        self._tell = tell
        self._lock = threading.Lock()
        self._states: dict[str, Show] = {}
        self._turns: dict[str, Turns[_CommandJob]] = {}

    def now_ms(self) -> int:
        """Return the time. [ms since 1970, UTC]."""
        return self._clock()

    def entries(self) -> list[ShowEntry]:
        """Return all shows, the newest last."""
        return self._log.shows()

    def open(self, show_id: str, command: OpenShow, submission: Submission | None = None) -> Receipt:
        """Begin a show."""
        self._writer.run(lambda: self._log.create(show_id, self._clock()))
        return self.submit(show_id, command, submission)

    def state(self, show_id: str) -> Show:
        """Return a show as its log stands now; as it was last known, if the log cannot be read.

        Raises:
            UnknownShow: There is none of this id.
            StorageFailed: The log cannot be read, and nothing is known.
        """
        known = self._known(show_id)
        try:
            newest = fold(known, self._log.read_after(show_id, known.revision))
        except StorageFailed:
            if known.revision == 0:
                raise
            return known
        if newest.revision == 0:
            raise UnknownShow
        return self._remember(newest)

    def learn_open_ones(self, pause: Callable[[], None]) -> None:
        """Fold every open show once, so that no later look at all of them has to; others have their turn in the pauses."""
        with suppress(StorageFailed):
            for entry in self.entries():
                if entry.is_open:
                    self.state(entry.id)
                    pause()

    def seen(self, show_id: str) -> Show:
        """Return a show as it was last read or written here, without looking into its log again."""
        return self._known(show_id)

    def as_of_now(self, show: Show) -> Show:
        """Return a show with what time alone changed in it since its last event: see `time_passing.as_of`."""
        return as_of(show, self._clock())

    def state_now(self, show_id: str) -> Show:
        """Return a show as its log stands now, and as of now; raises as `state`."""
        return self.as_of_now(self.state(show_id))

    def at(self, show_id: str, revision: int) -> Show:
        """Return a show as it was right after a revision.

        Raises:
            UnknownRevision: The show has not come that far.
        """
        if not 1 <= revision <= self.state(show_id).revision:
            raise UnknownRevision
        return fold(Show(show_id), self._log.read_after(show_id, 0, up_to=revision))

    def before(self, receipt: Receipt) -> Show:
        """Return the show as it was right before what a receipt is for, also where that is a repetition."""
        if not receipt.recorded:
            return receipt.show
        return fold(
            Show(receipt.show.id),
            self._log.read_after(receipt.show.id, 0, up_to=receipt.recorded[0].revision - 1),
        )

    def about(self, show_id: str, subjects: Sequence[str], after: int = 0) -> list[Recorded]:
        """Return the events of a show that concern any of these subjects, in order."""
        return self._log.about(show_id, subjects, after)

    def since(self, show_id: str, revision: int, up_to: int) -> list[Recorded]:
        """Return a show's events after a revision, up to another."""
        return self._log.read_after(show_id, revision, up_to)

    def submit(self, show_id: str, command: Command, submission: Submission | None = None) -> Receipt:
        """Have a command decided and stored.

        Args:
            show_id: The show it belongs to.
            command: What is wanted.
            submission: Under which id it was sent; the same one again is answered, not done, again.

        Raises:
            Refusal: Why not; nothing was stored.
            StorageFailed: The disk refused; nothing was stored.
        """
        job = _CommandJob(command, submission)
        self._turns_of(show_id).take(job)
        return job.result()

    def _turns_of(self, show_id: str) -> Turns[_CommandJob]:
        with self._lock:
            if show_id not in self._turns:
                self._turns[show_id] = Turns(lambda jobs: self._work(show_id, jobs))
            return self._turns[show_id]

    def _work(self, show_id: str, jobs: Sequence[_CommandJob]) -> None:
        """Decide and store a batch in one transaction; answer only once it is on disk."""
        known = self._known(show_id)  # read here: the writer's thread takes no lock that others wait for
        try:
            batch = self._writer.run(lambda: self._commit(known, jobs))
        except Exception as error:  # noqa: BLE001 - whatever it was, every bringer must hear of it
            if not isinstance(error, Refusal):
                kinds = ", ".join(type(job.command).__name__ for job in jobs)
                LOG.error("not stored in show %s: %s: %s", show_id, kinds, str(error) or type(error).__name__)
            for job in jobs:
                job.fail(error)
            return
        self._remember(batch.state)
        for job, outcome in zip(jobs, batch.outcomes, strict=True):
            if isinstance(outcome, Receipt):
                job.finish(outcome)
            else:
                job.fail(outcome)
        if batch.recorded:
            self._announce(Change(batch.start, batch.state, tuple(batch.recorded)))

    def _announce(self, change: Change) -> None:
        """Tell of what is on disk; whoever is not told finds it at the next look."""
        try:
            self._tell(change)
        except Exception:
            LOG.exception("revision %d was stored, but telling of it failed", change.after.revision)

    def _commit(self, known: Show, jobs: Sequence[_CommandJob]) -> "_Batch":
        with self._log.hold(known.id) as held:
            batch = _Batch(held, fold(known, held.read_after(known.revision)), self._clock())
            for job in jobs:
                batch.take(job.command, job.submission)
            if batch.recorded or batch.kept:
                held.append(batch.recorded, batch.kept, batch.state)
        return batch

    def _known(self, show_id: str) -> Show:
        with self._lock:
            return self._states.get(show_id, Show(show_id))

    def _remember(self, show: Show) -> Show:
        """Swap the kept state for a newer one; a slower reader never puts an older one back."""
        with self._lock:
            known = self._states.get(show.id)
            if known is None or known.revision < show.revision:
                self._states[show.id] = show
            return self._states[show.id]


class _Batch:
    """Commands decided one after another on a held show, each on the state that the one before left."""

    def __init__(self, held: HeldShow, start: Show, now_ms: int) -> None:
        self._held = held
        self._now_ms = now_ms
        self.start = start
        self.state = start
        self.recorded: list[Recorded] = []
        self.kept: list[Kept] = []
        self.outcomes: list[Receipt | Exception] = []

    def take(self, command: Command, submission: Submission | None) -> None:
        """Decide one command, or find that it was decided before."""
        try:
            self.outcomes.append(self._repeated(submission) or self._decided(command, submission))
        except Exception as error:  # noqa: BLE001 - refused or broken, it must not take down those beside it
            self.outcomes.append(error)

    def _decided(self, command: Command, submission: Submission | None) -> Receipt:
        first = self.state.revision + 1
        events = decide(self.state, command, self._now_ms)
        by = _who(command, self.state, events)
        recorded = tuple(
            Recorded(first + place, self._now_ms, by, event) for place, event in enumerate(events)
        )
        self.state = fold(self.state, recorded)
        self.recorded.extend(recorded)
        if submission is not None:
            self.kept.append(Kept(submission, first, self.state.revision))
        return Receipt(self.state, recorded)

    def _repeated(self, submission: Submission | None) -> Receipt | None:
        if submission is None:
            return None
        kept = self._find(submission)
        if kept is None:
            return None
        if kept.submission.fingerprint != submission.fingerprint:
            raise SameIdOtherBody
        return Receipt(self.state, self._events_of(kept), is_repeated=True)

    def _find(self, submission: Submission) -> Kept | None:
        for kept in self.kept:
            if (kept.submission.scope, kept.submission.client_id) == (submission.scope, submission.client_id):
                return kept
        return self._held.find(submission.scope, submission.client_id)

    def _events_of(self, kept: Kept) -> tuple[Recorded, ...]:
        if kept.first_revision > self.start.revision:
            start = kept.first_revision - self.start.revision - 1
            return tuple(self.recorded[start : kept.last_revision - self.start.revision])
        return tuple(self._held.read(kept.first_revision, kept.last_revision))


def _who(command: Command, show: Show, events: Sequence[Event]) -> str:
    """Return who a command came from: the desk, or the musician whose request it is."""
    match command.by, events[:1]:
        case None, (
            ChangeAsked(musician=musician)
            | HeardSaid(musician=musician)
            | NoteAnswered(musician=musician)
            | KeepAnswered(musician=musician)
            | LineHeard(musician=musician),
        ):
            return musician
        case None, (RequestWithdrawn(request=request),):
            return show.open_requests[request].musician
    return command.by or DESK
