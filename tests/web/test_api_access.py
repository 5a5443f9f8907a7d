"""Who may call the JSON interface, and what everybody else is told."""

import pytest

from monreq.domain import commands as c
from monreq.services.ports import StorageFailed
from monreq.web.access import Principal, admit, token_of
from monreq.web.pace import BURST, PER_SECOND
from tests.support.api_client import ApiClient
from tests.support.web_app import KEY, Site

LEVEL = {"client_id": "a1", "kind": "level", "source": "voice", "change_db": 3}


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("GET", "/show"),
        ("GET", "/queue"),
        ("GET", "/mixes"),
        ("GET", "/mixes/front"),
        ("GET", "/mixes/front/history"),
        ("POST", "/mixes/front/requests"),
        ("POST", "/mixes/front/corrections"),
        ("GET", "/requests/r1"),
        ("DELETE", "/requests/r1"),
        ("POST", "/decisions"),
        ("POST", "/decisions/d1/undo"),
        ("POST", "/soundcheck-mark"),
    ],
)
def test_every_route_asks_for_a_token(site: Site, method: str, path: str) -> None:
    nobody = ApiClient(site.app, None)

    reply = nobody.send(method, path, b"{}")

    assert (reply.status, reply.error) == (401, "token_required")
    assert reply.headers["WWW-Authenticate"] == "Bearer"
    assert set(reply.json) == {"error", "message"}


@pytest.mark.security
@pytest.mark.parametrize(
    "header",
    [
        "Bearer",
        "Bearer ",
        "Basic c2hvdzE6eA==",
        "Token show1.AAAAAAAAAAAAAAAAAAAAAA",
        "Digest username=show1",
        "\x00",
        "",
    ],
)
def test_a_header_that_is_no_bearer_token_opens_nothing(site: Site, header: str) -> None:
    reply = ApiClient(site.app, None).send("GET", "/queue", Authorization=header)

    assert (reply.status, reply.error) == (401, "token_required")


@pytest.mark.security
@pytest.mark.parametrize(
    "token",
    [
        "show1",
        "show1.AAAAAAAAAAAAAAAAAAAAAA",
        "show1-front.AAAAAAAAAAAAAAAAAAAAAA",
        "show9.AAAAAAAAAAAAAAAAAAAAAA",
        "../../etc.AAAAAAAAAAAAAAAAAAAAAA",
        "a" * 5000,
        "show1\u00e9.AAAAAAAAAAAAAAAAAAAAAA",
    ],
)
def test_a_token_that_nobody_made_opens_nothing(site: Site, token: str) -> None:
    reply = ApiClient(site.app, token).get("/mixes/front")

    assert (reply.status, reply.error) == (401, "unknown_code")


@pytest.mark.security
def test_a_mix_token_with_the_mix_rewritten_opens_nothing(site: Site) -> None:
    forged = site.token("front").replace("-front.", "-ears.")

    reply = ApiClient(site.app, forged).get("/mixes/ears")

    assert (reply.status, reply.error) == (401, "unknown_code")


@pytest.mark.security
def test_a_cookie_of_the_desk_counts_for_nothing(site: Site) -> None:
    browser = site.app.test_client()

    @site.app.get("/let-me-in")
    def let_in() -> str:
        admit(Principal(site.show_id, None, 0))
        return "in"

    browser.get("/let-me-in")
    reply = browser.get("/api/v1/queue")

    assert "session=" in browser.get("/let-me-in").headers["Set-Cookie"]
    assert reply.status_code == 401


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("GET", "/queue"),
        ("POST", "/decisions"),
        ("POST", "/decisions/d1/undo"),
        ("POST", "/mixes/front/corrections"),
        ("POST", "/soundcheck-mark"),
        ("GET", "/mixes/ears"),
        ("GET", "/mixes/ears/history"),
        ("POST", "/mixes/ears/requests"),
        ("GET", "/mixes/nosuch"),
    ],
)
def test_a_mix_token_is_refused_what_is_not_its_own(
    site: Site, front: ApiClient, method: str, path: str
) -> None:
    before = site.show

    reply = front.send(method, path, b"{}")

    assert (reply.status, reply.error) == (403, "not_yours")
    assert site.show == before


@pytest.mark.security
def test_a_mix_token_is_shown_no_name_of_another_mix(front: ApiClient, desk: ApiClient) -> None:
    desk.post("/mixes/ears/requests", LEVEL | {"musician": "bass", "source": "guitar"})

    shown = [front.get(path).json for path in ("/show", "/mixes", "/mixes/front", "/mixes/front/history")]

    assert [mix["mix"] for mix in shown[1]["mixes"]] == ["front"]
    assert not any(word in str(shown) for word in ("Rhythm", "'ears'", "Drummer"))


def test_a_replaced_code_is_gone_and_the_new_one_opens(site: Site) -> None:
    old = ApiClient(site.app, site.token("front"))
    site.do(c.ReplaceCode("front"))

    reply = old.get("/mixes/front")

    assert (reply.status, reply.error) == (410, "code_replaced_since")
    assert ApiClient(site.app, site.token("front")).get("/mixes/front").json["mix"] == "front"


