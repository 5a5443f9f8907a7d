"""The log of every show, in tables: held while it is written to, read at any time."""

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any, Final

from sqlalchemy import Connection, Engine, Row, bindparam, insert, select, text, update

from monreq.domain.events import Recorded
from monreq.domain.refusals import UnknownShow
from monreq.domain.show import Show
from monreq.domain.subjects import subjects
from monreq.services.ports import HeldShow, Kept, ShowEntry, Submission
from monreq.storage.codec import UnknownKind, decode, encode
from monreq.storage.failures import reported
from monreq.storage.tables import event_subjects, events, shows, submissions

_EVENTS_OF_SHOW: Final = (
    select(events.c.revision, events.c.at_ms, events.c.by, events.c.kind, events.c.body)
    .where(events.c.show_id == bindparam("show"), events.c.revision > bindparam("after"))
    .order_by(events.c.revision)
)
_STRETCH: Final = _EVENTS_OF_SHOW.where(events.c.revision <= bindparam("up_to"))
_ABOUT: Final = _EVENTS_OF_SHOW.where(
    events.c.revision.in_(
        select(event_subjects.c.revision).where(
            event_subjects.c.show_id == bindparam("show"),
            event_subjects.c.subject.in_(bindparam("subjects", expanding=True)),
            event_subjects.c.revision > bindparam("after"),
        )
    )
)
_SHOWS: Final = (
    select(shows.c.id, shows.c.name, shows.c.is_open, shows.c.is_demo, shows.c.opened_at_ms)
    .where(shows.c.head > 0)
    .order_by(shows.c.opened_at_ms, shows.c.id)
)
_CREATE: Final = text(
    "INSERT INTO shows (id, name, is_open, is_demo, head, opened_at_ms)"
    " VALUES (:show, '', FALSE, FALSE, 0, :at_ms) ON CONFLICT DO NOTHING"
)
# SQLite needs and knows no lock on a row: its transaction holds the whole database from the beginning.
_HOLD: Final = select(shows.c.head).where(shows.c.id == bindparam("show")).with_for_update()
_FREE: Final = select(shows.c.id).where(shows.c.is_open).with_for_update(nowait=True)
_MOVE_HEAD: Final = update(shows).where(shows.c.id == bindparam("show"))
_FIND: Final = select(submissions).where(
    submissions.c.show_id == bindparam("show"),
    submissions.c.scope == bindparam("scope"),
    submissions.c.client_id == bindparam("client_id"),
)


class SqlShowLog:
    """A `ShowLog` in a database.

    Args:
        writing: Used on the writer only.
        reading: Used from anywhere; each of its statements is a transaction.

    Attributes:
        has_met_unknown: Whether something was read that a newer version of monreq stored.
    """

    def __init__(self, writing: Engine, reading: Engine) -> None:
        self._writing = writing
        self._reading = reading
        self.has_met_unknown = False

    def kinds(self) -> set[str]:
        """Return the kinds of all events that are stored."""
        with reported(), self._reading.connect() as connection:
            return set(connection.scalars(select(events.c.kind).distinct()))

    @contextmanager
    def _noting_unknown(self) -> Iterator[None]:
        try:
            with reported():
                yield
        except UnknownKind:
            self.has_met_unknown = True
            raise

    def create(self, show_id: str, at_ms: int) -> None:
        """Make room for a show; one that is there is left as it is."""
        with reported(), self._writing.begin() as connection:
            connection.execute(_CREATE, {"show": show_id, "at_ms": at_ms})

    def require_free(self) -> None:
        """Refuse, on the writer, while somebody else holds an open show: what is stored for it would not go through.

        Raises:
            StorageFailed: Somebody does.
        """
        with reported(), self._writing.begin() as connection:
            connection.execute(_FREE).all()

    @contextmanager
    def hold(self, show_id: str) -> Iterator[HeldShow]:
        """Hold a show for writing; leaving commits, an exception rolls back."""
        with self._noting_unknown(), self._writing.begin() as connection:
            head = connection.scalar(_HOLD, {"show": show_id})
            if head is None:
                raise UnknownShow
            yield _HeldRows(connection, show_id, head)

    def read_after(self, show_id: str, revision: int, up_to: int | None = None) -> list[Recorded]:
        """Return a show's log from behind a revision, to its head or up to a revision."""
        with self._noting_unknown(), self._reading.connect() as connection:
            return _read(connection, show_id, revision, up_to)

    def about(self, show_id: str, subjects: Iterable[str], after: int = 0) -> list[Recorded]:
        """Return the events that concern any of these subjects, in order."""
        wanted = {"show": show_id, "after": after, "subjects": list(subjects)}
        with self._noting_unknown(), self._reading.connect() as connection:
            return [_recorded(row) for row in connection.execute(_ABOUT, wanted)]

    def shows(self) -> list[ShowEntry]:
        """Return all shows that have begun, the newest last."""
        with reported(), self._reading.connect() as connection:
            return [ShowEntry(**row) for row in connection.execute(_SHOWS).mappings()]


