"""The shape of what /reckoning tells, and how figures stand there; the figures themselves come from the domain."""

import re
from dataclasses import dataclass

from monreq.web.speech import MINUS

_HYPHEN_AS_MINUS = re.compile(r"(?<![A-Za-z])-")


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
    mind: str
    sources: tuple[str, ...] = ()

    @property
    def typeset(self) -> tuple[str, ...]:
        """The formulas with true minus signs."""
        return tuple(_HYPHEN_AS_MINUS.sub(MINUS, line) for line in self.formulas)


def db(value: float) -> str:
    """Return a change in dB with its sign and one decimal: +3.0 dB, with a true minus."""
    rounded = round(value, 1)
    sign = "+" if rounded > 0 else MINUS if rounded < 0 else ""
    return f"{sign}{abs(rounded):.1f} dB"


def plain(value: float, decimals: int = 1) -> str:
    """Return a figure without a needless end: 3, 85, 2.5, 16.61, with a true minus."""
    text = f"{abs(value):.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"{MINUS if value < 0 and text != '0' else ''}{text}"