def test_the_code_of_a_removed_mix_is_gone(site: Site, front: ApiClient) -> None:
    site.do(c.RemoveMix("front"))

    reply = front.get("/mixes")

    assert (reply.status, reply.error) == (410, "code_replaced_since")


@pytest.mark.parametrize(
    "path", ["", "/", "/nothing", "/queue/", "/mixes/front/", "/requests", "//queue", "/../v1/nothing"]
)
def test_an_unknown_path_is_said_in_json(desk: ApiClient, path: str) -> None:
    reply = desk.get(path)

    assert (reply.status, reply.error) == (404, "not_found")
    assert reply.json["message"] == "There is nothing at this address."


@pytest.mark.parametrize(
    ("method", "path", "allowed"),
    [
        ("DELETE", "/queue", "GET, HEAD, OPTIONS"),
        ("GET", "/decisions", "OPTIONS, POST"),
        ("PATCH", "/requests/r1", "DELETE, GET, HEAD, OPTIONS"),
        ("POST", "/openapi.json", "GET, HEAD, OPTIONS"),
    ],
)
def test_a_wrong_method_is_said_in_json(desk: ApiClient, method: str, path: str, allowed: str) -> None:
    reply = desk.send(method, path)

    assert (reply.status, reply.error) == (405, "method_not_allowed")
    assert reply.json["message"] == "This address is not used with this method."
    assert reply.headers["Allow"] == allowed


def test_a_path_outside_the_interface_is_left_to_the_app(site: Site) -> None:
    answer = site.app.test_client().get("/api/v1nothing")

    assert (answer.status_code, answer.mimetype) == (404, "text/html")


def test_a_mix_that_sends_too_fast_is_slowed_down_and_stores_nothing(site: Site, front: ApiClient) -> None:
    for _ in range(BURST):
        front.get("/show")
    before = site.show

    reply = front.post("/mixes/front/requests", LEVEL)

    assert (reply.status, reply.error) == (429, "too_fast")
    assert reply.headers["Retry-After"] == "1"
    assert site.show == before


def test_a_mix_that_was_too_fast_goes_on_after_the_time_it_was_told(site: Site, front: ApiClient) -> None:
    statuses = [front.get("/show").status for _ in range(BURST + 1)]
    site.wait(1)

    later = [front.get("/show").status for _ in range(PER_SECOND + 1)]

    assert statuses == [200] * BURST + [429]
    assert later == [200] * PER_SECOND + [429]


def test_one_fast_mix_slows_no_other_mix_and_not_the_desk(
    front: ApiClient, ears: ApiClient, desk: ApiClient
) -> None:
    for _ in range(BURST + 1):
        front.get("/show")

    assert ears.get("/show").status == 200
    assert {desk.get("/show").status for _ in range(BURST + 10)} == {200}


def test_a_closed_show_takes_nothing_and_still_shows_itself(
    site: Site, desk: ApiClient, front: ApiClient
) -> None:
    asked = front.post("/mixes/front/requests", LEVEL).json["request"]
    site.do(c.CloseShow())

    refused = [
        front.post("/mixes/front/requests", LEVEL | {"client_id": "a2"}),
        front.delete(f"/requests/{asked}"),
        desk.post("/decisions", {"requests": [asked], "outcome": "done"}),
        desk.post("/mixes/front/corrections", {"source": "voice", "level_db": -3}),
        desk.post("/soundcheck-mark"),
    ]

    assert {(reply.status, reply.error) for reply in refused} == {(410, "show_closed")}
    assert desk.get("/show").json["is_open"] is False
    assert front.get("/mixes/front").json["sends"][0]["level_db"] == -20.0


@pytest.mark.faults
def test_a_disk_that_fails_is_said_and_nothing_is_stored(site: Site, front: ApiClient) -> None:
    def fail() -> None:
        raise StorageFailed

    site.log.at_commit = fail

    reply = front.post("/mixes/front/requests", LEVEL)

    assert (reply.status, reply.error) == (503, "storage_failed")
    assert site.show.open_requests == {}


def test_a_fault_of_our_own_is_said_in_json(site: Site) -> None:
    def fail() -> None:
        raise ZeroDivisionError

    site.app.config.update(TESTING=False)
    site.log.at_commit = fail
    answer = site.app.test_client().post(
        "/api/v1/mixes/front/requests", json=LEVEL, headers={"Authorization": f"Bearer {site.token('front')}"}
    )

    assert answer.status_code == 500
    assert answer.get_json()["error"] == "internal_server_error"


def test_two_shows_on_one_laptop_do_not_see_each_other(site: Site, desk: ApiClient) -> None:
    asked = desk.post("/mixes/front/requests", LEVEL).json["request"]
    site.shows.open("show2", c.OpenShow("Other evening"))
    other = ApiClient(site.app, token_of(KEY, site.shows.state("show2"), None))

    assert other.get("/show").json["name"] == "Other evening"
    assert other.get("/queue").json["rows"] == []
    assert other.get(f"/requests/{asked}").error == "unknown_request"
    assert other.get("/mixes/front").error == "unknown_mix"
