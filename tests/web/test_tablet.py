"""The stage tablet: its code, everybody's places, a mix that is picked, and that it is forgotten."""

import pytest

from monreq.domain import commands as c
from monreq.web.tablet import tablet_path
from tests.support.evening import Evening
from tests.support.visitor import Visitor


@pytest.fixture
def tablet(evening: Evening) -> Visitor:
    visitor = Visitor(evening.monreq.flask)
    visitor.do(visitor.get(path(evening)), "open the stage tablet")
    return visitor


def path(evening: Evening) -> str:
    return tablet_path(evening.monreq.key, evening.show)


def face(visitor: Visitor, name: str) -> str:
    """Return what the button of a musician is called: the name with the mix and the place."""
    return next(one for one in visitor.get("/tablet").buttons() if one.startswith(name))


def test_everybody_who_hears_a_mix_has_a_face_and_nothing_of_the_desk_is_open(
    evening: Evening, tablet: Visitor
) -> None:
    faces = tablet.get("/tablet").buttons()

    musicians = [musician for mix in evening.show.mixes.values() for musician in mix.musicians]
    assert len(faces) == len(musicians) > 2
    assert tablet.ask("GET", "/desk").status_code == 401
    assert tablet.ask("GET", "/mix/front").status_code == 401


def test_who_is_picked_asks_for_their_own_mix(evening: Evening, tablet: Visitor) -> None:
    page = tablet.do(tablet.get("/tablet"), face(tablet, "Ada"))

    tablet.do(page, "more Voice")

    (request,) = evening.show.open_requests.values()
    assert (request.key.mix, request.musician) == ("front", "singer")


def test_going_back_forgets_who_was_picked(tablet: Visitor) -> None:
    tablet.do(tablet.get("/tablet"), face(tablet, "Ada"))
    assert tablet.ask("GET", "/mix/front").status_code == 200

    tablet.get("/tablet")

    assert tablet.ask("GET", "/mix/front").status_code == 401


def test_without_scripts_the_page_goes_back_by_itself(tablet: Visitor) -> None:
    tablet.do(tablet.get("/tablet"), face(tablet, "Ada"))

    page = tablet.ask("GET", "/mix/front").text

    assert '<noscript><meta http-equiv="refresh" content="20; url=/tablet"></noscript>' in page


def test_a_musician_is_picked_only_for_a_mix_that_they_hear(tablet: Visitor) -> None:
    fields = tablet.get("/tablet")
    csrf = fields.sent_by(fields.markup.buttons()[0])["csrf_token"]

    answer = tablet.ask("POST", "/tablet", data={"csrf_token": csrf, "mix": "side", "musician": "singer"})

    assert answer.status_code == 422
    assert tablet.ask("GET", "/mix/side").status_code == 401


@pytest.mark.security
def test_the_tablets_code_is_replaced_with_the_desks(evening: Evening, tablet: Visitor) -> None:
    old = path(evening)
    evening.do(c.ReplaceCode(None))

    assert tablet.ask("GET", "/tablet").status_code == 410
    assert tablet.ask("GET", old).status_code == 410
    assert tablet.ask("GET", path(evening)).status_code == 200


@pytest.mark.security
@pytest.mark.parametrize("subject", [None, "front"])
def test_another_code_makes_no_tablet_and_the_tablets_opens_nothing_else(
    evening: Evening, subject: str | None
) -> None:
    stranger = Visitor(evening.monreq.flask)
    other = evening.link(subject).rpartition("/")[2]
    own = path(evening).rpartition("/")[2]

    assert stranger.ask("GET", f"/tablet/open/{other}").status_code == 401
    assert stranger.ask("GET", f"/j/{own}").status_code == 401
    bearer = {"Authorization": f"Bearer {own}"}
    assert stranger.ask("GET", "/api/v1/queue", headers=bearer).status_code == 401
