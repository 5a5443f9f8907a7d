"""Bands: begun, kept in, changed by two at once, sent twice, and a show begun from one."""

from dataclasses import replace

import pytest

from monreq.domain import commands as c
from monreq.domain.band import Band
from monreq.domain.band_refusals import (
    BandChangedSince,
    BandIdTaken,
    BandNameTaken,
    NothingToKeep,
    TooManyKept,
    UnknownBand,
    UnknownSongOfBand,
)
from monreq.domain.keeping import MOST_KEPT, ToKeep
from monreq.domain.refusals import NameRequired, SameIdOtherBody, UnknownMix
from monreq.domain.setup import Musician, Setting
from monreq.services.band_shows import begin_band, open_show_from
from monreq.services.bands import Bands
from monreq.services.ports import Submission
from tests.support.bands import BAND, FRONT
from tests.support.house import SHOW, House
from tests.support.memory_log import InlineWriter
from tests.support.memory_shelf import MemoryShelf

TAPPED = Submission(SHOW, "c-1", "f")
FRONT_NOW = ToKeep(("front",), "Second evening")


@pytest.fixture
def bands(house: House) -> Bands:
    numbers = iter(range(10_000))
    return Bands(MemoryShelf(), InlineWriter(), house.shows.now_ms, lambda: f"id{next(numbers)}")


def test_band_begun_for_a_show_has_its_line_up_and_is_the_shows(house: House, bands: Bands) -> None:
    band = begin_band(house.shows, bands, house.shows.state(SHOW), " The  Marsh Hens ")

    assert (band.name, band.revision) == ("The Marsh Hens", 1)
    assert [one.id for one in band.sources] == ["voice"]
    assert [one.id for one in band.mixes] == ["front"]
    assert house.shows.state(SHOW).band == band.id
    assert bands.get(band.id) == band


def test_band_begun_twice_by_a_double_tap_is_one(house: House, bands: Bands) -> None:
    show = house.shows.state(SHOW)

    first = begin_band(house.shows, bands, show, "The Marsh Hens", TAPPED)
    second = begin_band(house.shows, bands, show, "The Marsh Hens", TAPPED)

    assert first == second
    assert len(bands.entries()) == 1


def test_band_of_a_name_that_another_has_is_refused_in_any_case(bands: Bands) -> None:
    bands.begin("Łąka")

    with pytest.raises(BandNameTaken):
        bands.begin("ŁĄKA")
    with pytest.raises(BandNameTaken):
        bands.add(Band("other", "łąka"))


@pytest.mark.parametrize("name", ["", "  ", "\u202e", "\x00"])
def test_band_without_a_readable_name_is_refused(bands: Bands, name: str) -> None:
    with pytest.raises(NameRequired):
        bands.begin(name)


def test_added_band_keeps_ids_order_and_revision_and_is_not_added_twice(bands: Bands) -> None:
    brought = replace(BAND, revision=7)

    bands.add(brought)

    assert bands.get(BAND.id) == brought
    with pytest.raises(BandIdTaken):
        bands.add(replace(brought, name="Another"))


def test_keep_adds_what_stands_now_under_a_name(house: House, bands: Bands) -> None:
    band = bands.begin("Hens")
    house.shows.submit(SHOW, c.PutSend("front", "voice", Setting(-85)))

    kept = bands.keep(band.id, house.shows.state(SHOW), FRONT_NOW).kept

    assert [(one.mix, one.name, one.show_name, one.sends) for one in kept] == [
        ("front", "Second evening", "Evening", {"voice": Setting(-85)})
    ]


def test_double_tap_keeps_once(house: House, bands: Bands) -> None:
    band = bands.begin("Hens")
    show = house.shows.state(SHOW)

    bands.keep(band.id, show, FRONT_NOW, TAPPED)
    again = bands.keep(band.id, show, FRONT_NOW, TAPPED)

    assert len(again.kept) == 1
    assert again.revision == 2


