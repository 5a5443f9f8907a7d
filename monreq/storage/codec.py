"""Events as they are stored: a kind and a JSON text, which must be readable for ever."""

import json
from collections.abc import Mapping
from typing import Any, Final

from cattrs import Converter
from cattrs.errors import ClassValidationError

from monreq.domain import band_events as b
from monreq.domain import carry_events as k
from monreq.domain import events as e
from monreq.domain import group_events as g
from monreq.domain import hearing_events as h
from monreq.domain import measuring_events as m
from monreq.domain import song_events as so
from monreq.domain import stage_events as s
from monreq.domain import telling_events as t
from monreq.services.ports import StorageFailed

# A kind is stored for ever: a class may be renamed, what stands on the left may not.
KINDS: Final[Mapping[str, type[e.Event]]] = {
    "show_opened": e.ShowOpened,
    "show_renamed": e.ShowRenamed,
    "show_closed": e.ShowClosedForGood,
    "settings_changed": e.SettingsChanged,
    "source_put": e.SourcePut,
    "source_removed": e.SourceRemoved,
    "sources_reordered": e.SourcesReordered,
    "musician_put": e.MusicianPut,
    "musician_removed": e.MusicianRemoved,
    "mix_put": e.MixPut,
    "mix_removed": e.MixRemoved,
    "send_put": e.SendPut,
    "send_removed": e.SendRemoved,
    "code_replaced": e.CodeReplaced,
    "change_asked": e.ChangeAsked,
    "requests_cancelled_out": e.RequestsCancelledOut,
    "request_withdrawn": e.RequestWithdrawn,
    "requests_answered": e.RequestsAnswered,
    "decision_undone": e.DecisionUndone,
    "level_corrected": e.LevelCorrected,
    "group_put": g.GroupPut,
    "group_removed": g.GroupRemoved,
    "heard_said": h.HeardSaid,
    "preamp_change_planned": m.PreampChangePlanned,
    "preamp_moved": m.PreampMoved,
    "preamp_change_dropped": m.PreampChangeDropped,
    "margin_read": m.MarginRead,
    "margins_made_stale": m.MarginsMadeStale,
    "open_mics_counted": m.OpenMicsCounted,
    "ear_level_measured": m.EarLevelMeasured,
    "desk_described": s.DeskDescribed,
    "musician_placed": s.MusicianPlaced,
    "source_placed": s.SourcePlaced,
    "band_chosen": b.BandChosen,
    "keep_asked": b.KeepAsked,
    "keep_answered": b.KeepAnswered,
    "mix_kept": b.MixKept,
    "band_matched": k.BandMatched,
    "levels_carried": k.LevelsCarried,
    "levels_put_low": k.LevelsPutLow,
    "set_list_put": so.SetListPut,
    "song_chosen": so.SongChosen,
    "song_begun": so.SongBegun,
    "gap_begun": so.GapBegun,
    "stretch_taken_back": so.StretchTakenBack,
    "song_moves_planned": so.SongMovesPlanned,
    "song_moves_dropped": so.SongMovesDropped,
    "calls_seen": t.CallsSeen,
    "note_sent": t.NoteSent,
    "note_answered": t.NoteAnswered,
    "note_taken_back": t.NoteTakenBack,
    "line_check_begun": t.LineCheckBegun,
    "line_heard": t.LineHeard,
    "line_check_ended": t.LineCheckEnded,
    "soundcheck_marked": e.SoundcheckMarked,
}

_KIND_OF: Final = {event: kind for kind, event in KINDS.items()}
_CONVERTER: Final = Converter()


NEWER: Final = "A newer monreq uses this database: install that version here too, and start it again."


class UnreadableEvent(StorageFailed):
    """A stored event that this version of monreq cannot read; its text is one sentence."""


class UnknownKind(UnreadableEvent):
    """A stored event of a kind that a newer version of monreq made."""


def encode(event: e.Event) -> tuple[str, str]:
    """Return an event's kind and body; every field is written, so that a later default changes nothing."""
    body = json.dumps(_CONVERTER.unstructure(event), separators=(",", ":"))
    return _KIND_OF[type(event)], body


def decode(kind: str, body: str) -> e.Event:
    """Return a stored event. Fields that it lacks take their defaults; fields that are not known are ignored.

    Raises:
        UnknownKind: The kind is not known.
        UnreadableEvent: The body does not fit it.
    """
    if kind not in KINDS:
        raise UnknownKind(NEWER)
    try:
        fields: Any = json.loads(body)
        return _CONVERTER.structure(fields, KINDS[kind])
    except (ClassValidationError, ValueError, TypeError) as error:
        raise UnreadableEvent(f"A stored event of the kind {kind!r} is damaged: {body[:80]!r}.") from error
