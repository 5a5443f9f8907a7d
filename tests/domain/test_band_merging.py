"""Two evenings of one band: side by side as computed by hand, and merged without losing anything in silence."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.band import Band
from monreq.domain.band_merged import merge
from monreq.domain.band_merging import Line, OtherFacts, Pick, compare
from monreq.domain.carry_refusals import PickForEachMix
from monreq.domain.carry_report import What
from monreq.domain.groups import Group
from monreq.domain.setup import Output, Setting, Source, SourceKind
from monreq.domain.songs import Song
from tests.support.bands import BAND, EARS, FRONT, PAIR, SOURCES, kept_mix
from tests.support.strategies import BANDS

LATER = kept_mix("kept9", "front", -80, {"voice": Setting(-10), "kick": Setting(-200)}, at=5)
THEIRS = replace(BAND, kept=(LATER, EARS))


def renumbered(band: Band) -> Band:
    """Return a band as another machine would have it: the same names, other ids."""
    ids = {source.id: f"s{place}" for place, source in enumerate(band.sources)}
    mixes = {mix.id: f"m{place}" for place, mix in enumerate(band.mixes)}
    return replace(
        band,
        sources=tuple(replace(one, id=ids[one.id]) for one in band.sources),
        mixes=tuple(replace(one, id=mixes[one.id]) for one in band.mixes),
        source_places={},
        kept=tuple(
            replace(one, mix=mixes[one.mix], sends={ids[source]: at for source, at in one.sends.items()})
            for one in band.kept
        ),
    )


@pytest.mark.parametrize("theirs", [THEIRS, renumbered(THEIRS)], ids=["same ids", "same names"])
def test_what_was_kept_stands_side_by_side_with_the_difference(theirs: Band) -> None:
    front, ears = compare(BAND, theirs).mixes

    assert (front.mix, front.needs_pick, ears.needs_pick) == ("front", True, False)
    (pair,) = front.pairs
    # By hand: output -6 to -8, voice -4 to -1.
    assert [(line.name, line.difference_tenths) for line in pair.lines] == [
        ("", -20),
        ("Kick", None),
        ("Bass", None),
        ("Keys", None),
        ("Lead voice", 30),
    ]
    assert pair.lines[1] == Line("kick", "Kick", None, Setting(-200))


@pytest.mark.parametrize("theirs", [THEIRS, renumbered(THEIRS)], ids=["same ids", "same names"])
@pytest.mark.parametrize(
    ("pick", "names"),
    [
        (Pick.OURS, ["Kept1", "Kept2"]),
        (Pick.THEIRS, ["Kept2", "Kept9"]),
        (Pick.BOTH, ["Kept1", "Kept2", "Kept9"]),
    ],
)
def test_what_was_picked_goes_on(theirs: Band, pick: Pick, names: list[str]) -> None:
    merged = merge(BAND, theirs, {"front": pick})

    assert [one.name for one in merged.kept] == names
    assert {one.mix for one in merged.kept} == {"front", "ears"}
    assert (merged.sources, merged.mixes, merged.musicians) == (BAND.sources, BAND.mixes, BAND.musicians)


def test_mix_that_differs_must_be_picked() -> None:
    with pytest.raises(PickForEachMix):
        merge(BAND, THEIRS, {"ears": Pick.OURS})


def test_what_only_the_others_have_is_added_behind_and_told() -> None:
    horn = Source("horn", "Trumpet", SourceKind.OPEN_MIC)
    theirs = replace(BAND, sources=(horn, *SOURCES), groups=(Group("g1", "Horns", ("horn",)),))

    merged = merge(BAND, theirs, {})

    assert merged.sources == (*SOURCES, horn)
    assert merged.groups == theirs.groups
    assert (compare(BAND, theirs).only_theirs, compare(theirs, BAND).only_ours) == (
        ("Trumpet",),
        ("Trumpet",),
    )


def test_another_source_under_an_id_of_ours_gets_its_own() -> None:
    ours = Band(
        "b1",
        "Ours",
        sources=(Source("s1", "Kick", SourceKind.OPEN_MIC),),
        groups=(Group("g1", "All", ("s1",)),),
    )
    theirs = Band("b1", "Ours", sources=(Source("g1", "Trumpet", SourceKind.OPEN_MIC),))

    merged = merge(ours, theirs, {})

    assert [(one.id, one.name) for one in merged.sources] == [("s1", "Kick"), ("g12", "Trumpet")]


def test_facts_that_differ_are_told_and_ours_stay() -> None:
    theirs = replace(BAND, mixes=(replace(BAND.mixes[0], output=Output.IN_EAR_PAIR, place="left"), PAIR))

    merging = compare(BAND, theirs)

    assert merging.facts == (OtherFacts(What.MIX, "Front", ("output", "place")),)
    assert merge(BAND, theirs, {}).mixes == BAND.mixes


def test_names_that_are_only_alike_are_kept_apart_and_told() -> None:
    theirs = Band("band1", "x", sources=(Source("v", "Lead vox", SourceKind.OPEN_MIC),))

    assert compare(BAND, theirs).unsure == (("Lead voice", "Lead vox"),)
    assert [one.name for one in merge(BAND, theirs, {}).sources][-1] == "Lead vox"


def test_songs_of_one_name_are_one_song() -> None:
    ours = replace(BAND, songs=(Song("a", "Opener"),), kept=(kept_mix("k1", "front", 0, {}, song="a"),))
    theirs = replace(BAND, songs=(Song("b", "OPENER"),), kept=(kept_mix("k2", "front", -10, {}, song="b"),))

    merged = merge(ours, theirs, {"front": Pick.BOTH})

    assert [(one.id, one.song) for one in merged.kept] == [("k1", "a"), ("k2", "a")]
    assert [pair.song for pair in compare(ours, theirs).mixes[0].pairs] == ["Opener"]


def test_same_id_of_another_kept_mix_is_not_lost() -> None:
    theirs = replace(BAND, kept=(replace(LATER, id=FRONT.id), EARS))

    merged = merge(BAND, theirs, {"front": Pick.BOTH})

    assert len({one.id for one in merged.kept}) == 3


@given(BANDS)
def test_a_band_merged_with_itself_stays_as_it_is(band: Band) -> None:
    merged = merge(band, band, {})

    assert replace(merged, kept=()) == replace(band, kept=())
    assert sorted(merged.kept, key=lambda one: one.id) == sorted(band.kept, key=lambda one: one.id)


@given(BANDS, BANDS, st.sampled_from(Pick))
def test_nothing_of_either_evening_is_lost_but_what_was_not_picked(
    ours: Band, theirs: Band, pick: Pick
) -> None:
    merging = compare(ours, theirs)
    picks = {one.mix: pick for one in merging.mixes if one.needs_pick}
    picks |= dict.fromkeys({one.mix for one in ours.kept}, pick)

    merged = merge(ours, theirs, picks)

    assert merged.sources[: len(ours.sources)] == ours.sources
    assert len({one.id for one in merged.sources} | {one.id for one in merged.groups}) == len(
        merged.sources
    ) + len(merged.groups)
    assert len({one.id for one in merged.kept}) == len(merged.kept)
    assert {one.name for one in theirs.musicians} - {one.name for one in merged.musicians} <= {
        one.name for one in theirs.musicians if one.id in {it.id for it in ours.musicians}
    } | _same_names(ours, theirs)


def _same_names(ours: Band, theirs: Band) -> set[str]:
    known = {one.name.casefold() for one in ours.musicians}
    return {one.name for one in theirs.musicians if one.name.casefold() in known}


def test_mix_kept_twice_alike_needs_no_pick_however_either_machine_numbered_what_it_kept() -> None:
    """A machine that took in only part of a file numbers what it keeps anew, in another order."""
    earlier = kept_mix("kept1", "front", -60, {"voice": Setting(-40)})
    later = kept_mix("kept2", "front", -80, {"voice": Setting(-10)}, at=5)
    ours = replace(BAND, kept=(earlier, later))
    theirs = replace(BAND, kept=(replace(later, id="kept1"), replace(earlier, id="kept2")))

    assert [one.needs_pick for one in compare(ours, theirs).mixes if one.mix == "front"] == [False]
