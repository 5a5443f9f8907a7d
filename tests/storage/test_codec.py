"""Events as they are stored: each kind goes there and back, and rows of earlier days load for ever."""

import json
from pathlib import Path
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import band_events as b
from monreq.domain import carry_events as k
from monreq.domain import events as e
from monreq.domain import group_events as g
from monreq.domain import hearing_events as h
from monreq.domain import measuring_events as m
from monreq.domain import song_events as so
from monreq.domain import stage_events as s
from monreq.domain import telling_events as t
from monreq.domain.aux_outputs import Links
from monreq.domain.desk_facts import DeskFacts
from monreq.domain.groups import Group
from monreq.domain.hearing import Heard
from monreq.domain.notes import Reply
from monreq.domain.readings import EarMethod
from monreq.domain.requests import Call, Kind, Move, Outcome
from monreq.domain.setup import Mix, Musician, Output, Setting, Settings, Source, SourceKind, SourceUse
from monreq.domain.songs import Song
from monreq.domain.stage_plan import SourcePlace, Spot, Standing
from monreq.storage.codec import KINDS, UnreadableEvent, decode, encode

SAMPLES = Path(__file__).with_name("samples")

MOVE = Move("front", "voice", Setting(-120), Setting(-80))

# What each stored sample row says. A row is never rewritten: when an event gets a field, its old row stays.
SAMPLED: dict[str, e.Event] = {
    "show_opened": e.ShowOpened("Evening in the hall", is_demo=True),
    "show_renamed": e.ShowRenamed("Späte Show"),
    "show_closed": e.ShowClosedForGood(),
    "settings_changed": e.SettingsChanged(Settings(touch_tenths=15, highest_tenths=60)),
    "source_put": e.SourcePut(Source("talk", "Talk", SourceKind.OPEN_MIC, use=SourceUse.TALKBACK)),
    "source_removed": e.SourceRemoved("talk"),
    "sources_reordered": e.SourcesReordered(("voice", "kick")),
    "musician_put": e.MusicianPut(Musician("singer", "Lead voice")),
    "musician_removed": e.MusicianRemoved("singer"),
    "mix_put": e.MixPut(Mix("ears", "Drums", Output.IN_EAR_PAIR, ("drummer", "perc"), "back", (3, 4))),
    "mix_removed": e.MixRemoved("ears"),
    "send_put": e.SendPut("ears", None, Setting(-95, is_on=False)),
    "send_removed": e.SendRemoved("ears", "kick"),
    "code_replaced": e.CodeReplaced(None),
    "change_asked": e.ChangeAsked(
        "r7", "front", None, Kind.CALL, "singer", 0, call=Call.HURTS, client_id="c-1"
    ),
    "requests_cancelled_out": e.RequestsCancelledOut("front", ("r7", "r9")),
    "request_withdrawn": e.RequestWithdrawn("front", "r7"),
    "requests_answered": e.RequestsAnswered(
        "d12", "front", "voice", Kind.LEVEL, ("r7", "r9"), Outcome.DONE, 60, MOVE, "near_feedback"
    ),
    "decision_undone": e.DecisionUndone("d12", "front", ("r7",), None),
    "level_corrected": e.LevelCorrected(MOVE),
    "group_put": g.GroupPut(Group("drums", "Drums", ("kick", "snare"), "drumbus")),
    "group_removed": g.GroupRemoved("drums"),
    "heard_said": h.HeardSaid("d42", "front", "singer", Heard.TOO_LITTLE),
    "preamp_change_planned": m.PreampChangePlanned("p41", "voice", 60),
    "preamp_moved": m.PreampMoved("p41"),
    "preamp_change_dropped": m.PreampChangeDropped("p41"),
    "margin_read": m.MarginRead("front", "voice", 90, 4),
    "margins_made_stale": m.MarginsMadeStale("front", "another mic"),
    "open_mics_counted": m.OpenMicsCounted(6),
    "ear_level_measured": m.EarLevelMeasured(
        "ears", 945, EarMethod.OTHER, "probe mic in the canal", is_correction=True
    ),
    "desk_described": s.DeskDescribed(DeskFacts(16, 2, 12, Links.NEIGHBOURS, (7, 8), 1, 3)),
    "musician_placed": s.MusicianPlaced("drummer", Standing(Spot(-50, 420), 340)),
    "source_placed": s.SourcePlaced("kick", SourcePlace(Spot(-50, 380), is_central=True)),
    "set_list_put": so.SetListPut((Song("a1", "Blue moor"), Song("b2", "Après")), "a1"),
    "song_chosen": so.SongChosen(None),
    "song_begun": so.SongBegun(),
    "gap_begun": so.GapBegun("b2"),
    "stretch_taken_back": so.StretchTakenBack(),
    "song_moves_planned": so.SongMovesPlanned("s41", "b2"),
    "song_moves_dropped": so.SongMovesDropped("s41"),
    "band_chosen": b.BandChosen("k3fd9a7c"),
    "keep_asked": b.KeepAsked("q61", "front", ((None, Setting(-60)), ("voice", Setting(-85, is_on=False)))),
    "keep_answered": b.KeepAnswered("q61", "front", "singer", agrees=True),
    "mix_kept": b.MixKept("front", "Second evening", "blue"),
    "levels_carried": k.LevelsCarried(
        "ears", ((None, Setting(-100)), ("voice", Setting(-85, -40, is_on=False)))
    ),
    "band_matched": k.BandMatched("matches", (("voice", "s1"), ("horn", "")), (("front", "m1"),)),
    "levels_put_low": k.LevelsPutLow("front", ((None, Setting(-100)), ("voice", Setting(-250, 20)))),
    "calls_seen": t.CallsSeen("front", ("r7",), "Stage side"),
    "note_sent": t.NoteSent("n51", "two minutes", ("front", "ears")),
    "note_answered": t.NoteAnswered("n51", "front", "singer", Reply.NOT_YET),
    "note_taken_back": t.NoteTakenBack("n51", ("front", "ears")),
    "line_check_begun": t.LineCheckBegun("l52", "voice", ("front",)),
    "line_heard": t.LineHeard("l52", "front", "singer", is_heard=False),
    "line_check_ended": t.LineCheckEnded("l52", ("front",)),
    "soundcheck_marked": e.SoundcheckMarked(),
}

