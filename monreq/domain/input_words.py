"""What the name of a source says about it: a guess that the engineer corrects.

The words are common practice, no source. Where none is known a source is taken for an open mic, which is the careful
guess: it is the one that can feed back.
"""

import re
from typing import Final

from monreq.domain.setup import SourceKind, SourceUse

_WORD: Final = re.compile(r"\w+")

_USES: Final = {
    SourceUse.CLICK: {"click", "metronome"},
    SourceUse.TALKBACK: {"talkback", "tb"},
    SourceUse.AUDIENCE_MIC: {"audience", "ambience", "ambient", "room"},
}
_MICS: Final = {"mic", "mics", "microphone", "drum", "voice", "voices", "vox", "vocal", "vocals", "singer"}
_DIRECTS: Final = {
    "bass", "click", "di", "direct", "keyboard", "keys", "laptop", "line", "loops", "metronome", "pad", "pads",
    "playback", "sampler", "samples", "synth", "track", "tracks",
}  # fmt: skip
_RETURNS: Final = {"delay", "echo", "effect", "effects", "fx", "return", "returns", "reverb", "verb"}
_STEREO: Final = {"stereo"}

# What people write in the languages of the pages: from memory.
_LOW: Final = {
    "kick", "bass", "basses", "bd", "bassdrum", "basstrommel", "bassgitarre", "kontrabass", "contrabass",
    "bombo", "bajo", "contrabajo", "grosse", "basse", "contrebasse", "bumbo", "baixo", "contrabaixo",
    "كيك", "باص", "الباص", "بيس", "البيس", "كونترباص",
}  # fmt: skip
_SUNG: Final = _MICS - {"mic", "mics", "microphone", "drum"} | {
    "bv", "bvs", "stimme", "gesang", "chor", "voz", "voces", "coro", "voix",
    "chant", "choeur", "chœur", "vozes", "صوت", "غناء",
}  # fmt: skip
_LOW_JAPANESE: Final = re.compile(
    "キック|ベース|バスドラ|コントラバス"
)  # Japanese puts no space between words.
_SUNG_JAPANESE: Final = re.compile("ボーカル|コーラス|声|歌")


def words_of(name: str) -> set[str]:
    """Return the words of a name, without regard to case."""
    return set(_WORD.findall(name.casefold()))


def guessed_use(name: str) -> SourceUse:
    """Return what a source is for, by its name."""
    words = words_of(name)
    return next((use for use, known in _USES.items() if words & known), SourceUse.MUSIC)


def guessed_kind(name: str) -> SourceKind:
    """Return where a source comes from, by its name: "Voice reverb" is a return, "Bass drum" an open mic."""
    words = words_of(name)
    if words & _RETURNS:
        return SourceKind.RETURN
    is_direct = words & _DIRECTS and not words & _MICS
    return SourceKind.DIRECT if is_direct else SourceKind.OPEN_MIC


def says_low(name: str) -> bool:
    """Tell whether a name says that its source is a kick or a bass: "Bass drum", "E-Bass", not "Bass vox"."""
    words = words_of(name)
    is_sung = bool(words & _SUNG) or _SUNG_JAPANESE.search(name) is not None
    return not is_sung and (bool(words & _LOW) or _LOW_JAPANESE.search(name) is not None)


def says_stereo(name: str) -> bool:
    """Tell whether a name says that its source is stereo."""
    return bool(words_of(name) & _STEREO)
