"""The aux plan: who has which aux, what is missing, and who could share."""

import math
from dataclasses import replace
from typing import Any

import pytest

from monreq.domain.aux_outputs import Aux, AuxKind, Desk
from monreq.domain.aux_plan import AuxPlan, auxes_needed, mixes_possible, plan
from monreq.domain.aux_sharing import AS_GOOD_AS_OFF_DB, Sharing, Wanted
from monreq.domain.plan_refusals import AbsurdLevel, BadCount, BadPlace, MixTwice, TooManyMixes
from monreq.domain.setup import Output

LEVELS = {"voice": -6.0, "guitar": -12.0}


def wedge(
    name: str, place: tuple[float, float] | None = (0, 0), *, is_lead: bool = False, **levels: float
) -> Wanted:
    return Wanted(name, Output.WEDGE, levels=levels or LEVELS, place=place, is_lead=is_lead)


def in_ears(name: str, *, is_fed_mono: bool = False, is_lead: bool = False, **levels: float) -> Wanted:
    return Wanted(name, Output.IN_EAR_PAIR, is_fed_mono, levels or LEVELS, is_lead=is_lead)


def shared(planned: AuxPlan) -> list[tuple[str, ...]]:
    assert planned.sharing is not None
    return [one.mixes for one in planned.sharing.shared]


def only(sharing: Sharing | None) -> Sharing:
    assert sharing is not None
    return sharing


def test_wedge_takes_one_aux_and_an_in_ear_pair_two() -> None:
    assert auxes_needed(wedges=5, in_ear_pairs=3, effects=1) == 12


def test_every_aux_carries_one_mix() -> None:
    assert mixes_possible(mono=8, stereo=6) == 14


@pytest.mark.parametrize("count", [-1, 1000, math.nan, 0.5])
def test_count_that_is_none_is_refused(count: Any) -> None:
    with pytest.raises(BadCount):
        auxes_needed(count, 0, 0)
    with pytest.raises(BadCount):
        mixes_possible(0, count)
    with pytest.raises(BadCount):
        plan(Desk(1, 0), (), internal_effects=count)


def test_plan_that_is_enough_names_an_aux_for_each_mix_and_effect() -> None:
    planned = plan(
        Desk(mono=6, stereo=0), [in_ears("ears"), wedge("front"), wedge("left")], internal_effects=1
    )

    assert planned.carriers == {
        "ears": Aux(AuxKind.LINKED, (1, 2)),
        "front": Aux(AuxKind.MONO, (3,)),
        "left": Aux(AuxKind.MONO, (4,)),
    }
    assert planned.effects == (Aux(AuxKind.MONO, (5,)),)
    assert (planned.auxes_needed, planned.outputs_needed) == (5, 4)
    assert planned.is_enough
    assert planned.sharing is None


def test_in_ear_pair_fed_mono_takes_one_aux() -> None:
    planned = plan(Desk(mono=1, stereo=0), [in_ears("ears", is_fed_mono=True)])

    assert planned.carriers == {"ears": Aux(AuxKind.MONO, (1,))}
    assert planned.auxes_needed == 1


def test_plan_that_is_not_enough_says_who_has_none_and_what_is_missing() -> None:
    planned = plan(Desk(mono=2, stereo=0), [wedge("front"), wedge("left"), wedge("right"), in_ears("ears")])

    assert planned.without == ("right", "ears")
    assert planned.missing_auxes == 3
    assert planned.missing_outputs == 3
    assert not planned.is_enough


def test_lead_singer_who_is_named_first_is_served_before_any_in_ear_pair() -> None:
    mixes = [wedge("lead"), in_ears("drums"), in_ears("keys"), wedge("bass")]

    planned = plan(Desk(mono=4, stereo=1), mixes)

    assert planned.carriers == {
        "drums": Aux(AuxKind.STEREO, (1,)),
        "keys": Aux(AuxKind.LINKED, (1, 2)),
        "lead": Aux(AuxKind.MONO, (3,)),
        "bass": Aux(AuxKind.MONO, (4,)),
    }
    assert plan(Desk(mono=1, stereo=1), mixes).without == ("keys", "bass")


def test_mixes_most_alike_are_shared() -> None:
    planned = plan(
        Desk(mono=2, stereo=0),
        [wedge("a", voice=-6, drums=-20), wedge("b", voice=-20, drums=-6), wedge("c", voice=-7, drums=-19)],
    )

    assert shared(planned) == [("a", "c")]


def test_shared_mix_is_the_mean_in_db_and_its_cost_is_told() -> None:
    planned = plan(
        Desk(mono=1, stereo=0), [wedge("a", voice=-6, drums=-20), wedge("b", voice=-12, drums=-22)]
    )

    sharing = only(planned.sharing)
    assert sharing.shared[0].levels == {"voice": -9, "drums": -21}
    assert sharing.shared[0].off_by_db == pytest.approx({"a": math.sqrt(5), "b": math.sqrt(5)})
    assert sharing.off_by_db == pytest.approx(math.sqrt(5))
    assert sharing.is_exact


def test_source_that_is_off_counts_as_far_down() -> None:
    planned = plan(Desk(mono=1, stereo=0), [wedge("a", voice=-10), wedge("b", voice=-10, drums=-10)])

    assert only(planned.sharing).shared[0].levels == {"voice": -10, "drums": (-10 + AS_GOOD_AS_OFF_DB) / 2}


