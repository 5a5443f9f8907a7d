"""The shape of what /reckoning tells, and how figures stand there; the figures themselves come from the domain."""

import re
from dataclasses import dataclass

from monreq.web.speech import MINUS, N_, decimal, language

_HYPHEN_AS_MINUS = re.compile(r"(?<!\w)-")
_BETWEEN_WORDS = re.compile(r"[=+·/()^;,]|\d+|\N{MINUS SIGN}")
CHOSEN = N_("Chosen by those who wrote monreq.")
COMMON_PRACTICE = N_("Common practice, no source.")
_LEFT_TO_RIGHT = "\N{LEFT-TO-RIGHT MARK}"


@dataclass(frozen=True, slots=True)
class Reckoned:
    """One thing that monreq works out.

    Attributes:
        anchor: Where links lead to it.
        says: What it is for, in plain words.
        formulas: How it is worked out.
        examples: Worked by the program itself, when the page is drawn.
        rests_on: What is assumed or typed in.
        mind: What it must not be taken for, and what to take care of.
        sources: Where the formula stands, or who chose a value.
    """

    anchor: str
    title: str
    says: str
    formulas: tuple[str, ...]
    examples: tuple[str, ...]
    rests_on: tuple[str, ...]
    mind: tuple[str, ...]
    sources: tuple[str, ...] = ()

    @property
    def typeset(self) -> tuple[str, ...]:
        """The formulas with true minus signs, written from the left in every language."""
        lines = tuple(_HYPHEN_AS_MINUS.sub(MINUS, line) for line in self.formulas)
        return lines if language().direction == "ltr" else tuple(map(_from_left, lines))


def _from_left(line: str) -> str:
    """Keep the words and figures of a formula apart: side by side they would be taken for one line from the right."""
    return _BETWEEN_WORDS.sub(lambda found: f"{_LEFT_TO_RIGHT}{found[0]}{_LEFT_TO_RIGHT}", line)


def db(value: float) -> str:
    """Return a change in dB with its sign and one decimal: +3.0 dB, with a true minus and the language's decimal mark."""
    rounded = round(value, 1)
    sign = "+" if rounded > 0 else MINUS if rounded < 0 else ""
    return f"{sign}{decimal(f'{abs(rounded):.1f}')} dB"


def plain(value: float, decimals: int = 1) -> str:
    """Return a figure without a needless end: 3, 85, 2.5, 16.61, with a true minus and the language's mark."""
    text = f"{abs(value):.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"{MINUS if value < 0 and text != '0' else ''}{decimal(text)}"
