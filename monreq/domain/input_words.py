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
_MIC_ITSELF: Final = {
    "mic", "mics", "microphone", "microphones", "mikro", "mikrofon", "micro", "micrófono", "microfono", "microfone",
    "ميكروفون", "مايك", "ميك",
}  # fmt: skip
_MICS: Final = _MIC_ITSELF | {"drum", "voice", "voices", "vox", "vocal", "vocals", "singer"}
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
_SUNG: Final = _MICS - _MIC_ITSELF - {"drum"} | {
    "bv", "bvs", "stimme", "gesang", "chor", "voz", "voces", "coro", "voix",
    "chant", "choeur", "chœur", "vozes", "صوت", "غناء",
}  # fmt: skip
_LOW_JAPANESE: Final = re.compile(
    "キック|ベース|バスドラ|コントラバス"
)  # Japanese puts no space between words.
_SUNG_JAPANESE: Final = re.compile("ボーカル|コーラス|声|歌")
_MIC_JAPANESE: Final = re.compile("マイク")

# Bodies that sound, and the words for a pickup or a line from them. A playback or a synth that is named for one is none.
_BODIES: Final = {
    "violin", "violins", "fiddle", "fiddles", "viola", "violas", "cello", "cellos", "mandolin", "mandolins", "ukulele",
    "ukuleles", "ukelele", "uke", "banjo", "banjos", "upright", "doublebass", "violine", "geige", "fiedel", "bratsche",
    "mandoline", "violín", "violon", "alto", "violoncelle", "violonchelo", "violoncello", "violoncelo", "violino", "violão",
    "violao", "mandolina", "bandolim", "kontrabass", "contrabass", "contrabajo", "contrebasse", "contrabaixo", "كمان", "الكمان",
    "فيولا", "تشيلو", "التشيلو", "مندولين", "بانجو", "يوكوليلي", "كونترباص", "الكونترباص", "عود", "العود",
}  # fmt: skip
_ACOUSTIC: Final = {
    "acoustic", "acoustics", "akustik", "akustische", "akustikgitarre", "westerngitarre", "konzertgitarre", "acústica",
    "acustica", "acústico", "acoustique", "folk", "nylon", "أكوستيك", "اكوستيك",
}  # fmt: skip
_ACOUSTIC_SHORT: Final = re.compile(r"\ba(?:cc?)?\b\W{0,2}(?:gtr|guitar|git)\b")
_BODY_JAPANESE: Final = re.compile(
    "アコギ|アコースティック|ウッドベース|コントラバス|バイオリン|ヴァイオリン|フィドル|ビオラ|ヴィオラ|チェロ|マンドリン|ウクレレ|バンジョー"
)
_ELECTRIC: Final = {
    "e",
    "electric",
    "elektrisch",
    "elektrische",
    "eléctrico",
    "eléctrica",
    "électrique",
    "elétrico",
}
_PICKUPS: Final = {
    "pickup", "pickups", "piezo", "piézo", "pu", "tonabnehmer", "abnehmer", "direkt", "capteur", "directe", "ligne",
    "pastilla", "directa", "directo", "línea", "linea", "captador", "direta", "direto", "linha", "مباشر", "بيكاب", "لاين",
}  # fmt: skip
_PICKUP_JAPANESE: Final = re.compile(r"ピックアップ|ピエゾ|ライン|(?<=[\u3040-\u30ff\u4e00-\u9fff])di\b")
_PICK_UP: Final = re.compile(r"\bpick[ -]up")


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
    is_mic = words & _MICS or _MIC_JAPANESE.search(name)
    is_direct = words & _DIRECTS or (says_acoustic(name) and _says_pickup(name))
    return SourceKind.DIRECT if is_direct and not is_mic else SourceKind.OPEN_MIC


def says_acoustic(name: str) -> bool:
    """Tell whether a name says that a pickup would sit in a body that sounds: "Acoustic guitar", not "E-Cello"."""
    words = words_of(name)
    if words & _DIRECTS - {"bass", "di", "direct", "line"}:
        return False
    has_body = words & _BODIES or words >= {"double", "bass"}
    said = words & _ACOUSTIC or (has_body and not words & _ELECTRIC)
    return bool(said) or any(known.search(name.casefold()) for known in (_ACOUSTIC_SHORT, _BODY_JAPANESE))


def _says_pickup(name: str) -> bool:
    joined = _PICK_UP.sub("pickup", name.casefold())
    return bool(words_of(joined) & _PICKUPS) or _PICKUP_JAPANESE.search(joined) is not None


def says_low(name: str) -> bool:
    """Tell whether a name says that its source is a kick or a bass: "Bass drum", "E-Bass", not "Bass vox"."""
    words = words_of(name)
    is_sung = bool(words & _SUNG) or _SUNG_JAPANESE.search(name) is not None
    return not is_sung and (bool(words & _LOW) or _LOW_JAPANESE.search(name) is not None)


def says_stereo(name: str) -> bool:
    """Tell whether a name says that its source is stereo."""
    return bool(words_of(name) & _STEREO)
