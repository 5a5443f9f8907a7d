"""What taking a band over comes to, in words: how things were found, what became of sends and mixes."""

from collections.abc import Mapping

from monreq.domain.carry_matching import How
from monreq.domain.carry_report import MixChange, MixNote, SendNote, What
from monreq.domain.setup import Setting
from monreq.web import wording
from monreq.web.speech import N_, _, listed

HOW: Mapping[How, str] = {
    How.SAME_ID: N_("the same as in the book"),
    How.SAME_NAME: N_("has the same name"),
    How.LIKELY: N_("is this the same?"),
    How.MISSING: N_("not found in this show"),
}

WHAT: Mapping[What, str] = {What.SOURCE: N_("source"), What.MUSICIAN: N_("musician"), What.MIX: N_("mix")}

_SENDS: Mapping[SendNote, str] = {
    SendNote.SHIFTED: N_("moved with the mix"),
    SendNote.FOLDED: N_("left and right folded to one: the level stays"),
    SendNote.STEREO_FOLDED: N_("stereo folded to one: up to 3 dB louder where both sides are alike"),
    SendNote.PANNED: N_("pan from the stage plan"),
    SendNote.NO_PLACE: N_("no place on the stage plan: in the middle"),
    SendNote.CLIPPED: N_("stopped at the end of the desk's scale: the balance changed"),
    SendNote.CLICK_LEFT_OUT: N_("left out: click in a wedge leaks into every open mic"),
    SendNote.AUDIENCE_LEFT_OUT: N_("left out: audience mics feed back in a wedge"),
    SendNote.SOURCE_LEFT_OUT: N_("left out: not in this show"),
    SendNote.NEW_SOURCE: N_("new here: not in the kept mix, starts low or stays as it is"),
}

_MIXES: Mapping[MixNote, str] = {
    MixNote.STARTS_LOW: N_(
        "The balance is kept and all of it starts low, as a new mix does: bring the output up step by step."
    ),
    MixNote.BECAME_IN_EARS: N_(
        "From wedge to in-ear pair. Pack turned down first, both ears in, then bring the output up."
    ),
    MixNote.BECAME_WEDGE: N_("From in-ear pair to wedge. Left and right are folded to one."),
    MixNote.FED_MONO_NOW: N_(
        "Fed mono: where players stand cannot be heard. Both ears get all of it, so the output starts 3 dB lower."
    ),
    MixNote.STEREO_NOW: N_("Stereo again: pans are from the stage plan; it sounds about 3 dB quieter."),
    MixNote.BY_REFERENCE: N_("Levels go by the one that was read off this desk; the differences are kept."),
    MixNote.OUTPUT_AS_READ: N_("The output is the one that was read off this desk."),
    MixNote.OUTPUT_CLIPPED: N_("The output stopped at the end of the desk's scale."),
    MixNote.MARGIN_NOT_MEASURED: N_(
        "No feedback margin was read here: another room, another margin. Raise the open mics with care."
    ),
    MixNote.CLICK_LEAKS: N_("Click goes into this wedge: it leaks into every open mic near it."),
    MixNote.LIMITER_NOT_SAID: N_("Nobody said whether the pack has a limiter: ask before the first note."),
    MixNote.MUSICIAN_MISSING: N_("Somebody who heard this mix is not here."),
    MixNote.NOBODY_HEARS_IT: N_("Nobody here hears this mix."),
    MixNote.NOTHING_KEPT: N_("Nothing was kept of it: it starts as a new mix, or stays as it is."),
}


def send_notes(notes: tuple[SendNote, ...]) -> list[str]:
    """Return what became of one send."""
    return [_(_SENDS[note]) for note in notes]


def mix_notes(change: MixChange) -> list[str]:
    """Return what became of a mix, and what to mind."""
    return [_(_MIXES[note]) for note in change.notes]


def setting(one: Setting | None, *, is_stereo: bool) -> str:
    """Return where a send stood or starts: -12, right 20; off; a dash where it is not in the mix."""
    if one is None:
        return "\N{EN DASH}"
    if not one.is_on:
        return _("off (%(level)s)", level=wording.level(one.level_tenths))
    level = wording.level(one.level_tenths)
    return listed((level, wording.pan(one.pan_percent))) if is_stereo and one.pan_percent else level
