"""Takes the pictures of docs/screens: starts the demo, makes a lively moment and looks at it in a browser.

Every screen is taken in the dark and, under a name that ends in -light, as it is in daylight.

    python -m tests.browser.take_screenshots [FOLDER]

Chromium is the one that MONREQ_TEST_CHROMIUM names, or the one on the path. Only invented names and addresses
that belong to nobody are to be seen.
"""

import io
import os
import shutil
import tempfile
from collections.abc import Mapping
from importlib.resources import files
from pathlib import Path
from typing import Literal
from urllib.parse import parse_qsl, urlencode, urlsplit

import click
import pypdfium2
from PIL import Image
from playwright.sync_api import Browser, Page, ViewportSize, sync_playwright

from monreq.web.screens import CHOOSING
from tests.browser.screen_show import ROOT, Demo, before_the_pages_open, demo, in_the_gap, while_the_song_runs

SCREENS = ROOT / "docs" / "screens"
LARGEST_BYTES = 150_000
DESK: ViewportSize = {"width": 1440, "height": 900}
PHONE: ViewportSize = {"width": 390, "height": 844}
TABLET: ViewportSize = {"width": 800, "height": 1280}
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
SETTLED_MS = 1500  # chosen: its live connection is open, and what moved has come to rest
TOLD_MS = 3000  # chosen: who is there is told every two seconds
SONG_MS = 65_000  # chosen: ages other than "now" are to be seen

Scheme = Literal["dark", "light"]
_ENDINGS: Mapping[Scheme, str] = {"dark": "", "light": "-light"}
_FROM_THE_DESK = ("/desk", "/reckoning")
_DESK_PAGES = {
    "mix": "desk/mix/drums",
    "mix-wedge": "desk/mix/lead",
    "prepare": "desk/prepare",
    "songs": "desk/songs",
    "kept": "desk/kept",
    "afterwards": "desk/afterwards",
    "bands": "desk/books",
    "sheets": "desk/sheets",
    "reckoning": "reckoning",
}


def take_pictures(browser: Browser, show: Demo, folder: Path) -> None:
    """Open every page in its turn and keep how it looks."""
    before_the_pages_open(show)
    desk = admitted(browser, show, "desk", DESK)
    phone = admitted(browser, show, "Bass", PHONE)
    keep(opened(browser, show, "Horns", PHONE), folder / "who.png")
    desk.keyboard.press("g")
    while_the_song_runs(show)
    desk.wait_for_timeout(SONG_MS)
    keep(desk, folder / "desk-song.png")
    desk.keyboard.press("g")
    in_the_gap(show)
    desk.wait_for_selector("text=HURTS")
    keep(desk, folder / "desk.png")
    phone.wait_for_selector("text=Kick: waiting")
    keep(phone, folder / "phone.png")
    take_pictures_in_other_languages(browser, show, folder)
    take_pictures_of_a_phone(phone, desk, folder)
    take_pictures_of_the_desk(desk, show, folder)
    take_pictures_of_codes(desk, show, folder)


def take_pictures_of_a_phone(phone: Page, desk: Page, folder: Path) -> None:
    """Open a group, hear from the desk, call the desk."""
    phone.locator(".group summary.tape").first.click()
    keep(phone, folder / "phone-group.png")
    desk.get_by_role("button", name="two minutes", exact=True).click()
    phone.wait_for_selector("#told :text('two minutes')")
    phone.get_by_text("Call the desk").click()
    keep(phone, folder / "phone-note.png")


def take_pictures_in_other_languages(browser: Browser, show: Demo, folder: Path) -> None:
    """Look at a phone from right to left, and at one in other letters whose call is not answered yet."""
    for code, mix in {"ar": "Drums", "ja": "Accordion"}.items():
        keep(admitted(browser, show, mix, PHONE, language=code), folder / f"phone-{code}.png")


def take_pictures_of_the_desk(desk: Page, show: Demo, folder: Path) -> None:
    """Go through the desk's other pages."""
    for name, path in _DESK_PAGES.items():
        desk.goto(f"{show.url}/{path}")
        keep(desk, folder / f"{name}.png")
    desk.goto(f"{show.url}/desk/prepare")
    keep(desk, folder / "stage-plan.png", part=".stage-plan")
    desk.goto(f"{show.url}/desk/kept")
    desk.locator("table.kept a").first.click()
    keep(desk, folder / "kept-mix.png")
    desk.goto(f"{show.url}/desk/books")
    desk.click("text=open in this show")
    keep(desk, folder / "band-opened.png")
    desk.goto(f"{show.url}/language?back=/desk")
    keep(desk, folder / "colours.png")


