"""The announcer: draws what a commit, or time alone, changed, once for each room, and pushes it."""

import logging
import threading
import time
import traceback
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from queue import Empty, SimpleQueue
from typing import Final, ParamSpec, Protocol

from flask_socketio import SocketIO

from monreq.domain.events import Recorded
from monreq.domain.show import Show
from monreq.live.changes import client_ids, merged
from monreq.live.rooms import CHANGED, Room, Rooms
from monreq.live.watching import Watching
from monreq.services.ports import Change

LOG = logging.getLogger(__name__)

P = ParamSpec("P")

Fragments = Mapping[str, str]
"""Drawn places, by id."""

_MERGED_WITHIN_S: Final = (
    0.05  # chosen: no hand is quicker, and a crowd's requests are drawn twenty times a second at most
)
_TIME_TOLD_EVERY_S: Final = 1.0  # chosen: a hand that read a row takes longer to the fader
_LOGGED_AGAIN_S: Final = 60.0  # chosen: enough to see that it goes on
_GOODBYE_S: Final = 1.0  # chosen: a push takes milliseconds, and a stop must be quick


class Clockwork(Protocol):
    """Where time is known, and what was seen last of each show."""

    def seen(self, show_id: str) -> Show:
        """Return a show as it was last read or written here."""

    def as_of_now(self, show: Show) -> Show:
        """Return a show with what time alone changed in it since its last event."""

    def since(self, show_id: str, revision: int, up_to: int) -> list[Recorded]:
        """Return a show's events after a revision, up to another."""


