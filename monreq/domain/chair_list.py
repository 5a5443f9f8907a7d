"""Who plays, as somebody typed or pasted it: a chair a line, with how it is heard."""

import re
from dataclasses import dataclass
from typing import Final

from monreq.domain.input_list import NothingListed, check_once, lines_of, read_name
from monreq.domain.input_words import words_of
from monreq.domain.setup import Output

# What people write in the languages of the pages; common practice, no source.
_IN_EARS: Final = re.compile(
    r"(?:paire\s+d.)?in-?\s?ears?(?:\s+pair)?|ears?|iems?|oreillettes|インイヤー|イヤモニ|سماعات أذن",
    re.IGNORECASE,
)
_WEDGE: Final = re.compile(
    r"(?:floor\s+)?wedge|floor|monitor|bodenmonitor|retours?|bains?\s+de\s+pieds?|cuña"
    r"|ウェッジ|コロガシ|ころがし|転がし|返し|سماعة أرضية",
    re.IGNORECASE,
)
_COMMA: Final = re.compile(r"[,\N{ARABIC COMMA}\N{IDEOGRAPHIC COMMA}\N{FULLWIDTH COMMA}]")
_COLON: Final = re.compile(r"\s*[:\N{FULLWIDTH COLON}]\s*")
_PLUS: Final = re.compile(r"[+\N{FULLWIDTH PLUS SIGN}]")
_VOICE: Final = {
    "voice", "vox", "vocal", "vocals", "singer", "gesang", "stimme", "voz", "voix", "chant", "ボーカル", "المغني",
}  # fmt: skip
_FIRST: Final = {"lead", "principal", "الرئيسي"}
_LEAD: Final = {"leadgesang", "リードボーカル"}


@dataclass(frozen=True, slots=True)
class ListedChair:
    """A chair, and who sits on it.

    Attributes:
        name: Who; what is played, where no name was given.
        chair: What is played; empty where only a name was given.
    """

    name: str
    chair: str
    is_lead: bool


@dataclass(frozen=True, slots=True)
class ListedMix:
    """A line: the chairs that hear one mix.

    Attributes:
        place: Where on stage, in words; may be empty.
    """

    chairs: tuple[ListedChair, ...]
    output: Output
    place: str

    @property
    def name(self) -> str:
        """What the mix is called: as its chairs are."""
        return " + ".join(one.chair or one.name for one in self.chairs)


def read_chair_list(text: str) -> list[ListedMix]:
    """Read who plays: `Bass: Ada, wedge, back left`, or `Trumpet + Saxophone, in-ears` for one mix of two.

    Behind the first comma stand, in any order, how it is heard and where on stage. A wedge is taken where nothing is
    said.

    Raises:
        NothingListed: It has no line with a name.
        TooManyListed: It has too many lines.
        ListedTwice: Two chairs have one name.
        LineNotRead: A name is empty or too long.
    """
    listed = [_read(number, line) for number, line in lines_of(text)]
    if not listed:
        raise NothingListed
    check_once(one.chair or one.name for mix in listed for one in mix.chairs)
    return listed


def _read(number: int, line: str) -> ListedMix:
    who, *said = (part.strip() for part in _COMMA.split(line))
    outputs = [output for part in said if (output := _output(part))]
    places = [part for part in said if part and not _output(part)]
    chairs = tuple(_chair(number, part) for part in _PLUS.split(who))
    return ListedMix(chairs, outputs[0] if outputs else Output.WEDGE, " ".join(places))


def _output(text: str) -> Output | None:
    if _IN_EARS.fullmatch(text):
        return Output.IN_EAR_PAIR
    return Output.WEDGE if _WEDGE.fullmatch(text) else None


def _chair(number: int, text: str) -> ListedChair:
    chair, *names = _COLON.split(text.strip(), maxsplit=1)
    words = words_of(chair)
    is_lead = bool(words & _LEAD) or bool(words & _VOICE and words & _FIRST)
    if not names:
        return ListedChair(read_name(number, chair), "", is_lead)
    return ListedChair(read_name(number, names[0]), read_name(number, chair), is_lead)
