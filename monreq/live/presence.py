"""Presence of open pages: where their signs are kept, for one process or several, and what pages say of themselves."""

import json
import logging
import re
import threading
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, replace
from typing import Any, Final, Protocol

from redis import Redis, RedisError
from redis.backoff import NoBackoff
from redis.retry import Retry

from monreq.domain.presence import KEPT_MS, Sign, Snapshot, snapshot

LOG = logging.getLogger(__name__)

_PAGE: Final = re.compile(r"[A-Za-z0-9_-]{1,32}")
_ROW: Final = re.compile(r"row-[a-z0-9_-]{1,60}")
_PATIENCE_S: Final = 0.25  # chosen: presence is worth no wait
_MOST_PAGES: Final = 40  # chosen: for one mix, or the desk; of more, the oldest signs are let go


class Signs(Protocol):
    """Where the signs of a show's pages are kept, for some hours at most."""

    def put(self, show_id: str, sign: Sign) -> None:
        """Keep a page's last sign."""

    def of(self, show_id: str) -> list[Sign]:
        """Return the last sign of each page, in no particular order."""

    def drop(self, show_id: str, signs: list[Sign]) -> None:
        """Let signs go."""


class MemorySigns:
    """For one process."""

    def __init__(self) -> None:
        self._signs: dict[str, dict[tuple[str | None, str], Sign]] = {}
        self._lock = threading.Lock()

    def put(self, show_id: str, sign: Sign) -> None:
        """Keep a page's last sign."""
        with self._lock:
            self._signs.setdefault(show_id, {})[sign.mix, sign.page] = sign

    def of(self, show_id: str) -> list[Sign]:
        """Return the last sign of each page."""
        with self._lock:
            return list(self._signs.get(show_id, {}).values())

    def drop(self, show_id: str, signs: list[Sign]) -> None:
        """Let signs go."""
        with self._lock:
            for sign in signs:
                self._signs.get(show_id, {}).pop((sign.mix, sign.page), None)


class RedisSigns:
    """For several processes: one hash a show, which expires. While Redis is gone nobody is known to be there."""

    def __init__(self, redis: Redis) -> None:
        self._redis = redis
        self._was_told = False

    def put(self, show_id: str, sign: Sign) -> None:
        """Keep a page's last sign."""
        self._guarded(lambda: self._put(show_id, sign))

    def of(self, show_id: str) -> list[Sign]:
        """Return the last sign of each page; none where Redis does not answer."""
        found: Any = self._guarded(lambda: self._redis.hvals(_key(show_id))) or []
        return [Sign(**json.loads(one)) for one in found]

    def drop(self, show_id: str, signs: list[Sign]) -> None:
        """Let signs go."""
        fields = [_field(sign) for sign in signs]
        if fields:
            self._guarded(lambda: self._redis.hdel(_key(show_id), *fields))

    def _put(self, show_id: str, sign: Sign) -> None:
        together = self._redis.pipeline(transaction=False)
        together.hset(_key(show_id), _field(sign), json.dumps(asdict(sign)))
        together.pexpire(_key(show_id), KEPT_MS)
        together.execute()

    def _guarded(self, step: Callable[[], Any]) -> Any:
        try:
            done = step()
        except RedisError as error:
            if not self._was_told:
                self._was_told = True
                LOG.warning("presence is not known while Redis does not answer: %s", type(error).__name__)
            return None
        self._was_told = False
        return done


def signs_for(redis_url: str | None) -> Signs:
    """Return where signs are kept: for one process, or for all that share a Redis."""
    if redis_url is None:
        return MemorySigns()
    return RedisSigns(
        Redis.from_url(
            redis_url,
            socket_timeout=_PATIENCE_S,
            socket_connect_timeout=_PATIENCE_S,
            retry=Retry(NoBackoff(), 0),
        )
    )


def _key(show_id: str) -> str:
    return f"monreq:here:{show_id}"


def _field(sign: Sign) -> str:
    return f"{sign.mix or ''}/{sign.page}"


@dataclass(frozen=True, slots=True)
class _Page:
    show_id: str
    mix: str | None
    page: str


class Presence:
    """Takes what pages say of themselves, by the right that their connection was admitted with.

    Args:
        signs: Where it is kept.
        now_ms: Returns the time. [ms since 1970, UTC]
    """

    def __init__(self, signs: Signs, now_ms: Callable[[], int]) -> None:
        self._signs = signs
        self._now_ms = now_ms
        self._pages: dict[str, _Page] = {}
        self._lock = threading.Lock()

    def here(self, sid: str, show_id: str, mix: str | None, said: Mapping[str, Any], name: str = "") -> None:
        """Take a page's word: its id, whether somebody can see it, and at a desk the row worked on.

        Args:
            sid: Of its connection.
            show_id: The show it was admitted to.
            mix: The mix it was admitted to; None is the desk.
            said: What it said; whatever is not understood is left out.
            name: The desk's name.
        """
        page, now = str(said.get("page", "")), self._now_ms()
        if not _PAGE.fullmatch(page):
            return
        with self._lock:
            self._pages[sid] = _Page(show_id, mix, page)
        is_awake = said.get("awake") is True
        known = self._known(show_id, mix, page)
        since = known.since_ms if known is not None and known.is_awake is is_awake else now
        sign = Sign(page, mix, since, now, name=name, is_awake=is_awake)
        self._signs.put(show_id, self._on_row(sign, known, said, now) if mix is None else sign)

    def left(self, sid: str, *, said_goodbye: bool) -> None:
        """Take note of a connection's end. Only a page that closed says goodbye; the Wi-Fi breaks for other reasons."""
        with self._lock:
            page = self._pages.pop(sid, None)
            is_back = page in self._pages.values()
        if page is None or is_back or not said_goodbye:
            return
        known = self._known(page.show_id, page.mix, page.page)
        if known is not None:
            self._signs.put(page.show_id, replace(known, left_at_ms=self._now_ms()))

    def snapshot(self, show_id: str) -> Snapshot:
        """Return who is there now."""
        return snapshot(self._signs.of(show_id), self._now_ms())

    def _known(self, show_id: str, mix: str | None, page: str) -> Sign | None:
        """Return a page's last sign, and let go what is too old or too much."""
        own = sorted(
            (sign for sign in self._signs.of(show_id) if sign.mix == mix), key=lambda one: one.heard_at_ms
        )
        too_old = [sign for sign in own if self._now_ms() - sign.heard_at_ms > KEPT_MS]
        self._signs.drop(show_id, [*too_old, *own[: max(0, len(own) - _MOST_PAGES + 1)]])
        return next((sign for sign in own if sign.page == page), None)

    def _on_row(self, sign: Sign, known: Sign | None, said: Mapping[str, Any], now: int) -> Sign:
        row = said.get("row")
        if isinstance(row, str) and _ROW.fullmatch(row):
            return replace(sign, row=row, row_at_ms=now)
        return sign if known is None else replace(sign, row=known.row, row_at_ms=known.row_at_ms)
