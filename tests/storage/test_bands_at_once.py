"""Two desks, each with a process of its own, that write to one band at the same time."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import count

import pytest

from monreq.domain.band import Band
from monreq.domain.band_refusals import BandChangedSince, BandNameTaken
from monreq.domain.keeping import ToKeep
from monreq.services.bands import Bands
from monreq.services.ports import Submission
from monreq.storage.open import Storage
from tests.support.bands import BAND
from tests.support.stage import small_stage
from tests.support.threads import all_at_once

ROUNDS = 5


@pytest.fixture
def desks(storage: Storage, other: Storage) -> tuple[Bands, Bands]:
    numbers: Iterator[int] = count()
    one, two = (
        Bands(opened.bands, opened.writer, lambda: 1000, lambda: f"id{next(numbers)}")
        for opened in (storage, other)
    )
    return one, two


def outcomes(*jobs: Callable[[], Band]) -> list[Band | Exception]:
    return all_at_once(jobs)


def test_of_two_desks_that_change_what_both_saw_one_wins_and_the_other_is_told(
    desks: tuple[Bands, Bands],
) -> None:
    one, two = desks
    band = one.add(BAND)

    for number in range(ROUNDS):
        seen = one.get(band.id).revision
        found = outcomes(
            lambda: one.rename(band.id, f"One {number}", seen),  # noqa: B023 - called in this round
            lambda: two.rename(band.id, f"Two {number}", seen),  # noqa: B023 - the same
        )

        assert sorted(type(each) is BandChangedSince for each in found) == [False, True]
        assert two.get(band.id) in found


def test_keeping_on_two_desks_keeps_both(desks: tuple[Bands, Bands]) -> None:
    one, two = desks
    show = small_stage().show
    band = one.begin("The Marsh Hens")

    for number in range(ROUNDS):
        wanted = ToKeep(("front",), f"Round {number}")
        outcomes(
            lambda: one.keep(band.id, show, wanted),  # noqa: B023 - called in this round
            lambda: two.keep(band.id, show, wanted),  # noqa: B023 - the same
        )

    kept = two.get(band.id).kept
    assert len(kept) == len({each.id for each in kept}) == 2 * ROUNDS


def test_one_submission_that_reaches_two_processes_keeps_once(desks: tuple[Bands, Bands]) -> None:
    one, two = desks
    show = small_stage().show
    band = one.begin("The Marsh Hens")

    for number in range(ROUNDS):
        tapped = Submission("show1", f"c-{number}", "f")
        wanted = ToKeep(("front", "ears"), f"Round {number}")
        found = outcomes(
            lambda: one.keep(band.id, show, wanted, tapped),  # noqa: B023 - called in this round
            lambda: two.keep(band.id, show, wanted, tapped),  # noqa: B023 - the same
        )

        assert found[0] == found[1]
    assert len(one.get(band.id).kept) == 2 * ROUNDS


def test_two_bands_of_one_name_are_never_begun_at_once(desks: tuple[Bands, Bands]) -> None:
    one, two = desks

    found = outcomes(
        lambda: one.add(replace(BAND, id="one")),
        lambda: two.add(replace(BAND, id="two", name=BAND.name.upper())),
    )

    assert sorted(type(each) is BandNameTaken for each in found) == [False, True]
    assert len(one.entries()) == 1
