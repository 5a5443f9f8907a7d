"""Band books on the desk's pages: downloaded, brought, refused in a sentence."""

import io
import json
from dataclasses import replace

import pytest

from monreq.books.read import LARGEST_BYTES, read_book
from monreq.books.write import write_book
from monreq.domain.band import Band
from monreq.domain.setup import Setting
from monreq.services.band_shows import begin_band
from tests.support.bands import BAND, FRONT
from tests.support.evening import Evening
from tests.support.visitor import Page, Visitor

BOOK = write_book(BAND, 1_800_000_000_000)


@pytest.fixture
def engineer(evening: Evening) -> Visitor:
    visitor = Visitor(evening.monreq.flask)
    visitor.scan(evening.link())
    return visitor


def bring(engineer: Visitor, content: bytes) -> Page:
    """Bring a file and see the page that it leads to."""
    page = engineer.get("/desk/books")
    fields = page.sent_by(page.button("take it in"))
    fields.pop("book", None)
    data = {**fields, "book": (io.BytesIO(content), "band.json")}
    answer = engineer.ask("POST", "/desk/books/bring", data=data, content_type="multipart/form-data")
    assert answer.status_code == 303
    return engineer.get(answer.headers["Location"])


def bands(evening: Evening) -> list[Band]:
    return [replace(evening.monreq.bands.get(one.id), revision=0) for one in evening.monreq.bands.entries()]


def test_book_that_is_downloaded_is_the_band(evening: Evening, engineer: Visitor) -> None:
    evening.monreq.bands.add(BAND)

    answer = engineer.ask("GET", "/desk/books/band1/file")

    assert answer.headers["Content-Disposition"] == "attachment; filename=the-test-matches.json"
    assert read_book(io.BytesIO(answer.data)) == BAND


def test_book_that_is_brought_is_taken_in_and_opened(evening: Evening, engineer: Visitor) -> None:
    page = bring(engineer, BOOK)

    assert bands(evening) == [BAND]
    assert page.path == "/desk/books/band1/open"
    assert page.notes == ["The Test Matches was taken in."]


def test_same_book_again_changes_nothing(evening: Evening, engineer: Visitor) -> None:
    bring(engineer, BOOK)

    page = bring(engineer, BOOK)

    assert bands(evening) == [BAND]
    assert page.notes == ["The Test Matches is here already, just like in this book."]


@pytest.mark.parametrize(
    "change", [{"name": "The Test Matches"}, {"id": "elsewhere", "name": "THE TEST MATCHES"}]
)
def test_another_evening_is_put_beside_and_shown_with_it(
    evening: Evening, engineer: Visitor, change: dict[str, str]
) -> None:
    evening.monreq.bands.add(BAND)
    other = replace(BAND, kept=(replace(FRONT, output=Setting(0)),), **change)  # type: ignore[arg-type]

    page = bring(engineer, write_book(other, 1_800_000_000_000))

    assert page.path.startswith("/desk/books/band1/merge/")
    assert [one.name for one in bands(evening)] == ["The Test Matches", f"{change['name']} (2)"]
    assert bands(evening)[0] == BAND
    assert bands(evening)[1].kept == other.kept


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"the set list", "This file is no band book of monreq."),
        (BOOK[:900], "damaged or cut off: line"),
        (BOOK.replace(b'"version": 1', b'"version": 2'), "written by a newer monreq"),
        (BOOK.replace(b'"open_mic"', b'"spoon"', 1), "damaged at band.sources[0].kind"),
    ],
    ids=["other", "cut off", "newer", "damaged"],
)
def test_what_is_no_book_is_refused_in_a_sentence(
    evening: Evening, engineer: Visitor, content: bytes, sentence: str
) -> None:
    page = bring(engineer, content)

    (note,) = page.notes
    assert sentence in note
    assert bands(evening) == []


def test_no_file_is_asked_for(engineer: Visitor) -> None:
    page = engineer.get("/desk/books")
    fields = page.sent_by(page.button("take it in"))
    fields.pop("book", None)

    answer = engineer.post("/desk/books/bring", fields)

    assert engineer.get(answer.headers["Location"]).notes == ["Choose a file first."]


def test_book_larger_than_a_form_is_taken(evening: Evening, engineer: Visitor) -> None:
    many = tuple(
        replace(FRONT, id=f"k{number}", kept_at_ms=FRONT.kept_at_ms + number) for number in range(900)
    )
    content = write_book(replace(BAND, kept=many), 1_800_000_000_000)

    bring(engineer, content)

    assert len(content) > 300_000
    assert len(bands(evening)[0].kept) == 900


def test_file_of_fifty_megabytes_is_refused_unread(evening: Evening, engineer: Visitor) -> None:
    unread = io.BytesIO(b"x")

    answer = engineer.ask(
        "POST",
        "/desk/books/bring",
        input_stream=unread,
        environ_overrides={"CONTENT_LENGTH": "50000000"},
        content_type="multipart/form-data; boundary=x",
    )

    assert answer.status_code == 413
    assert LARGEST_BYTES < 50_000_000
    assert (unread.tell(), bands(evening)) == (0, [])


def test_nobody_but_the_desk_may_send_more_than_a_form(evening: Evening) -> None:
    stranger = Visitor(evening.monreq.flask)
    data = {"book": (io.BytesIO(BOOK + b" " * 200_000), "band.json")}

    answer = stranger.ask("POST", "/desk/books/bring", data=data, content_type="multipart/form-data")

    assert answer.status_code in (400, 413)
    assert bands(evening) == []


def test_markup_in_names_is_shown_as_it_is(engineer: Visitor) -> None:
    evil = "<script>alert(1)</script>"
    book = json.loads(BOOK)
    book["band"]["name"] = book["band"]["sources"][0]["name"] = evil

    page = bring(engineer, json.dumps(book).encode())

    assert evil not in page.source
    assert evil in page.text
    assert evil not in engineer.get("/desk/books").source


def test_list_of_bands_says_which_is_the_shows(evening: Evening, engineer: Visitor) -> None:
    evening.monreq.bands.add(BAND)
    begin_band(evening.monreq.shows, evening.monreq.bands, evening.show, "The Marsh Hens")

    page = engineer.get("/desk/books")

    assert page.text.count("the band of this show") == 1
    assert page.text.index("The Marsh Hens") < page.text.index("the band of this show")
    assert page.text.index("the band of this show") < page.text.index("The Test Matches")
