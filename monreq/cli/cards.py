"""`monreq cards`: the cards with codes, as a PDF to print."""

from pathlib import Path

import click

from monreq.app import open_shows
from monreq.cli.options import (
    address_option,
    chosen_show,
    data_option,
    settings,
    show_option,
    told_in_one_line,
)
from monreq.printed import Printing
from monreq.storage.folder import DataFolder
from monreq.upkeep import SERVED_AT
from monreq.web.addresses import base_url, lan_addresses


@click.command(epilog="Example: monreq cards cards.pdf")
@click.argument("out", metavar="OUT.pdf", type=click.Path(dir_okay=False, path_type=Path))
@data_option
@show_option
@address_option
def cards(out: Path, data_dir: Path | None, show_id: str | None, address: str | None) -> None:
    """Write a card for every musician: join the Wi-Fi, open your mix.

    The codes carry the address that monreq was last served at, if no other is given.
    """
    with told_in_one_line():
        config = settings(data_dir=data_dir, address=address)
        key = DataFolder(config.data_dir).read_key()
        storage, shows = open_shows(config, may_write=False)
        try:
            show = chosen_show(shows, show_id)
            if not show.mixes:
                raise click.ClickException(f"The show {show.name!r} has no mixes yet: prepare it first.")
            served_at = None if config.address else storage.settings.get(SERVED_AT)
            url = served_at or base_url(config.host, config.port, config.address, lan_addresses())
            pdf = Printing(storage.settings, key, lambda: url).cards_pdf(show)
            write(out, pdf)
        finally:
            storage.close()
    click.echo(f"{len(show.mixes)} mixes, codes to {url}: {out}")


def write(out: Path, content: bytes) -> None:
    """Write a file.

    Raises:
        ClickException: Why it cannot be written.
    """
    try:
        out.write_bytes(content)
    except OSError as failed:
        raise click.ClickException(f"{out} cannot be written: {failed.strerror}.") from failed
