"""The state is the fold of the log: at any moment, in any portions, with nothing deleted."""

from typing import get_args

import pytest

from monreq.domain import commands as c
from monreq.domain import events as e
from monreq.domain.fold import _APPLY, fold
from monreq.domain.setup import Setting
from monreq.domain.show import Show
from tests.support.stage import Stage


def test_every_event_is_folded() -> None:
    assert set(_APPLY) == set(get_args(e.Event))


def test_log_has_no_gaps(stage: Stage) -> None:
    stage.ask("front", "voice", 30)
    stage.ask("front", "voice", -30)

    assert [recorded.revision for recorded in stage.log] == list(range(1, stage.show.revision + 1))


def test_nothing_is_deleted_by_withdrawal_cancelling_undo_or_removal(stage: Stage) -> None:
    stage.withdraw(stage.ask("front", "voice", 10))
    stage.ask("front", "drums", 10)
    stage.ask("front", "drums", -10)
    stage.undo(stage.done(stage.ask("front", "voice", 10)))
    before = tuple(stage.log)

    stage.do(c.RemoveMix("front"))

    assert tuple(stage.log[: len(before)]) == before
    assert stage.at(len(before)).levels["front"].sends["voice"].setting == Setting(-200)


def test_mix_at_any_moment_is_the_fold_up_to_it(stage: Stage) -> None:
    levels = {stage.show.revision: stage.show.levels}
    for change in (30, -60, 10):
        stage.done(stage.ask("front", "voice", change), change=change)
        levels[stage.show.revision] = stage.show.levels

    assert {revision: stage.at(revision).levels for revision in levels} == levels


def test_fold_in_portions_is_the_fold_at_once(stage: Stage) -> None:
    stage.done(stage.ask("front", "voice", 30))
    stage.mark()

    first = fold(Show(stage.show.id), stage.log[:9])
    assert fold(first, stage.log[9:]) == fold(Show(stage.show.id), stage.log) == stage.show


def test_fold_of_nothing_is_the_same_show(stage: Stage) -> None:
    assert fold(stage.show, []) is stage.show


def test_soundcheck_mark_keeps_the_levels_and_starts_the_count_of_what_is_done(stage: Stage) -> None:
    stage.done(stage.ask("front", "voice", 20))

    stage.mark()
    at_mark = stage.show.position("front", "voice").done_tenths
    stage.done(stage.ask("front", "voice", -50))

    assert at_mark == 0
    assert stage.show.position("front", "voice").done_tenths == -50
    assert stage.show.mark is not None
    assert stage.show.mark["front"].sends["voice"].setting == Setting(-180)
    assert stage.show.marked_at_ms == stage.now_ms


def test_soundcheck_mark_can_be_set_again(stage: Stage) -> None:
    stage.mark()
    stage.done(stage.ask("front", "voice", 20))

    stage.mark()

    assert stage.show.mark == stage.show.levels


def test_done_since_counts_answers_and_their_undoing_but_no_corrections(stage: Stage) -> None:
    stage.mark()
    decision = stage.done(stage.ask("front", "voice", 20))
    stage.done(stage.ask("front", "voice", 10))
    stage.correct("front", "voice", -100)
    before_undo = stage.show.position("front", "voice").done_tenths

    stage.undo(decision)

    assert before_undo == 30
    assert stage.show.position("front", "voice").done_tenths == 10


def test_done_since_outlives_an_entered_level(stage: Stage) -> None:
    stage.mark()
    stage.done(stage.ask("front", "voice", 20))

    stage.put("front", "voice", -90)

    assert stage.show.position("front", "voice").done_tenths == 20


def test_undo_of_what_was_done_before_the_mark_counts_since_it(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "voice", 20))
    stage.mark()

    stage.undo(decision)

    assert stage.show.position("front", "voice").done_tenths == -20


def test_start_level_was_not_confirmed_yet(stage: Stage) -> None:
    assert stage.show.position("front", "voice").confirmed_at_ms is None
    assert stage.show.position("front", None).confirmed_at_ms is None


def test_level_is_confirmed_when_it_is_entered_done_undone_or_corrected(stage: Stage) -> None:
    confirmed = []
    steps = (
        lambda: stage.put("front", "voice", -100),
        lambda: stage.done(stage.ask("front", "voice", 20)),
        lambda: stage.undo(f"d{stage.show.revision}"),
        lambda: stage.correct("front", "voice"),
    )
    for step in steps:
        stage.wait(1)
        step()
        confirmed.append(stage.show.position("front", "voice").confirmed_at_ms == stage.now_ms)

    assert confirmed == [True, True, True, True]
    assert stage.show.position("front", "drums").confirmed_at_ms is None


def test_request_stamps_the_mix_it_is_in(stage: Stage) -> None:
    before = stage.show.changed_at

    stage.ask("front", "voice", 20)

    assert stage.show.changed_at == {**before, "front": stage.show.revision}


@pytest.mark.parametrize("command", [c.MarkSoundcheck(), c.RenameShow("Late"), c.ReorderSources(("talk",))])
def test_what_belongs_to_no_mix_stamps_all(stage: Stage, command: c.Command) -> None:
    stage.do(command)

    assert stage.show.changed_at == dict.fromkeys(("front", "ears"), stage.show.revision)


def test_removed_mix_has_no_stamp(stage: Stage) -> None:
    stage.do(c.RemoveMix("front"))

    assert list(stage.show.changed_at) == ["ears"]
