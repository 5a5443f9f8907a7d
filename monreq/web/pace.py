"""How fast somebody may send: a burst, then a steady few a second; counted here, or for all workers in Redis."""

import math
import threading
from dataclasses import dataclass
from typing import Final, Protocol

import redis

BURST: Final = 40  # chosen: a whole soundcheck's list typed in at once
PER_SECOND: Final = 5  # chosen: faster than a thumb, slower than a flood
RETRY_AFTER_S: Final = math.ceil(1 / PER_SECOND)
"""When to try again at the latest, as the Retry-After header counts. [s]"""

_US: Final = 1_000_000  # times are whole microseconds, so that a burst is exactly a burst
_MANY: Final = 10_000  # chosen: more senders than a festival has phones; then those who rest are forgotten
_PATIENCE_S: Final = 0.25  # chosen: a request waits no longer than this for Redis

# The generic cell rate algorithm: one number per sender, the time when its bucket will be full again.
_TAKE: Final = """
local time = redis.call('TIME')
local now = time[1] * 1000000 + time[2]
local full = math.max(tonumber(redis.call('GET', KEYS[1]) or 0), now)
local apart, slack = tonumber(ARGV[1]), tonumber(ARGV[2])
if full - now > slack then return 0 end
full = full + apart
redis.call('SET', KEYS[1], string.format('%.0f', full), 'PX', math.ceil((full - now) / 1000))
return 1
"""


@dataclass(frozen=True, slots=True)
class Rate:
    """So many at once, then so many a second for ever."""

    burst: int
    per_second: float

    @property
    def apart_us(self) -> int:
        """How long one sending takes to be made good. [microseconds]."""
        return round(_US / self.per_second)

    @property
    def slack_us(self) -> int:
        """How far ahead of that pace a sender may be. [microseconds]."""
        return self.apart_us * (self.burst - 1)


ASKING: Final = Rate(BURST, PER_SECOND)
"""What a phone, and a program that speaks for a mix, may send."""


class Pace(Protocol):
    """Counts what was sent, for each sender apart."""

    def lets_through(self, sender: str, rate: Rate, now_s: float) -> bool:
        """Count one more of a sender, if that is within its rate; what is refused costs nothing.

        Args:
            sender: Any name.
            rate: The same for the same sender.
            now_s: Of a clock that only counts on. [s]
        """


class PaceHere:
    """Counts in this process's memory."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._full_at_us: dict[str, int] = {}
        self._newest_us = 0
        self._many = _MANY

    def __len__(self) -> int:
        """How many senders are remembered."""
        return len(self._full_at_us)

    def lets_through(self, sender: str, rate: Rate, now_s: float) -> bool:
        """Count one more; a clock that steps back is taken to stand."""
        with self._lock:
            self._newest_us = max(self._newest_us, round(now_s * _US))
            full_us = max(self._full_at_us.get(sender, 0), self._newest_us)
            if full_us - self._newest_us > rate.slack_us:
                return False
            self._full_at_us[sender] = full_us + rate.apart_us
            self._forget_those_who_rest()
            return True

    def _forget_those_who_rest(self) -> None:
        """Forget them once there are many, and then not before as many again have come: each look is at all of them."""
        if len(self._full_at_us) > self._many:
            busy = {who: at for who, at in self._full_at_us.items() if at > self._newest_us}
            self._full_at_us = busy
            self._many = max(_MANY, 2 * len(busy))


class PaceTogether:
    """Counts in Redis, by its clock, for all workers; while it is gone, each worker counts for itself."""

    def __init__(self, url: str) -> None:
        self._take = redis.Redis.from_url(
            url, socket_timeout=_PATIENCE_S, socket_connect_timeout=_PATIENCE_S
        ).register_script(_TAKE)
        self._alone = PaceHere()

    def lets_through(self, sender: str, rate: Rate, now_s: float) -> bool:
        """Count one more."""
        try:
            return bool(self._take(keys=[f"monreq:pace:{sender}"], args=[rate.apart_us, rate.slack_us]))
        except redis.RedisError:
            return self._alone.lets_through(sender, rate, now_s)


def pace_for(redis_url: str | None) -> Pace:
    """Return what counts for one process, or for all that share a Redis."""
    return PaceHere() if redis_url is None else PaceTogether(redis_url)
