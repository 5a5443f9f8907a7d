"""What becomes of codes: exchanged and gone from sight, replaced, unknown."""

from pathlib import Path

import pytest

from monreq.domain import commands as c
from tests.support import evening as evenings
from tests.support.evening import Evening
from tests.support.visitor import Visitor

FORGED = "show1-front.AAAAAAAAAAAAAAAAAAAAAA"


def token(link: str) -> str:
    return link.rpartition("/")[2]


@pytest.mark.security
@pytest.mark.parametrize("mix", ["front", None])
def test_token_is_nowhere_once_it_was_exchanged(evening: Evening, stranger: Visitor, mix: str | None) -> None:
    secret = token(evening.link(mix))
    mac = secret.partition(".")[2]
    page = stranger.get(evening.link(mix))

    answer = stranger.press(page, page.buttons()[0])

    home = stranger.get(answer.headers["Location"])
    cookies = [answer.headers.get("Set-Cookie", "")]
    assert mac not in answer.headers["Location"] + answer.source + "".join(cookies)
    assert mac not in home.source
    assert mac not in stranger.get(f"{home.path}/places").response.text


@pytest.mark.security
def test_phone_pages_hold_no_token_of_any_kind(evening: Evening, singer: Visitor) -> None:
    macs = [token(evening.link(mix)).partition(".")[2] for mix in (None, "front", "ears", "side")]

    text = singer.get("/mix/front").source + singer.get("/mix/front/places").response.text

    assert [mac for mac in macs if mac in text] == []


@pytest.mark.security
@pytest.mark.parametrize("mix", ["front", None])
def test_replaced_code_is_told_so(evening: Evening, stranger: Visitor, mix: str | None) -> None:
    old = evening.link(mix)
    stranger.scan(old)
    home = "/desk" if mix is None else f"/mix/{mix}"
    evening.do(c.ReplaceCode(mix))

    answers = [stranger.get(old), stranger.get(home), stranger.get(f"{home}/places"), stranger.post(old, {})]

    assert [answer.status for answer in answers[:3]] == [410, 410, 410]
    assert answers[3].status in (400, 410)
    assert "This code was replaced." in answers[0].text
    assert "This code was replaced." in answers[1].text


@pytest.mark.security
def test_replaced_code_takes_no_request(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    evening.do(c.ReplaceCode("front"))

    answer = singer.press(page, "more Voice")

    assert answer.status == 410
    assert evening.asked() == []


def test_new_code_asks_once_more_and_admits_again(evening: Evening, singer: Visitor) -> None:
    evening.do(c.ReplaceCode("front"))

    page = singer.scan(evening.link("front"))

    assert (page.status, page.path) == (200, "/mix/front")


@pytest.mark.security
@pytest.mark.parametrize(
    "unknown", [FORGED, "show1.AAAAAAAAAAAAAAAAAAAAAA", "nowhere.AAAAAAAAAAAAAAAAAAAAAA", "x", "show1-front."]
)
def test_unknown_code_is_refused_in_words(evening: Evening, stranger: Visitor, unknown: str) -> None:
    page = stranger.get(f"/j/{unknown}")

    assert page.status == 401
    assert "This code is not known here." in page.text
    assert evening.show.name not in page.text


@pytest.mark.security
def test_a_code_of_another_installation_is_unknown(stranger: Visitor, tmp_path: Path) -> None:
    other = evenings.start(tmp_path / "other")
    evenings.set_up(other)
    link = other.link(other.shows.state(evenings.SHOW), "front", "")
    other.close()

    assert stranger.get(link).status == 401