class _HeldRows:
    def __init__(self, connection: Connection, show_id: str, head: int) -> None:
        self._connection = connection
        self._show_id = show_id
        self._head = head

    def read_after(self, revision: int) -> list[Recorded]:
        return _read(self._connection, self._show_id, revision) if revision < self._head else []

    def read(self, first_revision: int, last_revision: int) -> list[Recorded]:
        return _read(self._connection, self._show_id, first_revision - 1, last_revision)

    def find(self, scope: str, client_id: str) -> Kept | None:
        wanted = {"show": self._show_id, "scope": scope, "client_id": client_id}
        with reported():
            row = self._connection.execute(_FIND, wanted).one_or_none()
        if row is None:
            return None
        return Kept(Submission(scope, client_id, row.fingerprint), row.first_revision, row.last_revision)

    def append(self, recorded: Sequence[Recorded], kept: Sequence[Kept], state: Show) -> None:
        if recorded:
            self._check_revisions(recorded)
            self._connection.execute(insert(events), [self._event_row(one) for one in recorded])
            self._add_subjects(recorded)
            self._move_head(recorded[-1].revision, state)
        if kept:
            self._connection.execute(insert(submissions), [self._submission_row(one) for one in kept])

    def _check_revisions(self, recorded: Sequence[Recorded]) -> None:
        for revision, one in enumerate(recorded, start=self._head + 1):
            if one.revision != revision:
                raise ValueError(f"revision {revision} is next, not {one.revision}")

    def _add_subjects(self, recorded: Sequence[Recorded]) -> None:
        rows = [
            {"show_id": self._show_id, "subject": subject, "revision": one.revision}
            for one in recorded
            for subject in dict.fromkeys(subjects(one.event))
        ]
        if rows:
            self._connection.execute(insert(event_subjects), rows)

    def _move_head(self, head: int, state: Show) -> None:
        facts = {"head": head, "name": state.name, "is_open": state.is_open, "is_demo": state.is_demo}
        self._connection.execute(_MOVE_HEAD.values(facts), {"show": self._show_id})
        self._head = head

    def _event_row(self, one: Recorded) -> dict[str, Any]:
        kind, body = encode(one.event)
        return {
            "show_id": self._show_id,
            "revision": one.revision,
            "at_ms": one.at_ms,
            "by": one.by,
            "kind": kind,
            "body": body,
        }

    def _submission_row(self, kept: Kept) -> dict[str, Any]:
        return {
            "show_id": self._show_id,
            "scope": kept.submission.scope,
            "client_id": kept.submission.client_id,
            "fingerprint": kept.submission.fingerprint,
            "first_revision": kept.first_revision,
            "last_revision": kept.last_revision,
        }


def _read(connection: Connection, show_id: str, after: int, up_to: int | None = None) -> list[Recorded]:
    wanted = {"show": show_id, "after": after}
    if up_to is None:
        return [_recorded(row) for row in connection.execute(_EVENTS_OF_SHOW, wanted)]
    return [_recorded(row) for row in connection.execute(_STRETCH, {**wanted, "up_to": up_to})]


def _recorded(row: Row[*tuple[Any, ...]]) -> Recorded:
    return Recorded(row.revision, row.at_ms, row.by, decode(row.kind, row.body))
