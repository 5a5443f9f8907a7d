"""Reads what is printed, with readers that share nothing with the code that draws it."""

import random
import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from functools import cache

import pypdfium2
import zxingcpp
from PIL import Image, ImageFilter

_SVG = "{http://www.w3.org/2000/svg}"
_QR_CODES = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
_RUN = re.compile(r"M(\d+) (\d+)h(\d+)v1h-(\d+)z")


@dataclass(frozen=True)
class PrintedCode:
    """A code found on a page: what it says and where its symbol stands, in millimetres."""

    text: str
    x: float
    y: float
    side: float


def codes_in(picture: Image.Image) -> list[str]:
    """Reads every QR code in a picture."""
    return [found.text for found in _read(picture)]


def codes_on(page: Image.Image, pixels_per_mm: float) -> list[PrintedCode]:
    """Reads every QR code on a page, in reading order."""
    found = [
        PrintedCode(
            text=code.text,
            x=code.position.top_left.x / pixels_per_mm,
            y=code.position.top_left.y / pixels_per_mm,
            side=(code.position.top_right.x - code.position.top_left.x) / pixels_per_mm,
        )
        for code in _read(page)
    ]
    return sorted(found, key=lambda code: (round(code.y / 50), code.x))


def page_texts(pdf: bytes) -> list[str]:
    """Extracts the words of each page."""
    with pypdfium2.PdfDocument(pdf) as document:
        return [page.get_textpage().get_text_range() for page in document]


def places_of(words: str, pdf: bytes) -> list[tuple[float, float]]:
    """Tells how far from the first page's bottom each find of the words starts and ends. [mm]"""
    with pypdfium2.PdfDocument(pdf) as document:
        text = document[0].get_textpage()
        search = text.search(words, match_case=True)
        finds = iter(search.get_next, None)
        boxes = [[text.get_charbox(i) for i in range(at, at + n)] for at, n in finds]
    return [
        (min(box[1] for box in find) * 25.4 / 72, max(box[3] for box in find) * 25.4 / 72) for find in boxes
    ]


def texts_off_the_page(pdf: bytes) -> list[tuple[int, str]]:
    """Tell which characters reach over an edge, by page."""
    off = []
    with pypdfium2.PdfDocument(pdf) as document:
        for number, page in enumerate(document):
            width, height = page.get_size()
            text = page.get_textpage()
            for place in range(text.count_chars()):
                left, bottom, right, top = text.get_charbox(place)
                if left < 0 or bottom < 0 or right > width or top > height:
                    off.append((number, text.get_text_range(place, 1)))
    return off


@cache
def page_pictures(pdf: bytes, pixels_per_mm: float) -> list[Image.Image]:
    """Renders each page."""
    with pypdfium2.PdfDocument(pdf) as document:
        scale = pixels_per_mm * 25.4 / 72
        return [page.render(scale=scale).to_pil().convert("L") for page in document]


def picture_of_svg(svg: str, pixels_per_module: int) -> Image.Image:
    """Paints the runs of a code's SVG, dark on white."""
    root = ET.fromstring(svg)  # noqa: S314 -- the project's own markup
    side = int(root.attrib["viewBox"].split()[2])
    picture = Image.new("L", (side, side), 255)
    path = root.find(f"{_SVG}path")
    assert path is not None
    for x, y, length, _ in _RUN.findall(path.attrib["d"]):
        picture.paste(0, (int(x), int(y), int(x) + int(length), int(y) + 1))
    return picture.resize((side * pixels_per_module,) * 2, Image.Resampling.NEAREST)


def in_poor_light(picture: Image.Image) -> Image.Image:
    """Makes a picture soft, low in contrast and grainy, as one taken in the dark.

    chosen: about a third of the full contrast, and grain of half of what is left. At four
    pixels for a module this is well below what a phone sees at an arm's length.
    """
    soft = picture.filter(ImageFilter.GaussianBlur(1.0))
    chance = random.Random(7)
    pixels = [70 + value * 80 // 255 + chance.randint(-20, 20) for value in soft.tobytes()]
    return Image.frombytes("L", soft.size, bytes(pixels))


def _read(picture: Image.Image) -> list[zxingcpp.Barcode]:
    return list(zxingcpp.read_barcodes(picture, formats=_QR_CODES))
