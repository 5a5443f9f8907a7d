"""What tests of services start from."""

import pytest

from monreq.domain import commands as c
from monreq.domain.setup import Mix, Musician, Output, Source, SourceKind
from tests.support.house import SHOW, House


@pytest.fixture
def house() -> House:
    house = House()
    house.shows.open(SHOW, c.OpenShow("Evening"))
    house.shows.submit(SHOW, c.PutMusician(Musician("singer", "Singer")))
    house.shows.submit(SHOW, c.PutMix(Mix("front", "Front", Output.WEDGE, ("singer",))))
    house.shows.submit(SHOW, c.PutSource(Source("voice", "Voice", SourceKind.OPEN_MIC)))
    house.told.clear()
    return house