CLASSES = get_args(e.Event)


def test_kinds_name_every_event_once() -> None:
    assert sorted(map(repr, KINDS.values())) == sorted(map(repr, CLASSES))


def test_samples_hold_one_row_of_every_kind() -> None:
    assert sorted(path.stem for path in SAMPLES.glob("*.json")) == sorted(KINDS)
    assert sorted(SAMPLED) == sorted(KINDS)


@pytest.mark.parametrize("kind", SAMPLED)
def test_sample_row_loads(kind: str) -> None:
    body = (SAMPLES / f"{kind}.json").read_text(encoding="utf-8")

    assert decode(kind, body) == SAMPLED[kind]


@pytest.mark.parametrize("kind", SAMPLED)
def test_event_goes_there_and_back(kind: str) -> None:
    stored_kind, body = encode(SAMPLED[kind])

    assert (stored_kind, decode(stored_kind, body)) == (kind, SAMPLED[kind])


@pytest.mark.parametrize("event_class", CLASSES)
@given(data=st.data())
def test_any_event_goes_there_and_back(event_class: type[e.Event], data: st.DataObject) -> None:
    event = data.draw(st.from_type(event_class))

    assert decode(*encode(event)) == event


def test_body_without_a_later_field_takes_its_default() -> None:
    assert decode("show_opened", '{"name": "Evening"}') == e.ShowOpened("Evening", is_demo=False)


def test_body_without_a_later_field_inside_takes_its_default() -> None:
    body = '{"source": {"id": "voice", "name": "Voice", "kind": "open_mic"}}'

    assert decode("source_put", body) == e.SourcePut(Source("voice", "Voice", SourceKind.OPEN_MIC))


def test_body_with_an_unknown_field_is_read_without_it() -> None:
    assert decode("show_renamed", '{"name": "Evening", "colour": "amber"}') == e.ShowRenamed("Evening")


def test_body_names_every_field_so_that_defaults_may_change() -> None:
    _, body = encode(e.ShowOpened("Evening"))

    assert json.loads(body) == {"name": "Evening", "is_demo": False}


def test_body_is_plain_ascii_whatever_was_typed() -> None:
    _, body = encode(e.ShowRenamed("Bühne \x00 \ud800"))

    assert body.isascii()
    assert decode("show_renamed", body) == e.ShowRenamed("Bühne \x00 \ud800")


def test_unknown_kind_is_named() -> None:
    with pytest.raises(UnreadableEvent, match="A newer monreq uses this database"):
        decode("stage_flooded", "{}")


@pytest.mark.parametrize("body", ["", "[]", "{}", '"Evening"', "null", '{"source": {"id": "voice"}}'])
def test_damaged_body_is_named(body: str) -> None:
    with pytest.raises(UnreadableEvent, match="stored event of the kind 'source_put' is damaged"):
        decode("source_put", body)


@pytest.mark.parametrize("kind", ["source_put", "mix_put", "requests_answered"])
@given(cut=st.integers(min_value=0, max_value=60))
def test_body_cut_short_is_damaged(kind: str, cut: int) -> None:
    body = encode(SAMPLED[kind])[1][:cut]

    with pytest.raises(UnreadableEvent):
        decode(kind, body)
