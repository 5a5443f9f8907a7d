"""The hosts under which this machine may be asked for pages: its names and its present addresses."""

from collections.abc import Callable, Iterable
from threading import Lock
from typing import Final

from monreq.web.authority import ip_address

_REFRESH_S: Final = 3.0  # chosen: a new network is known before a person has walked to it


class KnownHosts:
    """The hosts this machine answers to; its own addresses are asked for again as they age."""

    def __init__(
        self,
        names: Iterable[str],
        addresses: Callable[[], Iterable[str]],
        clock: Callable[[], float],
    ) -> None:
        """Take what never changes and what does.

        Args:
            names: Configured hosts and this machine's names.
            addresses: Tells the machine's present IP addresses.
            clock: Seconds that never run backwards. [s]
        """
        self._fixed = frozenset({"localhost", "127.0.0.1", "::1", *map(_canonical, names)})
        self._addresses, self._clock = addresses, clock
        self._lock, self._read_at_s = Lock(), clock()
        self._hosts = self._read()

    def __call__(self) -> frozenset[str]:
        """The hosts known now, at most three seconds old."""
        with self._lock:
            now_s = self._clock()
            if now_s - self._read_at_s >= _REFRESH_S:
                self._hosts, self._read_at_s = self._read(), now_s
            return self._hosts

    def _read(self) -> frozenset[str]:
        return self._fixed | {_canonical(address) for address in self._addresses()}


def machine_names(hostname: str) -> tuple[str, ...]:
    """The names under which a network finds a machine of this host name."""
    short = hostname.partition(".")[0]
    return (hostname, short, f"{short}.local") if short else ()


def _canonical(host: str) -> str:
    return ip_address(host.strip("[]")) or host.lower().removesuffix(".")
