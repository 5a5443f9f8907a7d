"""`monreq sheets`: the input list, the stage plan and the mixes, as a PDF to print."""

from pathlib import Path

import click

from monreq.app import open_shows
from monreq.cli.cards import write
from monreq.cli.options import chosen_show, data_option, settings, show_option, told_in_one_line
from monreq.printed import show_sheets_pdf


@click.command(epilog="Example: monreq sheets sheets.pdf")
@click.argument("out", metavar="OUT.pdf", type=click.Path(dir_okay=False, path_type=Path))
@data_option
@show_option
def sheets(out: Path, data_dir: Path | None, show_id: str | None) -> None:
    """Write the input list, the stage plan and the sheets of all mixes."""
    with told_in_one_line():
        storage, shows = open_shows(settings(data_dir=data_dir), may_write=False)
        try:
            show = chosen_show(shows, show_id)
            write(out, show_sheets_pdf(show))
        finally:
            storage.close()
    click.echo(f"{show.name}: {out}")
