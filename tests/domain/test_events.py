"""Under which subjects an event is found again."""

from typing import get_args

import pytest

from monreq.domain import commands as c
from monreq.domain import events as e
from monreq.domain.subjects import EVERY_MIX, mix_subject, subjects
from tests.support.stage import Stage


def subjects_of_last(stage: Stage, count: int) -> list[tuple[str, ...]]:
    return [subjects(recorded.event) for recorded in stage.log[-count:]]


def test_request_is_found_by_its_mix_and_by_its_id(stage: Stage) -> None:
    request = stage.ask("front", "voice", 10)

    assert subjects_of_last(stage, 1) == [("mix:front", f"request:{request}")]


def test_answer_and_undo_are_found_by_every_request_they_concern(stage: Stage) -> None:
    first, second = stage.ask("front", "voice", 10), stage.ask("front", "voice", 10)

    stage.undo(stage.done(first, second))

    found = ("mix:front", f"request:{first}", f"request:{second}")
    assert subjects_of_last(stage, 2) == [found, found]


def test_cancelling_out_and_withdrawal_are_found_by_their_requests(stage: Stage) -> None:
    up, down = stage.ask("front", "voice", 10), stage.ask("front", "voice", -10)
    cancelled = subjects_of_last(stage, 1)
    request = stage.ask("front", "voice", 10)
    stage.withdraw(request)

    assert cancelled == [("mix:front", f"request:{up}", f"request:{down}")]
    assert subjects_of_last(stage, 1) == [("mix:front", f"request:{request}")]


@pytest.mark.parametrize(
    ("command", "subjects"),
    [
        (c.CorrectLevel("ears", "voice", -100), ("mix:ears",)),
        (c.MarkSoundcheck(), (EVERY_MIX,)),
        (c.RemoveSend("ears", "voice"), ("mix:ears",)),
        (c.RemoveMix("ears"), ("mix:ears",)),
        (c.RenameShow("Late"), ()),
        (c.RemoveMusician("bass"), ()),
    ],
)
def test_events_stand_in_the_history_of_their_mix(
    stage: Stage, command: c.Command, subjects: tuple[str, ...]
) -> None:
    stage.do(command)

    assert subjects_of_last(stage, 1) == [subjects]


def test_every_change_of_a_mixs_levels_stands_in_its_history(stage: Stage) -> None:
    stage.ask("ears", "voice", 10, "bass")
    stage.undo(stage.done("r" + str(stage.show.revision)))
    stage.correct("ears", None, -120)
    stage.do(c.RemoveSource("drums"))
    stage.source("horn")
    stage.put("ears", "horn", -50)

    for revision in range(1, stage.show.revision + 1):
        before, after = stage.at(revision - 1), stage.at(revision)
        changed = {mix for mix in stage.show.mixes if before.levels.get(mix) != after.levels.get(mix)}
        found = subjects(stage.log[revision - 1].event)
        assert {mix_subject(mix) for mix in changed} <= set(found)


def test_names_of_events_are_distinct_for_ever() -> None:
    assert len({kind.__name__ for kind in get_args(e.Event)}) == len(get_args(e.Event))
