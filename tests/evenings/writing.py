"""What people write into fields: mostly what belongs there, now and then what nobody should."""

import random
from collections.abc import Mapping
from typing import Final

from tests.evenings.forms import Field, Form

ODD: Final = (
    "", " ", "0", "-0", "+", "@", "c", "999", "-999", "1e9", "nan", "+3,5", "\N{MINUS SIGN}4", "3 dB", "٣", "½",
    "<b>loud</b>", "{{ 7 * 7 }}", "%s %(x)s", "a" * 300, "\N{RIGHT-TO-LEFT OVERRIDE}abc", "\x00", "é\u0301" * 5,
    "🎸", "'; --", "../..", "\t\n",
)  # fmt: skip

_NAMES: Final = ("Ada", "Bo", "Cy", "Dorothea", "Émile", "Иван", "ليلى", "Ōe", "Jo O'Neil", "A + B")
_THINGS: Final = ("Kick", "Floor", "Flute", "Choir L", "Loop", "声", "Gtr 2", "Hall mic")
_WORDS: Final = ("boomy", "too thin in the verse", "wedge moved", "later, please", "ok", "من فضلك")

_CHANGES: Final = ("+1", "+3", "-3", "+6", "-6", "+0.5", "-1.5")
_LEVELS: Final = ("-12", "-20", "-6.5", "0", "-30")

_BY_NAME: Final[Mapping[str, tuple[str, ...]]] = {
    "figure": (*_CHANGES, "@ -12", "@-18", "c-14", "L20", "R20"),
    "change": _CHANGES,
    "level": ("92", "95.3", "88"),
    "margin": ("9", "6", "12", "4.5"),
    "open_mics": ("1", "3", "5"),
    "name": (*_NAMES, *_THINGS),
    "chair": ("Lead voice", "Bass", "Drums", "Keys"),
    "deputy": ("", "", "Zoë"),
    "place": ("centre", "left", "back right", ""),
    "auxes": ("1", "2", "3 4", "5 6", "7"),
    "trim": ("0", "2", "-3"),
    "mono": ("8", "12", "4"),
    "stereo": ("0", "2", "4"),
    "taken": ("", "7 8"),
    "outputs": ("", "16"),
    "external_effects": ("0", "1"),
    "internal_effects": ("0", "2"),
    "network": ("stage", "Bühne 5"),
    "password": ("loud enough", ""),
    "passphrase": ("correct horse on stage",),
    "code": ("abcd efgh", "k7m2n9p4"),
    "band": ("The Test Matches",),
    "desk_name": ("Stage left", "House"),
    "asked-line": ("1 kick +3", "2 +3", "1 2 -3", "1 nothing", "2 kick"),
    "typed-song": ("1", "2", "3", "no such song"),
    "because": ("wedge moved", "mic changed"),
    "note-words": ("line check in five", "stand by"),
    "texts": ("five minutes\nstand by", "back to one"),
    "lines": ("First\nSecond\nThird", "Slow lamp\nFast lamp"),
    "rule": ("niosh",),
}  # fmt: skip

_BY_END: Final[Mapping[str, tuple[str, ...]]] = {
    "-level": _LEVELS,
    "-pan": ("L20", "R40", "0", "middle"),
    "-x": ("-2", "0", "1.5"),
    "-y": ("1", "2.5", "4"),
    "-facing": ("0", "90", "180"),
    "-words": _WORDS,
    "-said": _WORDS,
    "-figure": _BY_NAME["figure"],
}


def filled(
    form: Form, dice: random.Random, odd: float = 0.05, rate: float = 0.5
) -> dict[str, str | list[str]]:
    """Fill in some fields of a form.

    Args:
        form: As the page has it.
        dice: The player's.
        odd: How likely a field gets what nobody should write.
        rate: How likely a field is touched at all, if it may stay as it is.
    """
    typed: dict[str, str | list[str]] = {}
    for one in form.fields:
        if one.kind == "hidden" or one.name in typed:
            continue
        if one.kind == "file":
            typed[one.name] = ["{}"]
        elif (one.is_typed and not any(one.values)) or dice.random() < rate:
            typed[one.name] = _value(one, form, dice, odd)
    return typed


def _value(one: Field, form: Form, dice: random.Random, odd: float) -> str | list[str]:
    if one.kind == "checkbox":
        every = [choice for other in form.fields if other.name == one.name for choice in other.choices]
        return [choice for choice in every if dice.random() < 0.6]
    if one.kind == "radio":
        return dice.choice(
            [choice for other in form.fields if other.name == one.name for choice in other.choices]
        )
    if one.kind == "select":
        return dice.choice(one.choices or ("",))
    if dice.random() < odd:
        return dice.choice(ODD)
    return dice.choice(_likely(one, dice))


def _likely(one: Field, dice: random.Random) -> tuple[str, ...]:
    found = _BY_NAME.get(one.name) or next(
        (values for end, values in _BY_END.items() if one.name.endswith(end)), ()
    )
    return found or one.values or (dice.choice(_WORDS),)
