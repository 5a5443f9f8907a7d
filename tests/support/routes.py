"""Every address of the app, found in its own map: a route that is added is tested without anybody thinking of it."""

from collections.abc import Iterator

from werkzeug.routing import Rule

from monreq.web.tablet import tablet_path
from tests.support.evening import SHOW, Evening


def rules(evening: Evening, *methods: str) -> Iterator[tuple[str, Rule]]:
    """Give each rule with each of these methods that it takes."""
    for rule in evening.monreq.flask.url_map.iter_rules():
        for method in methods:
            if method in (rule.methods or ()):
                yield method, rule


def addresses(evening: Evening, *methods: str) -> list[tuple[str, str]]:
    """Return each method with an address of each rule that takes it, about the front wedge."""
    return [(method, address(evening, rule)) for method, rule in rules(evening, *methods)]


def address(evening: Evening, rule: Rule, **given: str) -> str:
    """Return an address of a rule; unless told otherwise about the front wedge, its singer and its voice."""
    values = {
        "token": evening.link("front").rpartition("/")[2],
        "tablet_token": tablet_path(evening.monreq.key, evening.show).rpartition("/")[2],
        "mix": "front",
        "source": "voice",
        "musician": "singer",
        "filename": "monreq.css",
        "request_id": "r1",
        "decision": "d1",
        "after": SHOW,
        "kept": "kept1",
        "band": "band1",
        "other": "band2",
        "group": "kit",
        "revision": str(evening.show.revision),
        **given,
    }
    method = next(iter(set(rule.methods or ()) - {"HEAD", "OPTIONS"}))
    built: str = evening.monreq.flask.url_map.bind("").build(
        rule.endpoint, {name: values[name] for name in rule.arguments}, method=method
    )
    return built
