"""Options that several commands share, and failures told in one line."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TypeVar, Unpack

import click

from monreq.cli.server import ServerError
from monreq.config import Config, ConfigError, Overrides, load
from monreq.domain.refusals import Refusal
from monreq.domain.show import Show
from monreq.services.ports import StorageFailed
from monreq.services.shows import Shows
from monreq.storage.codec import UnreadableEvent
from monreq.storage.failures import StorageUnusable
from monreq.storage.folder import FolderError
from monreq.web.addresses import AddressError

Command = TypeVar("Command", bound=Callable[..., object])

data_option = click.option(
    "--data",
    "data_dir",
    metavar="DIR",
    type=click.Path(file_okay=False, path_type=Path),
    help="Folder that holds the database and the key.",
)
show_option = click.option("--show", "show_id", metavar="ID", help="Which show, if not the newest open one.")
address_option = click.option(
    "--address",
    metavar="A",
    help="What codes carry, if not this machine's best address: host, host:port or URL.",
)


def serving_options(command: Command) -> Command:
    """Add what `serve` and `demo` have in common."""
    options: list[Callable[[Command], Command]] = [
        click.option("--no-browser", is_flag=True, help="Do not open the desk in a browser."),
        address_option,
        click.option(
            "--port", metavar="P", type=click.IntRange(0, 65535), help="Port to listen on; 0: any free one."
        ),
        click.option("--host", metavar="H", help="Address to listen on, if not all."),
        data_option,
    ]
    for option in options:
        command = option(command)
    return command


@contextmanager
def told_in_one_line() -> Iterator[None]:
    """Turn every expected failure into one line and a non-zero exit."""
    try:
        yield
    except UnreadableEvent as failed:
        raise click.ClickException(str(failed)) from failed
    except StorageFailed as failed:
        raise click.ClickException(f"The database could not store this. {failed}") from failed
    except (ConfigError, FolderError, ServerError, StorageUnusable, AddressError, Refusal) as failed:
        raise click.ClickException(str(failed)) from failed


def settings(**given: Unpack[Overrides]) -> Config:
    """Read the settings, what was given on the command line first."""
    return load(**given)


def chosen_show(shows: Shows, show_id: str | None) -> Show:
    """Return the show that is meant: the named one, or the newest open one.

    Raises:
        ClickException: There is none, or none of this name; it lists those there are.
    """
    entries = shows.entries()
    if show_id is not None:
        entries = [entry for entry in entries if entry.id == show_id]
    else:
        entries = [entry for entry in entries if entry.is_open]
    if not entries:
        there = ", ".join(f"{entry.id} ({entry.name})" for entry in shows.entries()) or "none"
        wanted = f"show {show_id}" if show_id else "open show"
        raise click.ClickException(f"There is no {wanted}. Shows here: {there}.")
    return shows.state(entries[-1].id)
