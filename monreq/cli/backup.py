"""`monreq backup`: one file that holds everything, made beside a running server."""

from importlib.metadata import version
from pathlib import Path

import click

from monreq.app import now_ms, open_shows
from monreq.cli.options import data_option, settings, told_in_one_line
from monreq.cli.way_back import way_back_told
from monreq.config import Config
from monreq.storage.backup import back_up
from monreq.storage.backup_file import BackupFacts
from monreq.storage.folder import DataFolder

_WITH_KEY = (
    "Put the key into the file too, so that printed codes work on another laptop. Whoever holds the file can"
    " then open every code, the desk's included: keep it as you would keep the desk's link."
)


@click.command(epilog="Example: monreq backup /media/stick/tonight.backup --with-key")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--with-key", is_flag=True, help=_WITH_KEY)
@data_option
def backup(file: Path, *, with_key: bool, data_dir: Path | None) -> None:
    """Back up every show into FILE, also while monreq serves; monreq restore puts it back.

    Without --with-key the file opens no code, and cards have to be printed again where it is restored into
    another folder.
    """
    with told_in_one_line():
        config = settings(data_dir=data_dir)
        key = DataFolder(config.data_dir).read_key()
        with way_back_told(config):
            _require_current(config)
            back_up(config.database_url, file, facts(key if with_key else None))
    inside = "with its key: whoever holds it can open every code" if with_key else "without its key"
    click.echo(f"Backed up to {file}, {inside}.")


def facts(key: bytes | None) -> BackupFacts:
    """Return what a backup that is made now says of itself."""
    return BackupFacts(now_ms(), version("monreq"), key)


def _require_current(config: Config) -> None:
    storage, _ = open_shows(config, may_write=False)
    storage.close()
