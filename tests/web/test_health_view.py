"""What the desk reads of the laptop's troubles: one line each, with its figures, and what to do."""

import pytest

from monreq.services.health import Notice, Trouble
from monreq.storage import failures, same_file
from monreq.web import health_view
from monreq.web.health_view import health_places
from tests.support.evening import Evening
from tests.support.visitor import Visitor

NOTICES = [
    (Notice(Trouble.STORAGE, ("The disk is full.",)), "Nothing can be stored now: The disk is full."),
    (
        Notice(Trouble.ADDRESS, ("192.0.2.20", "192.0.2.35")),
        "Codes point to 192.0.2.20, this laptop is now 192.0.2.35",
    ),
    (Notice(Trouble.ADDRESS, ("192.0.2.20", "")), "this laptop is in no network"),
    (Notice(Trouble.SLOW, ("0.8",)), "The disk is slow: storing took 0.8 s."),
    (Notice(Trouble.DATABASE_SLOW, ("0.8",)), "The database answers slowly: storing took 0.8 s."),
    (Notice(Trouble.DISK_LOW, ("12",)), "Only 12 MB are left on the disk"),
    (Notice(Trouble.COPIES, ("The disk is full.",)), "No copy could be made: The disk is full."),
    (Notice(Trouble.CLOCK, ("+3600",)), "The laptop slept, or its clock was set: +3600 s."),
]


@pytest.mark.parametrize(("notice", "expected"), NOTICES)
def test_notice_is_said_in_a_line(evening: Evening, notice: Notice, expected: str) -> None:
    with evening.monreq.flask.test_request_context():
        (line,) = health_places([notice])["health"].view

    assert expected in str(line).replace("\N{FIRST STRONG ISOLATE}", "").replace(
        "\N{POP DIRECTIONAL ISOLATE}", ""
    )


@pytest.mark.parametrize("page", ["/desk", "/desk/prepare", "/desk/codes", "/desk/kept"])
def test_desk_page_shows_what_is_wrong_until_it_is_well(
    evening: Evening, engineer: Visitor, page: str
) -> None:
    health = evening.monreq.flask.extensions["monreq"].health
    well = engineer.get(page).response.text
    health.put(Trouble.DISK_LOW, "12")
    ill = engineer.get(page).response.text
    health.clear(Trouble.DISK_LOW)

    assert "MB are left" not in well
    assert ill.count("MB are left on the disk") == 1
    assert "MB are left" not in engineer.get(page).response.text


def test_everything_that_the_storage_says_is_marked_to_be_translated() -> None:
    said = {*failures._SENTENCES.values(), same_file.GONE, same_file.ANOTHER}

    assert said - set(health_view._WHY) == set()
