"""The codes of a show: shown to be scanned, printed, replaced."""

import re
from urllib.parse import urlsplit

import pytest

from monreq.domain import commands as c
from monreq.web.tablet import tablet_path
from tests.support.codes import codes_in, page_pictures, page_texts, picture_of_svg
from tests.support.evening import CODES_URL, Evening
from tests.support.visitor import Page, Visitor

CODES = "/desk/codes"
POISON = "evil.example"


def scanned(page: Page) -> dict[str, str]:
    """What a phone reads off the screen, by what the code is labelled."""
    svgs = re.findall(r"<svg.*?</svg>", page.source, re.DOTALL)
    labels = [one.attrs["aria-label"] for one in page.markup.root.every("svg")]
    return {label: codes_in(picture_of_svg(svg, 4))[0] for label, svg in zip(labels, svgs, strict=True)}


def set_wifi(engineer: Visitor, network: str, password: str) -> Page:
    page = engineer.get(CODES)
    return engineer.press(
        page, page.button("put it on the cards"), {"network": network, "password": password}
    )


def test_every_code_says_the_link_that_stands_beside_it(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get(CODES)

    links = {
        f"Code for {evening.show.mix(mix).name}": CODES_URL + evening.link(mix) for mix in evening.show.mixes
    }
    tablet = CODES_URL + tablet_path(evening.monreq.key, evening.show)
    assert scanned(page) == {**links, "Code for the stage tablet": tablet}
    hrefs = [one.attrs["href"] for one in page.markup.root.every("a") if "/j/" in one.attrs["href"]]
    assert hrefs == list(links.values())


def test_a_scanned_code_opens_its_mix(engineer: Visitor, stranger: Visitor) -> None:
    link = scanned(engineer.get(CODES))["Code for Front wedge"]

    page = stranger.scan(link.removeprefix(CODES_URL))

    assert page.path == "/mix/front"


@pytest.mark.security
@pytest.mark.parametrize(
    "headers",
    [
        {"Host": POISON},
        {"X-Forwarded-Host": POISON},
        {"Forwarded": f"host={POISON}"},
        {"X-Forwarded-Host": POISON, "X-Forwarded-Proto": "https", "X-Forwarded-Port": "1"},
    ],
    ids=str,
)
def test_a_poisoned_host_reaches_no_link(engineer: Visitor, headers: dict[str, str]) -> None:
    usual = scanned(engineer.get(CODES))

    page = engineer.get(CODES, **headers)
    cards = engineer.client.get(f"{CODES}/cards.pdf", headers=headers)

    assert POISON not in page.source.replace("does not answer to &#x27;evil.example&#x27;", "")
    assert page.status == (421 if headers.get("Host") == POISON else 200)
    if page.status == 200:
        assert scanned(page) == usual
        printed = [code for picture in page_pictures(cards.data, 4) for code in codes_in(picture)]
        assert {urlsplit(code)[:2] for code in printed} == {urlsplit(CODES_URL)[:2]}


@pytest.mark.security
@pytest.mark.parametrize("path", ["/desk", "/mix/front", "/j/x"])
def test_no_redirect_names_a_host(engineer: Visitor, evening: Evening, path: str) -> None:
    for mix in list(evening.show.mixes):
        evening.do(c.RemoveMix(mix))

    location = engineer.get(path).headers.get("Location", "/")

    assert location.startswith("/")
    assert not location.startswith("//")


def test_replacing_a_code_cuts_the_old_one_and_shows_the_new(
    evening: Evening, engineer: Visitor, singer: Visitor, stranger: Visitor
) -> None:
    old = evening.link("front")
    page = engineer.get(CODES)

    page = engineer.do(page, page.button("replace this code", "/replace/front"))

    new = scanned(page)["Code for Front wedge"].removeprefix(CODES_URL)
    assert new != old
    assert len(page.notes) == 1
    assert [stranger.get(old).status, singer.get("/mix/front").status] == [410, 410]
    assert stranger.scan(new).path == "/mix/front"
    assert scanned(page)["Code for Rhythm"] == CODES_URL + evening.link("ears")


def test_what_became_of_a_code_is_told_in_the_desks_language(engineer: Visitor) -> None:
    page = engineer.get(CODES, **{"Accept-Language": "de"})
    form = page.button("diesen Code ersetzen", "/replace/front")

    engineer.press(page, form, None, **{"Accept-Language": "de"})

    assert engineer.get(CODES, **{"Accept-Language": "de"}).notes == [
        "Front wedge: Der alte Code öffnet nichts mehr. Druck die Karte neu."
    ]


def test_replacing_the_desks_code_keeps_this_browser_and_cuts_the_others(
    evening: Evening, engineer: Visitor, stranger: Visitor
) -> None:
    old = evening.link()
    stranger.scan(old)

    page = engineer.do(engineer.get(CODES), "replace the desk's code")

    assert page.status == 200
    assert engineer.get("/desk").status == 200
    assert [stranger.get("/desk").status, stranger.get(old).status] == [410, 410]
    assert stranger.scan(evening.link()).path == "/desk"


def test_an_unknown_mix_has_no_code_to_replace(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get(CODES)
    fields = page.sent_by(page.button("replace this code", "/replace/front"))

    answer = engineer.post(f"{CODES}/replace/nothere", fields)

    assert answer.status == 404
    assert evening.show.codes == {}


def test_without_wifi_there_is_no_code_to_join(engineer: Visitor) -> None:
    assert "Join the Wi-Fi" not in scanned(engineer.get(CODES))


@pytest.mark.parametrize(
    ("network", "password", "says"),
    [
        ("Stage", "loud enough", "WIFI:T:WPA;S:Stage;P:loud enough;;"),
        ("Open stage", "", "WIFI:S:Open stage;;"),
        ("a;b", 'c:d"ef\\gh', 'WIFI:T:WPA;S:a\\;b;P:c\\:d\\"ef\\\\gh;;'),
    ],
)
def test_wifi_is_kept_and_joined_by_a_code(engineer: Visitor, network: str, password: str, says: str) -> None:
    answer = set_wifi(engineer, network, password)

    page = engineer.get(answer.headers["Location"])
    assert scanned(page)["Join the Wi-Fi"] == says
    assert page.markup.fields(page.button("put it on the cards").form)["network"] == [network]


def test_characters_that_phones_misread_are_named(engineer: Visitor) -> None:
    set_wifi(engineer, "Stage;left", "12345678")

    assert "Many phones misread ; in a Wi-Fi code" in engineer.get(CODES).text


def test_wifi_can_be_taken_off_again(engineer: Visitor) -> None:
    set_wifi(engineer, "Stage", "loud enough")

    set_wifi(engineer, "", "")

    assert "Join the Wi-Fi" not in scanned(engineer.get(CODES))


@pytest.mark.parametrize(
    ("network", "password"),
    [
        ("x" * 33, ""),
        ("\N{LATIN SMALL LETTER E WITH ACUTE}" * 17, ""),
        ("Stage", "short"),
        ("Stage", "x" * 64),
    ],
)
def test_wifi_that_no_network_can_have_is_refused(
    evening: Evening, engineer: Visitor, network: str, password: str
) -> None:
    answer = set_wifi(engineer, network, password)

    assert answer.status == 422
    assert "A network's name has 1 to 32" in answer.text
    assert evening.monreq.settings.get("wifi_network") is None


def test_cards_are_a_pdf_with_everybodys_name_and_code(evening: Evening, engineer: Visitor) -> None:
    set_wifi(engineer, "Stage", "loud enough")

    answer = engineer.client.get(f"{CODES}/cards.pdf")

    read = [code for picture in page_pictures(answer.data, 6) for code in codes_in(picture)]
    words = " ".join(page_texts(answer.data))
    links = {CODES_URL + evening.link(mix) for mix in evening.show.mixes}
    assert (answer.status_code, answer.mimetype) == (200, "application/pdf")
    assert answer.headers["Cache-Control"] == "no-store"
    assert {code for code in read if "/j/" in code} == links
    assert "WIFI:T:WPA;S:Stage;P:loud enough;;" in read
    assert all(name in words for name in ("Ada", "Bo", "Cy", "Dorothea"))


def test_a_show_without_mixes_says_what_to_do_first(evening: Evening, engineer: Visitor) -> None:
    for mix in list(evening.show.mixes):
        evening.do(c.RemoveMix(mix))

    page, cards = engineer.get(CODES), engineer.client.get(f"{CODES}/cards.pdf")

    assert "No mix yet" in page.text
    assert cards.status_code == 422
    assert "prepare the show first" in cards.text


@pytest.mark.security
@pytest.mark.parametrize("hidden", ["\N{RIGHT-TO-LEFT OVERRIDE}", "\x1b", "\x00", "\N{ZERO WIDTH SPACE}"])
@pytest.mark.parametrize("field", ["network", "password"])
def test_wifi_with_characters_that_are_not_seen_is_refused(
    evening: Evening, engineer: Visitor, field: str, hidden: str
) -> None:
    page = engineer.get("/desk/codes")
    typed = {"network": "Stage", "password": "long enough", field: f"hidden{hidden}here"}

    answer = engineer.press(page, "put it on the cards", typed)

    assert answer.status == 422
    assert evening.monreq.settings.get("wifi_network") is None
