"""Every page for everybody: who may see it sees it, and everybody else is told why not."""

import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from monreq.cli.demo import begin
from monreq.domain import commands as c
from monreq.domain.band_commands import ChooseBand
from monreq.domain.requests import Call
from monreq.domain.show import Show
from tests.support import evening as evenings
from tests.support.bands import BAND
from tests.support.evening import Evening
from tests.support.markup import Markup
from tests.support.routes import address, rules
from tests.support.visitor import Visitor

pytestmark = pytest.mark.security

SHOW = "demo"
OPEN_TO_ALL = {
    "/",
    "/desk/enter",
    "/healthz",
    "/language",
    "/reckoning",
    "/static/<filename>",
    "/static/<path:filename>",
    "/api/v1/openapi.json",
}
BY_TOKEN = "/j/<token>"
TABLET, TABLET_BY_TOKEN = "/tablet", "/tablet/open/<tablet_token>"
API = "/api/v1/"


@dataclass(frozen=True)
class Role:
    """Somebody who looks at pages.

    Attributes:
        expected: What they are answered at the desk's pages, and at those of a mix.
    """

    name: str
    desk: int
    mix: int


STRANGER = Role("a stranger", 401, 401)
DESK = Role("the desk", 200, 401)
OWN = Role("a musician of the mix", 401, 200)
OTHER = Role("a musician of another mix", 401, 401)
REPLACED = Role("a musician whose code was replaced", 401, 410)
OLD_DESK = Role("a desk whose code was replaced", 410, 401)
ROLES = (STRANGER, DESK, OWN, OTHER, REPLACED, OLD_DESK)


class Demo(Evening):
    """The demo's evening beside the other."""

    @property
    def show(self) -> Show:
        return self.monreq.shows.state(SHOW)


@pytest.fixture(scope="module")
def demo_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo")
    monreq = evenings.start(folder)
    evenings.set_up(monreq)
    begin(monreq.shows, SHOW)
    for band in (BAND, replace(BAND, id="band2", name="Other evening")):
        monreq.bands.add(band)
    for command in (
        ChooseBand(BAND.id),
        c.AskForLevel("drums", None, "kick", 30),
        c.AskForPan("drums", None, "kick", 20),
        c.AskAboutSound("drums", None, "kick", "muddy"),
        c.CallDesk("drums", None, Call.HURTS),
    ):
        monreq.shows.submit(SHOW, command)
    monreq.close()
    return folder


@pytest.fixture
def demo(demo_folder: Path, tmp_path: Path) -> Iterator[Demo]:
    folder = tmp_path / "data"
    shutil.copytree(demo_folder, folder)
    monreq = evenings.start(folder)
    yield Demo(monreq)
    monreq.close()


def visitor_for(demo: Demo, role: Role) -> Visitor:
    visitor = Visitor(demo.monreq.flask)
    shows = demo.monreq.shows
    if role in (DESK, OLD_DESK):
        visitor.scan(demo.link())
    if role in (OWN, REPLACED):
        visitor.scan(demo.link("drums"))
    if role is OTHER:
        visitor.scan(demo.link("guitar"))
    if role is REPLACED:
        shows.submit(SHOW, c.ReplaceCode("drums"))
    if role is OLD_DESK:
        shows.submit(SHOW, c.ReplaceCode(None))
    return visitor


def expected(role: Role, rule: str) -> int:
    if rule in {*OPEN_TO_ALL, TABLET_BY_TOKEN}:
        return 200
    if rule == TABLET:
        return 401
    if rule == BY_TOKEN:
        return {OWN: 303}.get(role, 200)
    if rule.startswith(API):
        return 401
    return role.desk if rule.startswith("/desk") else role.mix