def test_submission_sent_again_with_another_body_is_refused(house: House, bands: Bands) -> None:
    band = bands.begin("Hens")
    show = house.shows.state(SHOW)
    bands.keep(band.id, show, FRONT_NOW, TAPPED)

    with pytest.raises(SameIdOtherBody):
        bands.keep(band.id, show, FRONT_NOW, replace(TAPPED, fingerprint="g"))


def test_refused_submission_is_not_remembered(house: House, bands: Bands) -> None:
    band = bands.begin("Hens")
    show = house.shows.state(SHOW)
    with pytest.raises(NameRequired):
        bands.keep(band.id, show, replace(FRONT_NOW, name=""), TAPPED)

    assert len(bands.keep(band.id, show, FRONT_NOW, TAPPED).kept) == 1


@pytest.mark.parametrize(
    ("wanted", "refusal"),
    [
        (ToKeep((), "Name"), NothingToKeep),
        (ToKeep(("nowhere",), "Name"), UnknownMix),
        (ToKeep(("front",), "Name", song="none"), UnknownSongOfBand),
    ],
)
def test_keep_of_what_is_not_there_is_refused(
    house: House, bands: Bands, wanted: ToKeep, refusal: type[Exception]
) -> None:
    band = bands.begin("Hens")

    with pytest.raises(refusal):
        bands.keep(band.id, house.shows.state(SHOW), wanted)

    assert bands.get(band.id) == band


def test_kept_mix_beyond_the_most_is_refused_and_nothing_is_pruned(house: House, bands: Bands) -> None:
    full = tuple(replace(FRONT, id=f"k{number}") for number in range(MOST_KEPT))
    band = bands.add(replace(BAND, kept=full))

    with pytest.raises(TooManyKept):
        bands.keep(band.id, house.shows.state(SHOW), FRONT_NOW)

    assert bands.get(band.id).kept == full


def test_of_two_desks_one_wins_and_the_other_is_told(bands: Bands) -> None:
    band = bands.add(BAND)

    renamed = bands.rename_kept(band.id, FRONT.id, "Loud rooms", seen=band.revision)

    with pytest.raises(BandChangedSince):
        bands.remove_kept(band.id, [FRONT.id], seen=band.revision)
    with pytest.raises(BandChangedSince):
        bands.remove(band.id, seen=band.revision)
    assert bands.get(band.id) == renamed
    assert renamed.kept[0].name == "Loud rooms"


def test_removed_kept_mix_and_removed_band_are_gone(bands: Bands) -> None:
    band = bands.add(BAND)

    left = bands.remove_kept(band.id, [FRONT.id], seen=band.revision)
    bands.remove(band.id, seen=left.revision)

    assert [one.id for one in left.kept] == ["kept2"]
    with pytest.raises(UnknownBand):
        bands.get(band.id)


def test_take_over_of_the_same_line_up_changes_no_revision(house: House, bands: Bands) -> None:
    band = bands.begin("Hens", house.shows.state(SHOW))

    assert bands.take_over(band.id, house.shows.state(SHOW)) == band


def test_deputy_of_one_evening_stays_out_of_the_band(house: House, bands: Bands) -> None:
    house.shows.submit(SHOW, c.PutMusician(Musician("singer", "Singer", deputy="Dora")))

    band = bands.begin("Hens", house.shows.state(SHOW))

    assert band.musicians == (Musician("singer", "Singer"),)


def test_show_begun_from_a_band_has_its_ids_order_and_kept_levels(house: House, bands: Bands) -> None:
    band = bands.add(BAND)

    show = open_show_from(house.shows, band, "next", c.OpenShow("Next evening")).show

    assert show.band == band.id
    assert tuple(show.sources) == tuple(source.id for source in band.sources)
    assert tuple(show.mixes) == ("front", "ears")
    assert show.position("front", "voice").setting == FRONT.sends["voice"]
    assert show.position("front", "voice").confirmed_at_ms is None
    assert show.standings == band.standings


def test_band_of_a_name_that_another_has_is_refused_however_a_language_writes_capitals(bands: Bands) -> None:
    bands.begin("Straße")

    with pytest.raises(BandNameTaken):
        bands.begin("STRASSE")
