"""`monreq token`: the token of the desk or of a mix, beside a running server."""

from pathlib import Path

import click

from monreq.app import open_shows
from monreq.cli.options import chosen_show, data_option, settings, show_option, told_in_one_line
from monreq.domain.show import Show
from monreq.storage.folder import DataFolder
from monreq.web.access import token_of


@click.command(epilog="Example: monreq token desk")
@click.argument("subject", metavar="desk|MIX")
@data_option
@show_option
def token(subject: str, data_dir: Path | None, show_id: str | None) -> None:
    """Print the token that opens the desk or a mix, by its id or its name."""
    with told_in_one_line():
        config = settings(data_dir=data_dir)
        key = DataFolder(config.data_dir).read_key()
        storage, shows = open_shows(config, may_write=False)
        try:
            show = chosen_show(shows, show_id)
            click.echo(token_of(key, show, None if subject == "desk" else named_mix(show, subject)))
        finally:
            storage.close()


def named_mix(show: Show, id_or_name: str) -> str:
    """Return the id of the mix that is meant.

    Raises:
        ClickException: There is none, or several bear the name; it lists those there are.
    """
    if id_or_name in show.mixes:
        return id_or_name
    called_so = [mix.id for mix in show.mixes.values() if mix.name == id_or_name]
    if len(called_so) == 1:
        return called_so[0]
    there = ", ".join(f"{mix.id} ({mix.name})" for mix in show.mixes.values()) or "none"
    wrong = "Several mixes are called" if called_so else "There is no mix"
    raise click.ClickException(f"{wrong} {id_or_name!r}. Mixes here: {there}.")
