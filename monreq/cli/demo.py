"""`monreq demo`: an evening to try things on, in a folder of its own."""

import contextlib
import random
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Unpack

import click

from monreq.app import Monreq, new_show_id, open_shows
from monreq.cli import demo_band, demo_show
from monreq.cli.demo_phones import SimulatedPhones
from monreq.cli.options import serving_options, settings, told_in_one_line
from monreq.cli.serve import newest_open_show, run
from monreq.config import Config, Overrides
from monreq.domain.commands import Answer, MarkSoundcheck
from monreq.domain.events import ChangeAsked
from monreq.domain.requests import Outcome
from monreq.domain.show import Show
from monreq.services.shows import Shows
from monreq.storage.folder import DataFolder


@click.command(epilog="Example: monreq demo --still")
@serving_options
@click.option("--still", is_flag=True, help="No simulated phones: the queue stays empty until you ask.")
def demo(*, no_browser: bool, still: bool, **given: Unpack[Overrides]) -> None:
    """Serve an invented band's evening, with simulated phones that ask by themselves.

    Works in a temporary folder. With --data it starts afresh in an empty folder or goes on with a demo's.
    """
    with told_in_one_line(), _folder(given.get("data_dir")) as folder:
        given["data_dir"] = folder
        config = settings(**given)
        _refuse_other_than_demo(config)

        def simulate(monreq: Monreq, show: Show) -> None:
            if not still:
                SimulatedPhones(monreq.shows, show.id, random.Random()).start()  # noqa: S311 - a demo, not a secret

        run(config, _demo_show, opens_browser=not no_browser, beside=simulate)


@contextlib.contextmanager
def _folder(given: Path | None) -> Iterator[Path]:
    if given is not None:
        yield given
        return
    with tempfile.TemporaryDirectory(prefix="monreq-demo-", ignore_cleanup_errors=True) as folder:
        yield Path(folder)


def _refuse_other_than_demo(config: Config) -> None:
    """Keep the demo out of a folder with real shows, or with anything else.

    Raises:
        ClickException: The folder is not a demo's.
    """
    folder = DataFolder(config.data_dir)
    folder.create()
    if folder.is_empty():
        return
    refusal = click.ClickException(f"{config.data_dir} is neither empty nor a demo's folder: choose another.")
    if not folder.key_path.exists():
        raise refusal
    storage, shows = open_shows(config, may_write=False)
    entries = shows.entries()
    storage.close()
    if not entries or not all(entry.is_demo for entry in entries):
        raise refusal


def _demo_show(monreq: Monreq) -> Show:
    entries = monreq.shows.entries()
    if not all(entry.is_demo for entry in entries):  # a database elsewhere, which the folder tells nothing of
        raise click.ClickException(
            "This database holds shows that are no demo's: give the demo one of its own."
        )
    show = newest_open_show(monreq) if any(entry.is_open for entry in entries) else None
    if show is None or _was_cut_off(show):
        show = begin(monreq.shows, new_show_id())
    if show.band == demo_band.ID:
        demo_band.store(monreq.bands, show)
    return show


def _was_cut_off(show: Show) -> bool:
    """Whether its setting up was ended by a kill: the mark is set last."""
    return show.name == demo_show.NAME and show.mark is None


def begin(shows: Shows, show_id: str) -> Show:
    """Set the demo's evening up, as far as the end of its soundcheck."""
    shows.open(show_id, demo_show.opening())
    for command in demo_show.set_up():
        shows.submit(show_id, command)
    for ask in demo_show.soundcheck_asks():
        asked = shows.submit(show_id, ask).recorded[0].event
        if isinstance(asked, ChangeAsked):
            shows.submit(show_id, Answer((asked.request,), Outcome.DONE))
    for reading in demo_show.readings():
        shows.submit(show_id, reading)
    return shows.submit(show_id, MarkSoundcheck()).show
