"""`monreq restore`: puts a backup back, on this laptop or another, and keeps what was there."""

from datetime import UTC, datetime
from pathlib import Path

import click

from monreq.app import new_id, now_ms
from monreq.cli.options import data_option, settings, told_in_one_line
from monreq.storage.backup_file import BackupFacts
from monreq.storage.engine import file_of
from monreq.storage.folder import DataFolder
from monreq.storage.held import held_alone
from monreq.storage.restore import Restoring, check_backup


@click.command(epilog="Example: monreq restore /media/stick/tonight.backup")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option(
    "--replace",
    "may_replace",
    is_flag=True,
    help="Restore although there are shows already; they are kept beside, under a name with the time.",
)
@data_option
def restore(file: Path, *, may_replace: bool, data_dir: Path | None) -> None:
    """Put the shows of FILE, made by monreq backup or by a running server, into the data folder.

    The file is checked first, and one of an earlier monreq is brought up to date. No server may run on the folder.
    """
    with told_in_one_line():
        config = settings(data_dir=data_dir)
        facts = check_backup(file)
        folder = DataFolder(config.data_dir)
        folder.create()
        with folder.hold(), held_alone(config.database_url, folder):
            had_key = folder.key_path.exists()
            put_aside = Restoring(
                config.database_url, folder, may_replace, f"before-restore-{_now()}", new_id()
            ).restore(file, facts)
    for path in put_aside:
        click.echo(f"What was there is kept: {path}")
    click.echo(f"Restored to {config.data_dir}. {_about_codes(facts, had_key=had_key)}")
    if file_of(config.database_url) is None and folder.key_path.exists():
        click.echo(
            f"Every worker on this database needs the key {folder.key_path}, and does not start with another: put it"
            " into each one's data folder, or, where monreq@.service is used, in the place of /etc/monreq/key."
        )


def _about_codes(facts: BackupFacts, *, had_key: bool) -> str:
    if facts.key is not None:
        return "Codes that were printed before open their mixes."
    if had_key:
        return "The key is this folder's own: codes that were printed with it open their mixes."
    return "The backup was made without its key: print all codes again."


def _now() -> str:
    return f"{datetime.fromtimestamp(now_ms() / 1000, UTC):%Y%m%d-%H%M%S}"