@pytest.mark.parametrize("role", ROLES, ids=lambda role: role.name)
def test_every_page_answers_those_who_may_see_it_and_nobody_else(demo: Demo, role: Role) -> None:
    visitor = visitor_for(demo, role)
    names = {"mix": "drums", "source": "kick", "musician": "drums"}

    seen = {}
    for _, rule in rules(demo, "GET"):
        token = demo.link("drums").rpartition("/")[2]
        seen[rule.rule] = visitor.ask("GET", address(demo, rule, **names, token=token)).status_code

    wanted = {rule: expected(role, rule) for rule in seen}
    front = {DESK: 303, OWN: 303, OTHER: 303, REPLACED: 303, OLD_DESK: 303}
    wanted["/"] = front.get(role, 200)
    wanted.update(
        {rule: status for rule, status in seen.items() if rule == "/static/<filename>" and status == 200}
    )
    assert len(seen) >= 18
    assert seen == wanted


@pytest.mark.parametrize("role", [STRANGER, OWN, OTHER, REPLACED, OLD_DESK], ids=lambda role: role.name)
def test_nobody_but_the_desk_changes_anything_at_the_desk(demo: Demo, role: Role) -> None:
    visitor = visitor_for(demo, role)
    page = visitor.get(Evening(demo.monreq).link("side"))
    csrf = page.sent_by(page.markup.buttons()[0])["csrf_token"]
    names = {"mix": "drums", "source": "kick", "musician": "drums"}
    fields = {
        "csrf_token": csrf,
        "client_id": "x",
        "show": f"{SHOW}.0",
        "do": "mark:",
        "name": "Mine",
        "change": "+3",
        "seen": "1",
    }
    before = demo.show

    seen = {
        rule.rule: visitor.ask("POST", address(demo, rule, **names), data=fields).status_code
        for _, rule in rules(demo, "POST")
        if rule.rule.startswith("/desk") and rule.rule not in OPEN_TO_ALL
    }

    assert len(seen) >= 15
    assert seen == dict.fromkeys(seen, role.desk)
    assert demo.show == before
    assert demo.monreq.settings.get("wifi_network") is None


_NAMES = ("mix", "source", "musician", "token", "tablet_token", "band", "other", "kept")


@pytest.mark.parametrize("role", [DESK, OWN], ids=lambda role: role.name)
def test_pages_of_unknown_things_are_refused(demo: Demo, role: Role) -> None:
    visitor = visitor_for(demo, role)
    names = dict.fromkeys(_NAMES, "nothere")

    seen = {
        rule.rule: visitor.ask("GET", address(demo, rule, **names)).status_code
        for _, rule in rules(demo, "GET")
        if "<" in rule.rule and "static" not in rule.rule
    }

    assert set(seen.values()) <= {401, 404}
    assert seen["/desk/mix/<mix>"] == (404 if role is DESK else 401)


def test_every_page_is_well_formed_and_has_a_title(demo: Demo) -> None:
    visitor = visitor_for(demo, DESK)
    visitor.scan(demo.link("drums"))

    for _, rule in rules(demo, "GET"):
        answer = visitor.ask("GET", address(demo, rule, mix="drums", token=demo.link("guitar")[3:]))
        if answer.status_code == 200 and answer.mimetype == "text/html":
            markup = Markup(re.split("<body[^>]*>", answer.text)[1].partition("</body>")[0])
            ids = [one.attrs["id"] for one in markup.root.every() if "id" in one.attrs]
            assert re.search(r"<title>[^<]+</title>", answer.text), rule.rule
            assert len(list(markup.root.every("h1"))) == 1, rule.rule
            assert sorted(ids) == sorted(set(ids)), rule.rule
            assert [one for one in _labels(markup) if one not in ids] == [], rule.rule


def test_every_page_of_a_demo_says_that_it_is_one(demo: Demo) -> None:
    visitor = visitor_for(demo, DESK)
    visitor.scan(demo.link("drums"))

    marked = {}
    for _, rule in rules(demo, "GET"):
        answer = visitor.ask("GET", address(demo, rule, mix="drums"))
        if rule.rule not in OPEN_TO_ALL and answer.status_code == 200 and answer.mimetype == "text/html":
            marked[rule.rule] = any(Markup(answer.text).root.every(**{"class": "demo"}))

    assert len(marked) > 15
    assert {rule for rule, is_marked in marked.items() if not is_marked} == set()


def _labels(markup: Markup) -> list[str]:
    return [one.attrs["for"] for one in markup.root.every("label") if "for" in one.attrs]
