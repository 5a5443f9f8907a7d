"""What an admission reaches, and the cookie that carries it."""

import pytest

from tests.support import evening as evenings
from tests.support.evening import Evening
from tests.support.visitor import Visitor


@pytest.mark.security
def test_somebody_elses_mix_is_refused(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    fields = page.sent_by(page.button("more Voice"))

    statuses = [
        singer.get("/mix/side").status,
        singer.get("/mix/side/places").status,
        singer.post("/mix/side", fields).status,
        singer.get("/mix/ears/who").status,
        singer.get("/desk").status,
        singer.get("/desk/mix/front").status,
    ]

    assert statuses == [401] * 6
    assert evening.asked() == []


@pytest.mark.security
def test_an_unknown_mix_looks_like_somebody_elses(singer: Visitor) -> None:
    theirs, nobodys = singer.get("/mix/side"), singer.get("/mix/nothere")

    assert (theirs.status, theirs.text) == (nobodys.status, nobodys.text)


def test_several_admissions_live_in_one_cookie(evening: Evening, stranger: Visitor) -> None:
    stranger.scan(evening.link())
    stranger.scan(evening.link("front"))
    stranger.scan(evening.link("ears"), lambda _: "Bo")

    stranger.do(stranger.get("/mix/front"), "more Voice")
    stranger.do(stranger.get("/mix/ears"), "less Drums")

    asked = {(one.musician, one.key.mix) for one in evening.show.open_requests.values()}
    assert asked == {("singer", "front"), ("bass", "ears")}
    assert stranger.get("/desk").status == 200
    assert stranger.get("/mix/side").status == 401


@pytest.mark.security
def test_cookie_is_out_of_reach_of_scripts_and_foreign_pages(evening: Evening, stranger: Visitor) -> None:
    page = stranger.get(evening.link("front"))

    (cookie,) = stranger.press(page, page.buttons()[0]).headers.getlist("Set-Cookie")

    parts = {part.strip().partition("=")[0] for part in cookie.split(";")}
    assert cookie.startswith(f"monreq_{evenings.PORT}=")
    assert {"HttpOnly", "SameSite", "Expires"} <= parts
    assert "SameSite=Lax" in cookie
    assert "Secure" not in parts


@pytest.mark.security
def test_a_tampered_cookie_admits_nobody(evening: Evening, singer: Visitor) -> None:
    name = f"monreq_{evenings.PORT}"
    cookie = singer.client.get_cookie(name)
    assert cookie is not None
    payload, _, signature = cookie.value.partition(".")
    singer.client.set_cookie(name, f"{payload[:-2]}AA.{signature}")

    assert singer.get("/mix/front").status == 401
    assert evening.asked() == []
