"""`monreq book`: a band goes out of the data folder into a file, and comes into another."""

from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import click

from monreq.app import bands_of, now_ms, open_shows
from monreq.books.read import read_book
from monreq.books.write import write_book
from monreq.cli.options import data_option, settings, told_in_one_line
from monreq.domain.band import Band
from monreq.domain.carry_matching import comparable
from monreq.services.bands import Bands
from monreq.storage.folder import DataFolder


@click.group()
def book() -> None:
    """Carry a band on a USB stick: its line-up, groups, songs and kept mixes in one file."""


@book.command("export", epilog="Example: monreq book export band.json")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--band", "name", metavar="NAME", help="Which band, by name or id, if there are several.")
@data_option
def export_book(file: Path, *, name: str | None, data_dir: Path | None) -> None:
    """Write a band's book into FILE; works while a server runs. It holds no codes and no passphrases."""
    with told_in_one_line():
        storage, _ = open_shows(settings(data_dir=data_dir), may_write=False)
        try:
            band = _chosen(bands_of(storage), name)
        finally:
            storage.close()
        _write(file, write_book(band, now_ms()))
    click.echo(f"{_counted(band)}: {file}")


@book.command("import", epilog="Example: monreq book import band.json")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option(
    "--replace",
    "may_replace",
    is_flag=True,
    help="Put the book in the place of this band's evenings here. To merge both, open the book on the desk's page.",
)
@data_option
def import_book(file: Path, *, may_replace: bool, data_dir: Path | None) -> None:
    """Take the band in FILE into the data folder, with its ids and order. No server may use the folder meanwhile."""
    with told_in_one_line():
        band = _read(file)
        config = settings(data_dir=data_dir)
        folder = DataFolder(config.data_dir)
        folder.create()
        with folder.hold():
            storage, _ = open_shows(config, may_write=True)
            try:
                done = _take_in(bands_of(storage), band, may_replace=may_replace)
            finally:
                storage.close()
    click.echo(f"{_counted(band)}: {done}")


def _take_in(bands: Bands, band: Band, *, may_replace: bool) -> str:
    """Add a band, or replace the one that is here; returns what was done.

    Raises:
        ClickException: Another evening of this band is here, and it was not said what to do with it.
    """
    here = next((entry for entry in bands.entries() if entry.id == band.id), None)
    if here is None:
        bands.add(band)
        return "taken in."
    known = bands.get(here.id)
    if replace(known, revision=band.revision) == band:
        return "is here already, just like this."
    if not may_replace:
        raise click.ClickException(
            f"Another evening of {known.name} is here ({_counted(known)}). Say --replace to put this book in its"
            " place, or merge both on the desk's page of band books. Nothing was changed."
        )
    bands.put(band, here.revision)
    return f"put in the place of {_counted(known)}."


def _chosen(bands: Bands, name: str | None) -> Band:
    """Return the band that is meant: the named one, or the only one.

    Raises:
        ClickException: There is none, or none of this name, or several; it lists those there are.
    """
    entries = bands.entries()
    if name is not None:
        by_name = [entry for entry in entries if comparable(entry.name) == comparable(name)]
        chosen = [entry for entry in entries if entry.id == name] or by_name
    else:
        chosen = entries
    if len(chosen) != 1:
        there = ", ".join(f"{entry.name} ({entry.id})" for entry in entries) or "none"
        wrong = (
            f"no band {name!r} here" if name else "no band here" if not entries else "more than one band here"
        )
        which = " Say which by --band." if len(entries) > 1 else ""
        raise click.ClickException(f"There is {wrong}. Bands: {there}.{which}")
    return bands.get(chosen[0].id)


def _counted(band: Band) -> str:
    count = len(band.kept)
    return f"{band.name} with {count} kept {'mix' if count == 1 else 'mixes'}"


def _read(file: Path) -> Band:
    try:
        with file.open("rb") as content:
            return read_book(content)
    except OSError as failed:
        raise click.ClickException(f"{file} cannot be read: {failed.strerror}.") from failed


def _write(file: Path, content: bytes) -> None:
    """Write a file whole or not at all: a full stick leaves the book that was there.

    Raises:
        ClickException: Why it cannot be written.
    """
    part = file.with_name(f"{file.name}.part")
    try:
        part.write_bytes(content)
        part.replace(file)
    except OSError as failed:
        with suppress(OSError):
            part.unlink()
        raise click.ClickException(f"{file} cannot be written: {failed.strerror}.") from failed
