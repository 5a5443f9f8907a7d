"""How changes are heard, against published rules of thumb.

A trap: one page prints the sone as 2^(0.1 P - 40), with the 40 outside the tenth; 2^((P - 40) / 10) is meant. ISO 532-2
gives 15.8 sones at 80 phon where ISO 532-1 gives 16; the second is reckoned here.
"""

import pytest

from monreq.domain.loudness import TWICE_AS_LOUD_DB, Heard, heard_as, loudness_ratio
from tests.support.fact_table import FactTable, close
from tests.support.facts import Fact

pytestmark = pytest.mark.external

TABLE = FactTable("06_loudness_perception")
PRINTED = {
    "just perceptibly louder": Heard.JUST,
    "just perceptibly quieter": Heard.JUST,
    "louder": Heard.CLEARLY,
    "quieter": Heard.CLEARLY,
    "twice as loud": Heard.TWICE,
    "half as loud": Heard.TWICE,
}


@pytest.mark.parametrize("fact", TABLE.read("loudness.sone_from_phon"), ids=str)
def test_ratio_gives_sones_above_forty_phon(fact: Fact) -> None:
    """Source: ISO 532-1 as at mathworks.com/help/audio/ref/sone2phon.html."""
    assert loudness_ratio(fact.inputs["phon"] - 40) == close(fact)


@pytest.mark.parametrize("fact", TABLE.read("loudness.ratio", "loudness.ratio.printed"), ids=str)
def test_ratio_of_loudness(fact: Fact) -> None:
    """Source: 2^(d/10), printed rounded at logison.com: 7 % for 1 dB, 23 % for 3 dB."""
    assert loudness_ratio(fact.inputs["change_db"]) == close(fact)


@pytest.mark.parametrize("fact", TABLE.read("loudness.doubling"), ids=str)
def test_change_that_doubles_loudness(fact: Fact) -> None:
    """Source: diracdelta.co.uk on loudness; 5 to 6 dB do at 20 to 200 Hz."""
    assert close(fact) == TWICE_AS_LOUD_DB


@pytest.mark.parametrize(("inputs", "label"), TABLE.read_texts("loudness.label"), ids=str)
def test_change_is_heard_as_the_label_says(inputs: dict[str, float], label: str) -> None:
    """Source: epanorama.net/documents/audio/loudness_table.html."""
    assert heard_as(inputs["change_db"]) is PRINTED[label]


def test_no_row_of_the_table_is_left_unread() -> None:
    """Source: the table itself."""
    assert TABLE.unread() == set()