class Announcer:
    """Tells open pages what changed: at once, or together with what came within a twentieth of a second of it.

    What a desk shows changes by time alone too: then the same revision is told again, as of a later moment.

    Args:
        socketio: Whose background task it is.
        rooms: Who listens.
        clockwork: The shows, and the time.
        desk_fragments: Draws what differs on the desk's page between two states, in a language.
        phone_fragments: The same for the phones of a mix that both states may or may not have.
    """

    def __init__(
        self,
        socketio: SocketIO,
        rooms: Rooms,
        clockwork: Clockwork,
        desk_fragments: Callable[[Show, Show, str], Fragments],
        phone_fragments: Callable[[Show, Show, str, str], Fragments],
    ) -> None:
        self._socketio = socketio
        self._rooms = rooms
        self._clockwork = clockwork
        self._desk_fragments = desk_fragments
        self._phone_fragments = phone_fragments
        self._waiting: SimpleQueue[Change | None] = SimpleQueue()
        self._task: threading.Thread | None = None
        self._logged_s: dict[tuple[str, int | None], float] = {}
        self._one_at_a_time = threading.Lock()
        self._told: dict[str, Show] = {}
        self._telling_time = Watching(socketio, [self.tell_time], _TIME_TOLD_EVERY_S)

    def tell(self, change: Change) -> None:
        """Take note of a commit; returns at once."""
        self._waiting.put(change)

    def pages_begin_at(self, show: Show) -> None:
        """Take note of the state that the first pages of a show were told."""
        self._told.setdefault(show.id, show)

    def catch_up(self, show: Show) -> None:
        """Tell what is in a show's log and was not told here: another process wrote it, or a telling failed."""
        told = self._told.get(show.id)
        if told is not None and told.revision < show.revision:
            recorded = self._clockwork.since(show.id, told.revision, show.revision)
            self._waiting.put(Change(told, show, tuple(recorded)))

    def start(self) -> None:
        """Begin to announce in the background."""
        self._task = self._socketio.start_background_task(self._run)
        self._telling_time.start()

    def stop(self) -> None:
        """Announce what still waits, and end."""
        self._telling_time.stop()
        self._waiting.put(None)
        if self._task is not None:
            self._task.join(_GOODBYE_S)

    def announce_waiting(self) -> None:
        """Announce what waits now, in the caller's thread."""
        self._announce([*self._at_hand()])

    def tell_time(self) -> None:
        """Tell the desks that are connected here what time alone changed by now."""
        self.announce_waiting()
        with self._one_at_a_time:
            for show_id in sorted({room.show_id for room in self._rooms.desks()}):
                self._guarded(self._tell_time_of, show_id)

    def _run(self) -> None:
        while (first := self._waiting.get()) is not None:
            began_s = time.monotonic()
            self._announce([first, *self._at_hand()])
            # The first of many goes out at once, the others together; meanwhile the connections have their turn.
            left_s = max(0.0, began_s + _MERGED_WITHIN_S - time.monotonic())
            self._socketio.sleep(left_s)  # type: ignore[arg-type]  # its stubs know no parts of a second

    def _at_hand(self) -> Iterator[Change]:
        while True:
            try:
                change = self._waiting.get_nowait()
            except Empty:
                return
            if change is None:
                self._waiting.put(None)
                return
            yield change

    def _announce(self, changes: Sequence[Change]) -> None:
        with self._one_at_a_time:
            for change in merged(changes):
                self._guarded(self._announce_one, change)

    def _announce_one(self, change: Change) -> None:
        before = self._told.get(change.after.id, change.before)
        if change.after.revision <= before.revision:
            return
        change = replace(change, before=before, after=self._clockwork.as_of_now(change.after))
        self._told[change.after.id] = change.after
        self._guarded(self._rooms.cut, change.after)
        concerned = client_ids(change)
        everybody = [one for ids in concerned.values() for one in ids]
        for room in self._rooms.of(change.after, None):
            self._guarded(self._to_desk, change, room, everybody)
        for mix in _mixes_shown_anew(change):
            for room in self._rooms.of(change.after, mix):
                self._guarded(self._to_mix, change, room, concerned.get(mix, []))

    def _tell_time_of(self, show_id: str) -> None:
        seen = self._clockwork.seen(show_id)
        told = self._told.get(show_id, seen)
        now = self._clockwork.as_of_now(told)
        if now.at_ms == told.at_ms or seen.revision != told.revision:
            return  # what was stored since is told as a change, which brings the time along
        self._told[show_id] = now
        for room in self._rooms.desks():
            if room.show_id == show_id and room.is_valid(now):
                push = self._desk_push(Change(told, now, ()), room, [])
                self._rooms.push_here(room, CHANGED, push)

    def _to_desk(self, change: Change, room: Room, concerned: Sequence[str]) -> None:
        self._rooms.push(room, self._desk_push(change, room, concerned))

    def _desk_push(self, change: Change, room: Room, concerned: Sequence[str]) -> dict[str, object]:
        return {
            "revision": change.after.revision,
            "as_of": change.after.at_ms,
            "after": change.before.revision,
            "after_as_of": change.before.at_ms,
            "client_ids": concerned,
            "fragments": self._desk_fragments(change.before, change.after, room.language),
        }

    def _to_mix(self, change: Change, room: Room, concerned: Sequence[str]) -> None:
        mix = room.mix or ""
        self._rooms.push(
            room,
            {
                "revision": change.after.changed_at[mix],
                "after": change.before.changed_at.get(mix, 0),
                "client_ids": concerned,
                "fragments": self._phone_fragments(change.before, change.after, mix, room.language),
            },
        )

    def _guarded(self, step: Callable[P, None], *args: P.args, **kwargs: P.kwargs) -> None:
        """Keep a fault in one room from the others; its pages heal by reading again at their next push."""
        try:
            step(*args, **kwargs)
        except Exception as error:
            at = traceback.extract_tb(error.__traceback__)[-1]
            place, now_s = (at.filename, at.lineno), time.monotonic()
            if now_s >= self._logged_s.get(place, now_s):
                self._logged_s[place] = now_s + _LOGGED_AGAIN_S
                LOG.exception("a change could not be announced; the same fault is noted again after a minute")


def _mixes_shown_anew(change: Change) -> list[str]:
    before = change.before.changed_at
    return [mix for mix, revision in change.after.changed_at.items() if before.get(mix, 0) != revision]
