"""Open microphones and planning gains against two handbooks.

A trap: authors number the four lengths differently, so that they are read here by what they join: Ds from the talker to the
microphone, D0 to the listener, D1 from the microphone to the loudspeaker, D2 from there to the listener. Printed results
add rounded steps: 66.5 - 53 = 13.5 dB, where 13.38 comes out.
"""

import pytest

from monreq.domain.feedback import (
    LOW_MARGIN_DB,
    combined_margin,
    margin_after,
    needed_gain,
    open_mic_penalty,
    potential_gain,
)
from tests.support.fact_table import FactTable, close
from tests.support.facts import Fact

pytestmark = pytest.mark.external

TABLE = FactTable("04_feedback")


def potential(fact: Fact) -> float:
    inputs = fact.inputs
    return potential_gain(
        talker_to_mic_m=inputs["Ds"],
        talker_to_listener_m=inputs["D0"],
        mic_to_speaker_m=inputs["D1"],
        speaker_to_listener_m=inputs["D2"],
        open_mics=inputs["nom"],
        stability_margin_db=inputs["fsm_db"],
        critical_distance_m=inputs.get("Dc"),
    )


def needed(fact: Fact, heard_at: str = "EAD") -> float:
    return needed_gain(
        talker_to_listener_m=fact.inputs["D0"],
        as_near_as_m=fact.inputs[heard_at],
        critical_distance_m=fact.inputs.get("Dc"),
    )


@pytest.mark.parametrize("fact", TABLE.read("nom.loss.exact", "nom.loss.printed"), ids=str)
def test_penalty_of_open_mics(fact: Fact) -> None:
    """Sources: tvtechnology.com and the column 'The PAG-NAG', printed rounded, and 10 lg(n)."""
    assert open_mic_penalty(fact.inputs["nom"]) == close(fact)


@pytest.mark.parametrize("fact", TABLE.read("nom.change"), ids=str)
def test_margin_after_more_mics_were_opened(fact: Fact) -> None:
    """Source: 10 lg(old / new)."""
    before, after = fact.inputs["nom_old"], fact.inputs["nom_new"]

    assert margin_after(0, 0, open_before=before, open_after=after) == close(fact)


@pytest.mark.parametrize("fact", TABLE.read("nom.loss.exact"), ids=str)
def test_equal_margins_combine_to_the_penalty_of_open_mics(fact: Fact) -> None:
    """Source: 10 lg(n), Handbook for Sound Engineers, ch. 34."""
    assert 12 - combined_margin([12] * fact.inputs["nom"]) == close(fact)


@pytest.mark.parametrize("fact", TABLE.read("fsm.default"), ids=str)
def test_margin_below_which_a_caution_stands(fact: Fact) -> None:
    """Source: Handbook for Sound Engineers, eq. 34-21; Sound Reinforcement Handbook, sect. 5.3.1."""
    assert fact.expected == LOW_MARGIN_DB


@pytest.mark.parametrize(
    "fact",
    TABLE.read("pag.exact", "pag.printed", "pag.outdoor.exact", "pag.indoor.exact", "pag.indoor.printed"),
    ids=str,
)
def test_potential_gain(fact: Fact) -> None:
    """Sources: Sound System Design Reference Manual, p. 4-2; Handbook for Sound Engineers, eqs 34-5, 34-21 to 34-24."""
    assert potential(fact) == close(fact)


@pytest.mark.parametrize(
    "fact",
    TABLE.read("nag.exact", "nag.printed", "nag.outdoor.exact", "nag.indoor.exact", "nag.indoor.printed"),
    ids=str,
)
def test_needed_gain(fact: Fact) -> None:
    """Sources: Sound System Design Reference Manual, p. 4-4; Handbook for Sound Engineers, eq. 34-8."""
    assert needed(fact) == close(fact)


@pytest.mark.parametrize("fact", TABLE.read("nag.printed_difference"), ids=str)
def test_needed_gain_to_be_heard_as_if_half_as_far(fact: Fact) -> None:
    """Source: Sound System Design Reference Manual, p. 4-4: half of the distance needs 6 dB more."""
    assert needed(fact, "EAD_new") - needed(fact, "EAD_old") == close(fact)


@pytest.mark.parametrize("fact", TABLE.read("stability.margin"), ids=str)
def test_plan_that_cannot_work_has_less_potential_than_needed_gain(fact: Fact) -> None:
    """Source: Handbook for Sound Engineers, ch. 34, the indoor example: 11.6 dB where 17.7 are needed."""
    (possible,) = TABLE.read("pag.indoor.exact")
    (wanted,) = TABLE.read("nag.indoor.exact")

    assert potential(possible) - needed(wanted) == close(fact)


def test_no_row_of_the_table_is_left_unread() -> None:
    """Source: the table itself."""
    assert TABLE.unread() == set()
