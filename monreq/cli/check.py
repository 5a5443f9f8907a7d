"""`monreq check`: is this machine ready for a show?"""

import shutil
import socket
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import click

from monreq.app import now_ms
from monreq.cli.options import data_option, settings
from monreq.cli.server import ENOUGH_FILES, PortTaken, ServerError, allow_open_files, listen
from monreq.cli.way_back import started_on
from monreq.config import Config, ConfigError
from monreq.services.ports import ShowEntry, StorageFailed
from monreq.storage.failures import StorageUnusable
from monreq.storage.folder import DataFolder, FolderError
from monreq.storage.open import open_storage
from monreq.web.addresses import AddressError, base_url, host_of, interfaces, lan_addresses, own_addresses
from monreq.web.authority import ip_address
from monreq.web.codes import PRINTED_AT

ENOUGH_DISK_BYTES = 200 * 1024 * 1024  # chosen: a season of shows, and room for copies
_OLDEST_SOUND_CLOCK = datetime(2025, 1, 1, tzinfo=UTC)  # before this program was written


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing looked at."""

    what: str
    is_good: bool
    sentence: str


def good(what: str, sentence: str) -> Finding:
    """Return what is as it should be."""
    return Finding(what, is_good=True, sentence=sentence)


def bad(what: str, sentence: str) -> Finding:
    """Return what has to be mended before a show."""
    return Finding(what, is_good=False, sentence=sentence)


@click.command(epilog="Example: monreq check --data ~/shows")
@data_option
@click.option("--port", metavar="P", type=click.IntRange(1, 65535), help="Port that will be listened on.")
@click.option("--address", metavar="A", help="What codes will carry.")
def check(data_dir: Path | None, port: int | None, address: str | None) -> None:
    """Tell whether this machine is ready: address, port, disk, open files, database, printed codes, clock."""
    try:
        config = settings(data_dir=data_dir, port=port, address=address)
    except ConfigError as error:
        raise click.ClickException(str(error)) from error
    findings = list(look(config))
    for finding in findings:
        click.echo(f"{'ok ' if finding.is_good else 'BAD'} {finding.what}: {finding.sentence}")
    if not all(finding.is_good for finding in findings):
        click.get_current_context().exit(1)


def look(config: Config) -> Iterator[Finding]:
    """Look at everything that a show depends on."""
    for looked_at in (_address, _port, _disk, _files, _database, _codes, _clock):
        yield looked_at(config)


def _address(config: Config) -> Finding:
    if config.address:
        return _given_address(config)
    candidates = lan_addresses()
    if not candidates:
        return bad("address", "this machine has no network address: join the Wi-Fi, or use --address")
    best = candidates[0]
    is_only_this_machine = best.address.startswith("127.") or best.address == "::1"
    if is_only_this_machine:
        return bad("address", "phones cannot reach this machine: join the Wi-Fi, or use --address")
    others = ", ".join(one.address for one in candidates[1:])
    also = f"; also there: {others} (choose with --address)" if others else ""
    return good("address", f"codes will carry {best.address}, {best.why}{also}")


def _given_address(config: Config) -> Finding:
    try:
        return good("address", f"codes will carry {base_url(config.host, config.port, config.address, ())}")
    except AddressError as error:
        return bad("address", str(error))


def _port(config: Config) -> Finding:
    try:
        listener: socket.socket = listen(config.host, config.port)
    except PortTaken as error:
        if DataFolder(config.data_dir).is_held():
            return good("port", f"monreq serves this folder now, and {config.port} is taken")
        return bad("port", str(error))
    except ServerError as error:
        return bad("port", str(error))
    listener.close()
    return good("port", f"{config.port} is free")


def _disk(config: Config) -> Finding:
    folder = _nearest_existing(config.data_dir)
    free = shutil.disk_usage(folder).free
    return Finding("disk", free >= ENOUGH_DISK_BYTES, f"{free // (1024 * 1024)} MB free at {folder}")


def _files(_: Config) -> Finding:
    return files_finding(allow_open_files())


def files_finding(count: int) -> Finding:
    """Judge how many files this process may have open: each phone's connection is one."""
    if count < ENOUGH_FILES:
        return bad(
            "files", f"only {count} may be open at once, and phones would be refused: raise it (ulimit -n)"
        )
    return good("files", f"{count} may be open at once")


def _nearest_existing(folder: Path) -> Path:
    return next(one for one in (folder, *folder.parents) if one.exists())


def _database(config: Config) -> Finding:
    try:
        with started_on(config):
            if not DataFolder(config.data_dir).key_path.exists():
                return good("database", f"none yet in {config.data_dir}: serve will make it")
            shows = _shows_in(config, DataFolder(config.data_dir).read_key())
    except (FolderError, StorageUnusable) as error:
        return bad("database", str(error))
    except StorageFailed:
        return bad("database", "the database could not be read")
    return good("database", f"{len(shows)} show{'' if len(shows) == 1 else 's'} in {config.data_dir}")


def _shows_in(config: Config, key: bytes) -> list[ShowEntry]:
    storage = open_storage(config.database_url, config.async_mode, may_write=False)
    try:
        storage.require_key(key, DataFolder(config.data_dir).key_path, claims=False)
        return storage.log.shows()
    finally:
        storage.close()


def _codes(config: Config) -> Finding:
    """Look where printed codes lead; a database that cannot be read is told of beside this."""
    try:
        url = _printed_at(config) if DataFolder(config.data_dir).key_path.exists() else None
    except (FolderError, StorageUnusable, StorageFailed):
        url = None
    return codes_finding(url, own_addresses(interfaces()))


def codes_finding(url: str | None, present: Collection[str]) -> Finding:
    """Judge the address that codes were printed with last; None for none.

    Args:
        url: What they carry.
        present: This machine's addresses.
    """
    if url is None:
        return good("codes", "none printed yet")
    printed = ip_address(host_of(url))
    if printed is not None and printed not in present:
        return bad(
            "codes", f"printed ones point to {printed}, not here: take that address again, or print anew"
        )
    return good("codes", f"printed ones point to {host_of(url)}")


def _printed_at(config: Config) -> str | None:
    storage = open_storage(config.database_url, config.async_mode, may_write=False)
    try:
        return storage.settings.get(PRINTED_AT)
    finally:
        storage.close()


def _clock(_: Config) -> Finding:
    return clock_finding(now_ms)


def clock_finding(clock: Callable[[], int]) -> Finding:
    """Judge the clock: the history's times come from it, though nothing is ordered by it."""
    now = datetime.fromtimestamp(clock() / 1000, UTC)
    return Finding("clock", now > _OLDEST_SOUND_CLOCK, f"{now:%Y-%m-%d %H:%M} UTC")
