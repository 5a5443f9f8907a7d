"""A code replaced at one worker: who listens at the other by the old one is told, cut, and not let in again."""

import pytest
import socketio

from tests.support.festival import Festival, admit_desk, replace_code
from tests.support.serving import PATIENCE_S
from tests.support.workers import Listener, token_in

pytestmark = [pytest.mark.postgres, pytest.mark.security]


def test_a_live_connection_at_the_other_worker_is_cut(festival: Festival) -> None:
    phone = token_in(festival.one.links["Guitar"])
    with Listener(festival.other.url, "/phone", phone) as page, admit_desk(festival.one) as desk:
        replace_code(desk, festival.one.url, "guitar")

        told = [page.ended.get(timeout=PATIENCE_S), page.ended.get(timeout=PATIENCE_S)]

    assert told == ["revoked", "cut"]
    with pytest.raises(socketio.exceptions.ConnectionError):
        Listener(festival.other.url, "/phone", phone)