def test_source_as_good_as_off_in_all_is_left_out() -> None:
    planned = plan(Desk(mono=1, stereo=0), [wedge("a", voice=-10, drums=-60), wedge("b", voice=-10)])

    assert only(planned.sharing).shared[0].levels == {"voice": -10}


def test_wedges_out_of_reach_are_not_shared() -> None:
    mixes = [wedge("a", (0, 0)), wedge("b", (5, 0), voice=-20), wedge("c", (1, 0), voice=-30)]

    assert shared(plan(Desk(mono=2, stereo=0), mixes)) == [("a", "c")]
    assert shared(plan(Desk(mono=2, stereo=0), mixes, reach_m=6)) == [("b", "c")]


def test_all_wedges_of_a_shared_mix_are_within_reach_of_one_another() -> None:
    row = [wedge("a", (0, 0)), wedge("b", (1.5, 0)), wedge("c", (3, 0))]

    assert plan(Desk(mono=1, stereo=0), row).sharing is None


def test_wedge_whose_place_is_not_known_is_not_shared() -> None:
    assert plan(Desk(mono=1, stereo=0), [wedge("a", None), wedge("b", None)]).sharing is None


@pytest.mark.parametrize("place", [0, 1, 2])
def test_mix_of_the_lead_singer_is_never_shared(place: int) -> None:
    mixes = [wedge("a"), wedge("b", voice=-30)]
    mixes.insert(place, wedge("lead", is_lead=True))

    assert shared(plan(Desk(mono=2, stereo=0), mixes)) == [("a", "b")]
    assert plan(Desk(mono=1, stereo=0), mixes).sharing is None


def test_only_like_is_shared_with_like() -> None:
    mixes = [wedge("a"), in_ears("b", is_fed_mono=True), in_ears("c")]

    planned = plan(Desk(mono=3, stereo=0), mixes)

    assert planned.missing_auxes == 1
    assert planned.sharing is None


def test_sharing_that_leaves_out_one_in_ear_pair_makes_room_for_two_wedges() -> None:
    mixes = [
        in_ears("a", voice=-6),
        in_ears("b", voice=-8),
        wedge("c", voice=0),
        wedge("d", voice=-30),
    ]

    assert shared(plan(Desk(mono=4, stereo=0), mixes)) == [("a", "b")]


def test_effects_that_leave_no_room_cannot_be_helped_by_sharing() -> None:
    planned = plan(Desk(mono=2, stereo=0), [wedge("a"), wedge("b")], internal_effects=2)

    assert planned.missing_auxes == 2
    assert planned.sharing is None


def test_sharing_helps_where_only_outputs_are_missing() -> None:
    planned = plan(Desk(mono=4, stereo=0, outputs=1), [wedge("a"), wedge("b")])

    assert (planned.missing_auxes, planned.missing_outputs) == (0, 1)
    assert shared(planned) == [("a", "b")]


def test_mixes_too_many_by_tens_have_a_clear_answer() -> None:
    mixes = [in_ears(f"m{number}", voice=-float(number)) for number in range(60)]

    planned = plan(Desk(mono=4, stereo=1), mixes)

    assert planned.missing_auxes == 114
    assert len(planned.without) == 57
    assert sum(len(one.mixes) for one in only(planned.sharing).shared) == 60
    assert not only(planned.sharing).is_exact


def test_mixes_without_levels_yet_are_planned_all_the_same() -> None:
    mixes = [replace(in_ears(name), levels={}) for name in "ab"]

    assert only(plan(Desk(mono=0, stereo=1), mixes).sharing).off_by_db == 0


def test_plan_of_nothing_is_enough() -> None:
    planned = plan(Desk(mono=0, stereo=0), ())

    assert planned.is_enough
    assert planned.carriers == {}


def test_mix_that_stands_twice_is_refused() -> None:
    with pytest.raises(MixTwice):
        plan(Desk(4, 0), [wedge("a"), wedge("a")])


def test_more_mixes_than_any_stage_has_are_refused() -> None:
    with pytest.raises(TooManyMixes):
        plan(Desk(4, 0), [wedge(f"m{number}") for number in range(65)])


@pytest.mark.parametrize("level", [121, -121, math.nan, math.inf])
def test_level_that_makes_no_sense_is_refused(level: float) -> None:
    with pytest.raises(AbsurdLevel):
        wedge("a", voice=level)


@pytest.mark.parametrize("metres", [1e4, math.nan, math.inf])
def test_place_that_makes_no_sense_is_refused(metres: float) -> None:
    with pytest.raises(BadPlace):
        wedge("a", (metres, 0))


@pytest.mark.parametrize("reach_m", [-1, math.nan])
def test_reach_that_is_no_distance_is_refused(reach_m: float) -> None:
    with pytest.raises(BadPlace):
        plan(Desk(1, 0), [wedge("a")], reach_m=reach_m)


def test_as_many_mixes_as_a_plan_takes_have_an_aux_each() -> None:
    planned = plan(Desk(64, 0), [wedge(f"m{number}") for number in range(64)])

    assert planned.is_enough
    assert len(planned.carriers) == 64
