"""Who may come through which door: every route of the app declared by hand, and everybody who might knock.

A route that stands in no row here fails the matrix: say whose it is before it is served.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from flask import session
from flask.testing import FlaskClient
from flask_wtf.csrf import generate_csrf

from monreq.domain import commands as c
from monreq.web.access import token_of
from tests.support.evening import Evening
from tests.support.visitor import Visitor

OTHER_SHOW = "show2"


class Door(Enum):
    """Whose a route is, and by what it tells."""

    OPEN = "anybody's"
    CODE = "anybody's who holds a code that opens something"
    DESK = "the desk's, by its cookie"
    TABLET = "the stage tablet's, by its cookie"
    MIX = "a mix's own musicians', by their cookie"
    API_SHOW = "the desk's and every mix's, by their token"
    API_DESK = "the desk's, by its token"
    API_MIX = "the desk's and a mix's own, by their token"
    API_REQUEST = "the desk's and the mix's whose request it is, by their token"


_BY_BLUEPRINT: Mapping[str, Door] = {
    "afterwards": Door.DESK,
    "bands": Door.DESK,
    "book_merging": Door.DESK,
    "book_opening": Door.DESK,
    "books": Door.DESK,
    "codes": Door.DESK,
    "colours": Door.OPEN,
    "desk": Door.DESK,
    "desk_auxes": Door.DESK,
    "desks": Door.DESK,
    "exposure": Door.DESK,
    "groups": Door.DESK,
    "health": Door.OPEN,
    "keeping": Door.DESK,
    "languages": Door.OPEN,
    "levels": Door.DESK,
    "lists": Door.DESK,
    "measuring": Door.DESK,
    "moments": Door.DESK,
    "note_texts": Door.DESK,
    "phone": Door.MIX,
    "prepare": Door.DESK,
    "reckoning": Door.OPEN,
    "sheets": Door.DESK,
    "show_settings": Door.DESK,
    "songs": Door.DESK,
    "stage": Door.DESK,
    "start_mixes": Door.DESK,
}
"""Rooms whose routes are all of one kind; a blueprint that is not here declares each of its routes below."""

_ONE_BY_ONE: Mapping[str, Door] = {
    "static": Door.OPEN,
    "entry.welcome": Door.OPEN,
    "entry.read_short_code": Door.OPEN,
    "passphrase.ask_passphrase": Door.OPEN,
    "passphrase.enter": Door.OPEN,
    "passphrase.set_passphrase": Door.DESK,
    "passphrase.remove_passphrase": Door.DESK,
    "tablet.show_places": Door.TABLET,
    "tablet.pick": Door.TABLET,
    "tablet.ask": Door.CODE,
    "tablet.confirm": Door.CODE,
    "entry.ask_who": Door.CODE,
    "entry.confirm": Door.CODE,
    "api.get_openapi": Door.OPEN,
    "api.get_show": Door.API_SHOW,
    "api.get_mixes": Door.API_SHOW,
    "api.get_queue": Door.API_DESK,
    "api.post_decision": Door.API_DESK,
    "api.post_undo": Door.API_DESK,
    "api.post_correction": Door.API_DESK,
    "api.post_soundcheck_mark": Door.API_DESK,
    "api.get_mix": Door.API_MIX,
    "api.get_history": Door.API_MIX,
    "api.post_request": Door.API_MIX,
    "api.post_heard": Door.API_MIX,
    "api.get_request": Door.API_REQUEST,
    "api.delete_request": Door.API_REQUEST,
}


def door_of(endpoint: str) -> Door | None:
    """Return whose a route is; None if nobody said so."""
    return _ONE_BY_ONE.get(endpoint) or _BY_BLUEPRINT.get(endpoint.partition(".")[0])


def declared_in_vain(endpoints: set[str]) -> set[str]:
    """Return the rows that belong to no route any more."""
    rooms = {one.partition(".")[0] for one in endpoints}
    return (set(_ONE_BY_ONE) - endpoints) | (set(_BY_BLUEPRINT) - rooms)


@dataclass(frozen=True)
class Caller:
    """Somebody who knocks: a browser with its cookies, and a token.

    Attributes:
        mix: Whose code was theirs; None for a desk, and for who never had one.
    """

    name: str
    mix: str | None = None
    has_desk: bool = False
    is_replaced: bool = False
    is_elsewhere: bool = False

    def comes(self, evening: Evening) -> "Here":
        """Let them scan what they hold; a code that was replaced is replaced now."""
        visitor = Visitor(evening.monreq.flask)
        if self.mix is None and not self.has_desk:
            return _here(evening, visitor, {})
        show = evening.monreq.shows.state(OTHER_SHOW if self.is_elsewhere else evening.show.id)
        token = token_of(evening.monreq.key, show, self.mix)
        visitor.scan(f"/j/{token}")
        if self.is_replaced:
            evening.do(c.ReplaceCode(self.mix))
        return _here(evening, visitor, {"Authorization": f"Bearer {token}"})


@dataclass(frozen=True)
class Here:
    """A caller at the door.

    Attributes:
        csrf: Their browser's own token against forgery, so that nothing but the right itself is in the way.
    """

    client: FlaskClient
    bearer: Mapping[str, str]
    csrf: str


def _here(evening: Evening, visitor: Visitor, bearer: Mapping[str, str]) -> Here:
    with evening.monreq.flask.test_request_context():
        csrf, raw = generate_csrf(), session["csrf_token"]
    with visitor.client.session_transaction() as cookie:
        cookie["csrf_token"] = raw
    return Here(visitor.client, bearer, csrf)


NOBODY = Caller("nobody")
OWN = Caller("a musician of the mix", mix="front")
NEIGHBOUR = Caller("a musician of another mix", mix="side")
FORMER = Caller("a musician whose code was replaced", mix="front", is_replaced=True)
DESK = Caller("the desk", has_desk=True)
OLD_DESK = Caller("a desk whose code was replaced", has_desk=True, is_replaced=True)
FOREIGN_DESK = Caller("the desk of another show", has_desk=True, is_elsewhere=True)
CALLERS = (NOBODY, OWN, NEIGHBOUR, FORMER, DESK, OLD_DESK, FOREIGN_DESK)

LET_IN = 0
"""Stands for any answer that is no refusal for want of a right: a form may still lack a field."""

WITHOUT_RIGHT = (401, 403, 410)

_EVERYBODY = dict.fromkeys(CALLERS, LET_IN)
_NO_COOKIE = dict.fromkeys(CALLERS, 401)
_NO_TOKEN = {NOBODY: 401, FORMER: 410, OLD_DESK: 410}
# Another show's desk is at home in its own show, where none of these ids are.
EXPECTED: Mapping[Door, Mapping[Caller, int]] = {
    Door.OPEN: _EVERYBODY,
    Door.CODE: _EVERYBODY,
    Door.DESK: {**_NO_COOKIE, DESK: LET_IN, OLD_DESK: 410, FOREIGN_DESK: LET_IN},
    Door.TABLET: _NO_COOKIE,
    Door.MIX: {**_NO_COOKIE, OWN: LET_IN, FORMER: 410},
    Door.API_SHOW: {**_EVERYBODY, **_NO_TOKEN},
    Door.API_DESK: {**_EVERYBODY, **_NO_TOKEN, OWN: 403, NEIGHBOUR: 403},
    Door.API_MIX: {**_EVERYBODY, **_NO_TOKEN, NEIGHBOUR: 403, FOREIGN_DESK: 404},
    Door.API_REQUEST: {**_EVERYBODY, **_NO_TOKEN, NEIGHBOUR: 404, FOREIGN_DESK: 404},
}
"""What each caller is answered at each kind of door, about the front wedge and what was asked there."""
