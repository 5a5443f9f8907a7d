"""`monreq passphrase`: sets or removes the desk's passphrase while nothing serves."""

import sys
from pathlib import Path

import click

from monreq.app import open_shows
from monreq.cli.options import data_option, settings, told_in_one_line
from monreq.storage.folder import DataFolder
from monreq.web.passphrase import put_passphrase


@click.command(epilog="Example: monreq passphrase --data ~/shows")
@click.option("--remove", is_flag=True, help="Leave the desk's link as the only way in.")
@data_option
def passphrase(*, remove: bool, data_dir: Path | None) -> None:
    """Set the passphrase that opens the desk on another device.

    It is asked for, or read from standard input: never given as an argument, which other programs could read.
    """
    with told_in_one_line():
        config = settings(data_dir=data_dir)
        folder = DataFolder(config.data_dir)
        folder.read_key()
        words = None if remove else _ask()
        with folder.hold():
            storage, shows = open_shows(config, may_write=True)
            try:
                were_put_out = put_passphrase(storage.settings, shows, words)
            finally:
                storage.close()
    click.echo("There is no passphrase any more." if remove else "The passphrase is set.")
    if were_put_out:
        click.echo("Every desk is out, and has a new link: monreq token desk.")


def _ask() -> str:
    if sys.stdin.isatty():
        return str(click.prompt("Passphrase", hide_input=True, confirmation_prompt="Once more"))
    return sys.stdin.readline().rstrip("\r\n")
