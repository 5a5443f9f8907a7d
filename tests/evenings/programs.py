"""Programs that speak JSON: one with the desk's code, one with a phone's."""

from collections.abc import Iterator
from typing import Any

from monreq.domain.setup import Output
from monreq.domain.show import Show
from tests.evenings.company import Company
from tests.evenings.players import Desk, Phone


def speak(company: Company, phone: Phone) -> None:
    """Let both programs do everything that the interface has."""
    ask_all(phone)
    answer_all(company.desk)
    for one in company.phones:
        _hear(one)


def ask_all(phone: Phone) -> None:
    """Ask for everything that can be asked for, take one back, and look at the rest."""
    browser, mix = phone.browser, phone.mix
    if phone.wake():
        phone.scan()  # a card may have been replaced: the token is the new one's
    sends = _told(browser.call("GET", f"/mixes/{mix}"), "sends")
    source = phone.dice.choice([one["source"] for one in sends]) if sends else None
    asks: list[dict[str, Any]] = [
        {"kind": "level", "source": source, "change_db": 2},
        {"kind": "level", "source": None, "amount": "some", "direction": "more"},
        {"kind": "pan", "source": source, "change_pan": 0.2},
        {"kind": "out", "source": source},
        {"kind": "sound", "source": source, "words": "harsh"},
        {"kind": "call", "call": "talk"},
        {"kind": "level", "source": "nothing", "change_db": 1},
    ]
    for number, ask in enumerate(asks):
        body = {"client_id": f"{browser.who.replace(' ', '')}-{phone.house.trail.count}-{number}", **ask}
        who = {"musician": browser.musician}
        status, told = browser.call("POST", f"/mixes/{mix}/requests", {**body, **who})
        if status < 300:
            browser.call("GET", f"/requests/{told['request']}")
            if number == 0:
                browser.call("DELETE", f"/requests/{told['request']}")
    for path in ("/show", "/mixes", f"/mixes/{mix}/history", "/openapi.json"):
        browser.call("GET", path)


def _hear(phone: Phone) -> None:
    for one in _told(phone.browser.call("GET", f"/mixes/{phone.mix}"), "to_hear")[:1]:
        body = {
            "client_id": f"heard-{phone.house.trail.count}",
            "musician": phone.browser.musician,
            "decision": one["decision"],
            "heard": phone.dice.choice(("right", "too_little", "too_much")),
        }
        phone.browser.call("POST", f"/mixes/{phone.mix}/heard", body)


def answer_all(desk: Desk) -> None:
    """Answer rows in several ways, undo one, correct a level, and look at everything."""
    browser = desk.browser
    desk.come()
    show = desk.house.show(browser.show_id)
    answers: list[dict[str, Any]] = [
        {"outcome": "done"},
        {"outcome": "set_aside"},
        {"outcome": "not_done", "reason": "near_feedback"},
        {"outcome": "done", "done_db": 1},
        {"outcome": "done", "level_db": -12},
    ]
    for number, answer in enumerate(answers):
        rows = _told(browser.call("GET", "/queue"), "rows")
        if rows:
            body = {"client_id": f"desk-{desk.house.trail.count}-{number}", "requests": rows[0]["requests"]}
            status, told = browser.call("POST", "/decisions", {**body, **answer})
            if status < 300 and number == 0:
                browser.call("POST", f"/decisions/{told['decision']}/undo")
    mix = desk.dice.choice(list(show.mixes))
    source = desk.dice.choice([*show.levels[mix].sends, None])
    browser.call("POST", f"/mixes/{mix}/corrections", {"source": source, "level_db": -11.5})
    for path in ("/show", "/mixes", f"/mixes/{mix}", f"/mixes/{mix}/history"):
        browser.call("GET", path)


def ring(desk: Desk) -> None:
    """Turn a mic up in a wedge by a program, and let somebody who hears it call that it squeals."""
    browser, show = desk.browser, desk.house.show(desk.browser.show_id)
    for mix, mic in _ringing(show):
        body = {"client_id": f"ring-{desk.house.trail.count}", "musician": show.mixes[mix].musicians[0]}
        status, asked = browser.call(
            "POST", f"/mixes/{mix}/requests", {**body, "kind": "level", "source": mic, "change_db": 4}
        )
        if status == 201 and asked["state"] == "waiting":
            answer = {"requests": [asked["request"]], "outcome": "done", "done_db": 4}
            browser.call("POST", "/decisions", answer)
            call = {**body, "client_id": f"{body['client_id']}-call", "kind": "call", "call": "squeal"}
            browser.call("POST", f"/mixes/{mix}/requests", call)
            return


def _ringing(show: Show) -> Iterator[tuple[str, str]]:
    """Yield the mics that are on in wedges that somebody hears, with room above them."""
    for mix in show.mixes.values():
        for source, position in (
            show.sends_in_order(mix.id) if mix.output is Output.WEDGE and mix.musicians else ()
        ):
            if source.can_ring and position.setting.is_on and position.setting.level_tenths < 0:
                yield mix.id, source.id


def mark(desk: Desk) -> None:
    """Set the soundcheck mark as a program does."""
    desk.browser.call("POST", "/soundcheck-mark")


def _told(answer: tuple[int, Any], name: str) -> list[Any]:
    status, told = answer
    return list(told[name]) if status == 200 else []
