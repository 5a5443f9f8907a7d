"""Several shows in one browser: two stages' desks, or one musician's mixes on both; each page stays with its own.

A plain address means the show that was opened last. Where a browser holds several, the addresses on its pages name
theirs, and a line leads to the others.
"""

from dataclasses import dataclass
from typing import Any

from flask import Flask, current_app, g, url_for
from markupsafe import Markup

from monreq.domain.refusals import Refusal
from monreq.services.ports import StorageFailed
from monreq.web.access import Principal, admission, admission_of_page, admissions, check_still_valid
from monreq.web.context import web
from monreq.web.show_marks import SHOW

_OTHERS = "monreq_other_shows"


@dataclass(frozen=True, slots=True)
class OtherShow:
    """Another show that this browser holds the same desk, or a mix of the same name, of."""

    name: str
    address: str


def init_app(app: Flask) -> None:
    """Let the addresses of a page name its show where there are several."""
    app.url_defaults(_name_show)
    app.jinja_env.globals.update(other_shows=other_shows, show_field=show_field)


def other_shows() -> list[OtherShow]:
    """Return the open shows that this page could be of as well."""
    return [OtherShow(name, _address(show_id)) for show_id, name in _others().items()]


def _address(show_id: str) -> str:
    here = admission_of_page()
    if here is None or here.mix is None:
        return url_for("desk.show_queue", show=show_id)
    return url_for("phone.show_mix", mix=here.mix, show=show_id)


def show_field() -> Markup:
    """Return the field by which a form that only asks for a page names its show, where there are several."""
    here = admission_of_page()
    if here is None or not _is_to_be_named(here):
        return Markup()
    return Markup('<input type="hidden" name="{}" value="{}">').format(SHOW, here.show_id)


def _name_show(endpoint: str, values: dict[str, Any]) -> None:
    here = admission_of_page()
    if here is None or SHOW in values or not _leads_to(endpoint, values, here) or not _is_to_be_named(here):
        return
    values[SHOW] = here.show_id


def _leads_to(endpoint: str, values: dict[str, Any], here: Principal) -> bool:
    rule = next(current_app.url_map.iter_rules(endpoint)).rule
    if here.mix is None:
        return rule == "/desk" or rule.startswith("/desk/")
    return rule.startswith("/mix/") and values.get("mix") == here.mix


def _is_to_be_named(here: Principal) -> bool:
    return admission(here.mix) != here or bool(_others())


def _others() -> dict[str, str]:
    """Return the names of the other shows by their ids, looked up once for a page."""
    if _OTHERS not in g:
        setattr(g, _OTHERS, dict(_looked_up()))
    found: dict[str, str] = g.get(_OTHERS)
    return found


def _looked_up() -> list[tuple[str, str]]:
    here = admission_of_page()
    if here is None:
        return []
    found = []
    for one in admissions():
        if one.mix != here.mix or one.show_id == here.show_id:
            continue
        try:
            show = web().shows.state(one.show_id)
            check_still_valid(show, one)
        except (Refusal, StorageFailed):
            continue
        if show.is_open:
            found.append((one.show_id, show.name))
    return found
