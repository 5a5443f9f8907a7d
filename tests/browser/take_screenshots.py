"""Takes the pictures of docs/screens: starts the demo, makes a lively moment and looks at it in a browser.

    python tests/browser/take_screenshots.py [FOLDER]

Chromium is the one that MONREQ_TEST_CHROMIUM names, or the one on the path. Only invented names and addresses
that belong to nobody are to be seen.
"""

import io
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

import click
import pypdfium2
import requests
from PIL import Image
from playwright.sync_api import Browser, Page, ViewportSize, sync_playwright

ROOT = Path(__file__).resolve().parents[2]
PATIENCE_S = 30.0
SCREENS = ROOT / "docs" / "screens"
LARGEST_BYTES = 150_000
DESK: ViewportSize = {"width": 1440, "height": 900}
PHONE: ViewportSize = {"width": 390, "height": 844}
ADDRESS = "192.0.2.7:8330"  # RFC 5737: nobody's
FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
MIXES = 6
SONG_MS = 65_000  # chosen: ages other than "now" are to be seen

Scheme = Literal["dark", "light"]
_SCHEMES: Mapping[str, Scheme] = {"phone": "dark", "phone-light": "light"}


@dataclass(frozen=True)
class Demo:
    """A running demo: where it is, and the token of the desk and of each mix by its name."""

    url: str
    tokens: Mapping[str, str]

    def call(self, who: str, path: str, **body: object) -> Any:
        """Ask the JSON interface for something, as a phone or as the desk."""
        headers = {"Authorization": f"Bearer {self.tokens[who]}"}
        answer = requests.post(f"{self.url}/api/v1/{path}", json=body, headers=headers, timeout=PATIENCE_S)
        answer.raise_for_status()
        return answer.json()

    def ask(self, name: str, mix: str, musician: str, **wish: object) -> str:
        """Ask for something on a phone; returns the request's id."""
        return str(
            self.call(
                name, f"mixes/{mix}/requests", musician=musician, client_id=os.urandom(8).hex(), **wish
            )["request"]
        )

    def decide(self, *requests: str, outcome: str = "done", **how: object) -> None:
        """Answer a row at the desk."""
        self.call("desk", "decisions", requests=requests, outcome=outcome, **how)


@contextmanager
def demo(folder: Path) -> Iterator[Demo]:
    """Run the demo, without simulated phones, on a port that is free."""
    command = [sys.executable, "-m", "monreq.cli", "demo", "--still", "--no-browser"]
    options = ["--host", "127.0.0.1", "--port", "0", "--address", ADDRESS, "--data", str(folder)]
    with subprocess.Popen([*command, *options], cwd=ROOT, stdout=subprocess.PIPE, text=True) as process:
        try:
            assert process.stdout is not None
            lines = [process.stdout.readline().strip() for _ in range(1 + MIXES)]
            links = dict(line.removeprefix("phone ").rsplit(": ", 1) for line in lines)
            url = re.sub(r"/j/.*", "", links["desk"])
            yield Demo(url, {name: link.rsplit("/", 1)[1] for name, link in links.items()})
        finally:
            process.terminate()


def before_the_pages_open(show: Demo) -> None:
    """What was answered since the soundcheck."""
    show.decide(show.ask("Lead voice", "lead", "lead", kind="level", source="gvoice", change_db=3), done_db=3)
    show.decide(show.ask("Drums", "drums", "drums", kind="level", source="lead", change_db=-2), done_db=-2)
    show.decide(show.ask("Drums", "drums", "drums", kind="pan", source="accord", change_pan=-0.2))
    show.decide(
        show.ask("Accordion", "accord", "accord", kind="level", source="lead", change_db=3), done_db=3
    )
    voice = show.ask("Bass", "bass", "bass", kind="level", source="lead", change_db=6)
    show.decide(voice, done_db=4, reason="near_feedback")
    trumpet = show.ask("Bass", "bass", "bass", kind="level", source="trumpet", change_db=3)
    show.decide(trumpet, outcome="not_done", reason="after_this_song")


def while_the_song_runs(show: Demo) -> None:
    """What comes in and waits: several asks, and two who disagree."""
    show.ask("Bass", "bass", "bass", kind="level", source="kick", change_db=3)
    show.ask("Bass", "bass", "bass", kind="level", source="kick", change_db=3)
    show.ask("Horns", "horns", "trumpet", kind="level", source="trumpet", change_db=3)
    show.ask("Horns", "horns", "sax", kind="level", source="trumpet", change_db=-3)
    show.ask("Lead voice", "lead", "lead", kind="level", source="lead", change_db=3)


