"""QR codes: from a text to modules, to an inline picture for a page, and what a join text says."""

import html
from collections.abc import Iterator
from itertools import groupby
from typing import Final, NamedTuple

from qrcode import QRCode
from qrcode.constants import ERROR_CORRECT_M
from qrcode.exceptions import DataOverflowError
from qrcode.util import QRData

QUIET_ZONE = 4
"""Clear modules on each side of a symbol.

References:
    "According to the standard this area should be four modules wide":
    pythonhosted.org/PyQRCode/glossary.html
"""

Modules = tuple[tuple[bool, ...], ...]
"""The rows of a symbol without its quiet zone; True is dark."""

_ESCAPED = frozenset('\\;,":')
_LAST_VERSION = 40
_BYTE_MODE: Final = 4


class TextTooLongError(ValueError):
    """The text does not fit into the largest code there is."""


class Run(NamedTuple):
    """Dark modules next to one another in a row, counted from the symbol's top left corner."""

    x: int
    y: int
    length: int


def modules(text: str) -> Modules:
    """Draws a text as the smallest QR symbol that holds it at error level M (about 15 %).

    Args:
        text: Any text; it is coded in byte mode as UTF-8.

    Raises:
        TextTooLongError: The text needs more than 2331 bytes, which is what version 40 holds.
    """
    code = QRCode(error_correction=ERROR_CORRECT_M, border=0)
    code.add_data(QRData(text.encode(), mode=_BYTE_MODE))
    try:
        code.make(fit=True)
    except (DataOverflowError, ValueError) as error:
        message = f"no code up to version {_LAST_VERSION} holds {len(text.encode())} bytes"
        raise TextTooLongError(message) from error
    return tuple(tuple(bool(dark) for dark in row) for row in code.modules)


def dark_runs(symbol: Modules) -> Iterator[Run]:
    """Joins the dark modules of each row, so that no hairline shows between neighbours."""
    for y, row in enumerate(symbol):
        x = 0
        for is_dark, group in groupby(row):
            length = len(tuple(group))
            if is_dark:
                yield Run(x, y, length)
            x += length


def svg(text: str, label: str) -> str:
    """Draws a text as a picture to stand in a page: dark on white under every theme.

    Args:
        text: What a phone reads.
        label: What a screen reader says in its place.

    Raises:
        TextTooLongError: See `modules`.
    """
    symbol = modules(text)
    side = len(symbol) + 2 * QUIET_ZONE
    path = "".join(
        f"M{run.x + QUIET_ZONE} {run.y + QUIET_ZONE}h{run.length}v1h-{run.length}z"
        for run in dark_runs(symbol)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {side} {side}" role="img"'
        f' aria-label="{html.escape(label)}" shape-rendering="crispEdges">'
        f'<rect width="{side}" height="{side}" fill="#fff"/>'
        f'<path fill="#000" d="{path}"/></svg>'
    )


def wifi_join_text(network: str, password: str, *, hidden: bool = False) -> str:
    r"""Says in a code's words how to join a Wi-Fi.

    The older, common form, which escapes by a backslash; the newer one encodes by percent signs.
    `misread_characters` tells where the two differ.

    Args:
        network: The network's name.
        password: Empty for an open network.
        hidden: Whether the network keeps its name to itself.

    References:
        Fields and their order: WPA3 Specification, section 7.1, ABNF as quoted at
        stevetech-me.pages.dev/posts/wifi-qr-codes-are-broken (type is absent for open networks).
        Escaping ``\ ; , " :``: zerotool.dev/blog/wifi-qr-code-generator-guide and
        docs.rs/qrcode-parse, module wifi.
    """
    fields = [("T", "WPA")] if password else []
    fields.append(("S", _escape(network)))
    if hidden:
        fields.append(("H", "true"))
    if password:
        fields.append(("P", _escape(password)))
    return "WIFI:" + "".join(f"{key}:{value};" for key, value in fields) + ";"


def misread_characters(text: str) -> tuple[str, ...]:
    r"""Names the characters of a network's name or password that some phones read wrongly.

    These are the characters that the two forms of a join text write differently:
    ``\ ; , " :`` and ``%``, and what is no printable ASCII character.

    Returns:
        Each such character once, in the order met; empty if every phone reads the text alike.

    References:
        WPA3 Specification, section 7.1: printable is %x20-3A / %x3C-7E, others are percent-encoded
        (as quoted at stevetech-me.pages.dev/posts/wifi-qr-codes-are-broken); the older form escapes
        by a backslash (zerotool.dev/blog/wifi-qr-code-generator-guide).
    """
    return tuple(dict.fromkeys(char for char in text if _is_misread(char)))


def _is_misread(char: str) -> bool:
    return char in _ESCAPED or char == "%" or not " " <= char <= "~"


def _escape(value: str) -> str:
    return "".join(f"\\{char}" if char in _ESCAPED else char for char in value)