def take_pictures_of_codes(desk: Page, show: Demo, folder: Path) -> None:
    """Enter a Wi-Fi; keep the page of codes, a printed card, and what the tablet's code opens."""
    desk.goto(f"{show.url}/desk/codes")
    desk.fill("[name=network]", "Otterfold stage")
    desk.fill("[name=password]", "matches-and-rain")
    desk.click("text=put it on the cards")
    keep(desk, folder / "codes.png")
    pdf = desk.request.get(f"{show.url}/desk/codes/cards.pdf").body()
    save(card_of(pdf), folder / "card.png")
    path = str(desk.locator("a[href*='/tablet/open/']").get_attribute("href")).partition("/tablet/")[2]
    tablet = desk.context.browser.new_context(viewport=TABLET).new_page()  # type: ignore[union-attr]
    tablet.goto(f"{show.url}/tablet/{path}")
    tablet.click("form button")
    tablet.wait_for_selector(".face")
    keep(tablet, folder / "tablet.png")


def opened(browser: Browser, show: Demo, name: str, size: ViewportSize, *, language: str = "en") -> Page:
    """Scan a code in a browser that was never here."""
    context = browser.new_context(viewport=size, locale=language)
    page = context.new_page()
    page.goto(f"{show.url}/j/{show.tokens[name]}")
    return page


def admitted(browser: Browser, show: Demo, name: str, size: ViewportSize, *, language: str = "en") -> Page:
    """Scan a code and confirm it."""
    page = opened(browser, show, name, size, language=language)
    page.click("button.go")
    page.wait_for_selector("form[data-live]", state="attached")
    return page


def keep(page: Page, path: Path, *, part: str = "") -> None:
    """Keep what a page shows, or one part of it, in both colours, without a blinking cursor."""
    page.bring_to_front()  # a page that has lain behind another for long draws nothing
    for scheme, ending in _ENDINGS.items():
        colour(page, scheme)
        shown = page.locator(part).first if part else page
        taken = shown.screenshot(animations="disabled", caret="hide")
        save(Image.open(io.BytesIO(taken)), path.with_stem(path.stem + ending))


def colour(page: Page, scheme: Scheme) -> None:
    """Set a phone to dark or light; at the desk, choose."""
    page.emulate_media(color_scheme=scheme)
    here = urlsplit(page.url)
    if here.path == CHOOSING:
        back = dict(parse_qsl(here.query))["back"]
    elif here.path.startswith(_FROM_THE_DESK):
        back = page.url.removeprefix(f"{here.scheme}://{here.netloc}")
    else:
        page.wait_for_timeout(SETTLED_MS)
        return
    stood = page.evaluate("scrollY")
    page.goto(f"{here.scheme}://{here.netloc}{CHOOSING}?{urlencode({'back': back})}")
    page.locator(f"button[value={scheme}]").click()
    page.goto(here.geturl())
    page.evaluate(f"scrollTo(0, {stood})")
    page.wait_for_timeout(TOLD_MS)
    # The page that was left is taken for another desk for a moment.
    page.locator("[data-elsewhere]").first.wait_for(state="detached")


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


def fonts(folder: Path) -> Path:
    """Write where the browser finds letters: the machine's, and those that monreq prints with."""
    ours = [files(name) for name in ("noto_cjk_sans_jp_regular", "manimgx_fonts")]
    path = folder / "fonts.conf"
    path.write_text(
        '<?xml version="1.0"?><fontconfig><include ignore_missing="yes">/etc/fonts/fonts.conf</include>'
        + "".join(f"<dir>{one}</dir>" for one in ours)
        + "</fontconfig>"
    )
    return path


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
        letters = {"FONTCONFIG_FILE": str(fonts(Path(data)))}
        browser = playwright.chromium.launch(
            executable_path=chromium(), args=FLAGS, env={**os.environ, **letters}
        )
        take_pictures(browser, show, folder)
        browser.close()
    for path in sorted(folder.glob("*.png")):
        click.echo(f"{path.stat().st_size // 1000:4} kB {path.name}")


if __name__ == "__main__":
    main()