def in_the_gap(show: Demo) -> None:
    """What comes in last: a word on the sound, something set aside, a call."""
    show.ask("Guitar", "guitar", "guitar", kind="sound", source="accord", words="muddy")
    show.ask("Drums", "drums", "drums", kind="level", source="click", change_db=1)
    guitar = show.ask("Drums", "drums", "drums", kind="pan", source="guitar", change_pan=0.2)
    show.decide(guitar, outcome="set_aside")
    show.ask("Accordion", "accord", "accord", kind="call", source=None, call="hurts")


def take_pictures(browser: Browser, show: Demo, folder: Path) -> None:
    """Open every page in its turn and keep how it looks."""
    before_the_pages_open(show)
    desk = admitted(browser, show, "desk", DESK)
    phones = {name: admitted(browser, show, "Bass", PHONE, scheme) for name, scheme in _SCHEMES.items()}
    who = opened(browser, show, "Horns", PHONE)
    keep(who, folder / "who.png")
    while_the_song_runs(show)
    desk.wait_for_timeout(SONG_MS)
    in_the_gap(show)
    desk.wait_for_selector("text=HURTS")
    desk.wait_for_timeout(1500)
    keep(desk, folder / "desk.png")
    for name, phone in phones.items():
        phone.wait_for_selector("text=+6")
        keep(phone, folder / f"{name}.png")
    for name, path in {"mix": "desk/mix/drums", "prepare": "desk/prepare"}.items():
        desk.goto(f"{show.url}/{path}")
        keep(desk, folder / f"{name}.png")
    take_pictures_of_codes(desk, show, folder)


def take_pictures_of_codes(desk: Page, show: Demo, folder: Path) -> None:
    """Enter a Wi-Fi, and keep the page of codes and a printed card."""
    desk.goto(f"{show.url}/desk/codes")
    desk.fill("[name=network]", "Otterfold stage")
    desk.fill("[name=password]", "matches-and-rain")
    desk.click("text=put it on the cards")
    keep(desk, folder / "codes.png")
    pdf = desk.request.get(f"{show.url}/desk/codes/cards.pdf").body()
    save(card_of(pdf), folder / "card.png")


def opened(browser: Browser, show: Demo, name: str, size: ViewportSize, scheme: Scheme = "dark") -> Page:
    """Scan a code in a browser that was never here."""
    context = browser.new_context(viewport=size, color_scheme=scheme)
    page = context.new_page()
    page.goto(f"{show.url}/j/{show.tokens[name]}")
    return page


def admitted(browser: Browser, show: Demo, name: str, size: ViewportSize, scheme: Scheme = "dark") -> Page:
    """Scan a code and confirm it."""
    page = opened(browser, show, name, size, scheme)
    page.click("button.go")
    page.wait_for_selector("form[data-live]", state="attached")
    return page


def keep(page: Page, path: Path) -> None:
    """Keep what a page shows, without a blinking cursor."""
    page.bring_to_front()  # a page that has lain behind another for long draws nothing
    save(Image.open(io.BytesIO(page.screenshot(animations="disabled", caret="hide"))), path)


def card_of(pdf: bytes) -> Image.Image:
    """Return the upper half of the first sheet."""
    with pypdfium2.PdfDocument(pdf) as document:
        sheet: Image.Image = document[0].render(scale=1.6).to_pil()
    return sheet.crop((0, 0, sheet.width, sheet.height // 2))


def save(picture: Image.Image, path: Path) -> None:
    """Write a picture in as few colours as it needs to look the same.

    Raises:
        ClickException: It is still too large for a repository.
    """
    picture.convert("RGB").quantize(64, dither=Image.Dither.NONE).save(path, optimize=True)
    if path.stat().st_size > LARGEST_BYTES:
        raise click.ClickException(f"{path} has {path.stat().st_size} bytes, more than {LARGEST_BYTES}.")


def chromium() -> str:
    """Return the browser's program.

    Raises:
        ClickException: There is none.
    """
    found = (
        os.environ.get("MONREQ_TEST_CHROMIUM") or shutil.which("chromium") or shutil.which("chromium-browser")
    )
    if not found:
        raise click.ClickException("There is no Chromium: install it, or name it in MONREQ_TEST_CHROMIUM.")
    return found


@click.command()
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path), default=SCREENS)
def main(folder: Path) -> None:
    """Take every picture anew."""
    folder.mkdir(parents=True, exist_ok=True)
    with (
        tempfile.TemporaryDirectory(prefix="monreq-screens-") as data,
        demo(Path(data)) as show,
        sync_playwright() as playwright,
    ):
        browser = playwright.chromium.launch(executable_path=chromium(), args=FLAGS)
        take_pictures(browser, show, folder)
        browser.close()
    for path in sorted(folder.glob("*.png")):
        click.echo(f"{path.stat().st_size // 1000:4} kB {path.name}")


if __name__ == "__main__":
    main()
