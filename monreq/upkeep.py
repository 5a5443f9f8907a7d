"""Upkeep: what looks after a running server, so that the desk is told of trouble and copies are kept."""

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from monreq.config import Config
from monreq.services.health import Health, Trouble
from monreq.services.keeping import CopyFailed, CopyKeeper, IdleFolding
from monreq.services.ports import Change, Clock, StorageFailed
from monreq.services.standing import AddressWatch, ClockWatch, DiskWatch
from monreq.services.storage_watch import SlowWatch, StorageWatch
from monreq.storage.backup_file import BackupFacts
from monreq.storage.copies import Copies
from monreq.storage.engine import file_of
from monreq.storage.failures import StorageUnusable
from monreq.storage.folder import DataFolder, FolderError
from monreq.storage.held import Holding
from monreq.storage.open import Storage
from monreq.storage.sqlite_file import log_of
from monreq.storage.writers import thread_writer
from monreq.web.addresses import host_of, interfaces, lan_addresses, own_addresses
from monreq.web.authority import ip_address
from monreq.web.codes import PRINTED_AT

_PROBE: Final = "probe"
_PROBE_TEXT: Final = "room" * 8192  # chosen: more than a request takes, so that there is room for one


@dataclass(frozen=True, slots=True)
class Clocks:
    """The clocks.

    Attributes:
        wall_ms: The time. [ms since 1970, UTC]
        monotonic_s: One that only counts on. [s]
        busy_s: How long the thread that asks has reckoned. [s]
    """

    wall_ms: Clock
    monotonic_s: Callable[[], float]
    busy_s: Callable[[], float]


SERVED_AT: Final = "served_at"
"""The setting that keeps the address that codes carried last, for commands beside the server."""


class Upkeep:
    """Everything that is looked at every few seconds.

    Attributes:
        looks: Those that never take long.
        waiting_looks: Those that may have to wait for an answer, which nobody else should wait for.
    """

    def __init__(
        self, config: Config, storage: Storage, holding: Holding, clocks: Clocks, program: str
    ) -> None:
        def look() -> None:
            holding.require()
            storage.look()

        def probe() -> None:
            storage.settings.put(_PROBE, _PROBE_TEXT)
            storage.writer.run(storage.log.require_free)

        self.health = health = Health()
        self._keeper = _keeper(config, health, clocks, program)
        path = file_of(config.database_url)
        self.slow = SlowWatch(
            health,
            clocks.monotonic_s,
            clocks.busy_s,
            Trouble.SLOW if path is not None else Trouble.DATABASE_SLOW,
        )
        watch = StorageWatch(health, look, probe, clocks.monotonic_s)
        self.waiting_looks: list[Callable[[], None]] = [watch]
        self.looks: list[Callable[[], None]] = [
            watch.require_answer,
            self.slow,
            AddressWatch(health, lambda: _carried(storage, config), _present),
            DiskWatch(health, lambda: shutil.disk_usage(config.data_dir).free),
            ClockWatch(health, clocks.wall_ms, clocks.monotonic_s),
        ]
        if self._keeper is not None:
            self.looks.append(_while_whole(look, self._keeper))
        if path is not None:
            self.looks.append(IdleFolding(storage.fold_in, lambda: _stamp(log_of(path))))

    def note(self, change: Change) -> None:
        """Take note of a commit."""
        if self._keeper is not None:
            self._keeper.note(change)


def _while_whole(look: Callable[[], None], keeper: CopyKeeper) -> Callable[[], None]:
    """Return what makes copies while the database is as it was: who reads one without its log makes it another log."""

    def keep() -> None:
        try:
            look()
        except StorageFailed:
            return  # told by the watch of the storage
        keeper()

    return keep


def _keeper(config: Config, health: Health, clocks: Clocks, program: str) -> CopyKeeper | None:
    """Return what keeps copies of a SQLite file; a PostgreSQL database is backed up by whoever runs it."""
    path = file_of(config.database_url)
    if path is None:
        return None
    copies = Copies(
        config.database_url, DataFolder(config.data_dir), lambda: BackupFacts(clocks.wall_ms(), program)
    )
    # A thread of its own: neither the requests nor the one that writes wait for a copy.
    copying = thread_writer(config.async_mode)

    def make() -> None:
        try:
            copying.run(copies.make)
        except (StorageUnusable, FolderError) as failed:
            raise CopyFailed(str(failed)) from failed

    return CopyKeeper(health, make, lambda: _stamp(log_of(path)), clocks.monotonic_s)


def _stamp(path: Path) -> object:
    """Return what tells whether anything was stored: the file itself is written to at other times too."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size


def _carried(storage: Storage, config: Config) -> str | None:
    """Return the address that codes carry: printed ones, or those that phones were let in by."""
    try:
        url = storage.settings.get(PRINTED_AT)
        if url is None and config.address is None:
            url = storage.settings.get(SERVED_AT)
    except StorageFailed:
        return None
    return ip_address(host_of(url)) if url else None


def _present() -> list[str]:
    outward = [one.address for one in lan_addresses() if not one.address.startswith("127.")]
    return [*outward, *sorted(own_addresses(interfaces()) - set(outward))]
