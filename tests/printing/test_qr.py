"""What a code says, and that a phone can read it."""

import re
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from monreq.printing import qr
from tests.support.codes import codes_in, in_poor_light, picture_of_svg

ADDRESS = "http://192.168.50.10:8080/j/k3f9-m1.8fJk2L0oIl9PqRsTuVwXyZ"


def version_of(text: str) -> int:
    return (len(qr.modules(text)) - 17) // 4


@pytest.mark.parametrize(
    "text",
    [
        ADDRESS,
        "WIFI:T:WPA;S:Stage 2;P:twenty wedges;;",
        "WIFI:T:WPA;S:Bühne;P:pass\\,word;;",
        "WIFI:S:舞台;;",
        "x",
        "<&\">'",
    ],
)
def test_svg_reads_back_exactly(text: str) -> None:
    picture = picture_of_svg(qr.svg(text, "Open your mix"), pixels_per_module=4)

    assert codes_in(picture) == [text]


def test_svg_reads_back_in_poor_light() -> None:
    picture = picture_of_svg(qr.svg(ADDRESS, "Open your mix"), pixels_per_module=4)

    assert codes_in(in_poor_light(picture)) == [ADDRESS]


@settings(max_examples=25, deadline=None)
@given(st.text(st.characters(min_codepoint=32, max_codepoint=126), min_size=1, max_size=120))
def test_svg_reads_back_whatever_the_text(text: str) -> None:
    picture = picture_of_svg(qr.svg(text, "code"), pixels_per_module=4)

    assert codes_in(picture) == [text]


def test_svg_is_dark_on_white_without_style_attributes() -> None:
    svg = qr.svg(ADDRESS, "Open your mix")

    root = ET.fromstring(svg)  # noqa: S314 -- the project's own markup
    assert [child.attrib["fill"] for child in root] == ["#fff", "#000"]
    assert [child.attrib.get("width") for child in root] == [root.attrib["viewBox"].split()[2], None]
    assert not re.search(r"\bstyle=|\bclass=|<style|<script", svg)


def test_svg_leaves_the_quiet_zone_clear() -> None:
    svg = qr.svg(ADDRESS, "Open your mix")

    picture = picture_of_svg(svg, pixels_per_module=1)
    inverted = picture.point([255 - level for level in range(256)])
    side = len(qr.modules(ADDRESS))
    assert picture.size == (side + 8, side + 8)
    assert inverted.getbbox() == (4, 4, 4 + side, 4 + side)


def test_svg_label_cannot_leave_its_attribute() -> None:
    label = '"><script>alert(1)</script>'

    root = ET.fromstring(qr.svg("x", label))  # noqa: S314 -- the project's own markup

    assert root.attrib["aria-label"] == label
    assert root.attrib["role"] == "img"
    assert len(root) == 2


def test_modules_refuses_what_no_code_holds() -> None:
    assert version_of("a" * 2331) == 40

    with pytest.raises(qr.TextTooLongError, match="2332 bytes"):
        qr.modules("a" * 2332)


@pytest.mark.external
@pytest.mark.parametrize(
    ("version", "capacity"),
    [(1, 14), (2, 26), (5, 84), (6, 106), (7, 122), (8, 152), (10, 213)],
)
def test_modules_takes_the_smallest_version(version: int, capacity: int) -> None:
    """Capacities at level M in byte mode.

    Source: ISO/IEC 18004, table 7, as printed in an industrial-marker manual
    (easymanua.ls, lp-rv-series, page 162) for versions 1 to 6; versions 7 to 10 by
    agreement of two independent writers (segno 1.6.6 and qrcode 8.2).
    """
    full, one_more = "a" * capacity, "a" * (capacity + 1)

    assert (version_of(full), version_of(one_more)) == (version, version + 1)


@pytest.mark.external
def test_modules_counts_bytes_rather_than_characters() -> None:
    """Capacity is in bytes: version 1 at level M holds 14.

    Source: ISO/IEC 18004, table 7 (byte mode), as above; a letter with umlaut is two bytes in UTF-8.
    """
    assert version_of("ü" * 7) == 1
    assert version_of("ü" * 8) == 2


@pytest.mark.external
@pytest.mark.parametrize(
    ("text", "version"),
    [("http://192.168.50.10:8080/j/7K3Q9X", 3), ("http://10.0.0.5:8000/", 2)],
)
def test_modules_of_an_address_take_the_least_room(text: str, version: int) -> None:
    """Versions at level M for two addresses.

    Source: smallest capacity not below the length, byte mode; segno 1.6.6 picks the same.
    """
    assert version_of(text) == version


@pytest.mark.external
@pytest.mark.parametrize(("version", "side"), [(1, 21), (2, 25), (3, 29), (4, 33), (5, 37), (6, 41)])
def test_modules_side_follows_the_version(version: int, side: int) -> None:
    """Modules on a side: 17 + 4 v.

    Source: 21, 25, 29, 33, 37, 41 in an industrial-marker manual (easymanua.ls, lp-rv-series).
    """
    capacity = {1: 14, 2: 26, 3: 34, 4: 50, 5: 84, 6: 106}

    assert len(qr.modules("a" * capacity[version])) == side


@pytest.mark.external
@pytest.mark.parametrize(
    ("network", "password", "text"),
    [
        ("mynetwork", "mypass", "WIFI:T:WPA;S:mynetwork;P:mypass;;"),
        ("MyNetwork", "hello;world", "WIFI:T:WPA;S:MyNetwork;P:hello\\;world;;"),
        ("Stage 2", "twenty wedges", "WIFI:T:WPA;S:Stage 2;P:twenty wedges;;"),
        ("a;b", "c:d", "WIFI:T:WPA;S:a\\;b;P:c\\:d;;"),
        ("Bühne", "pass,word", "WIFI:T:WPA;S:Bühne;P:pass\\,word;;"),
        ("x", "pa;ss\\word", "WIFI:T:WPA;S:x;P:pa\\;ss\\\\word;;"),
        ("Stage", "", "WIFI:S:Stage;;"),
    ],
)
def test_wifi_join_text_matches_published_examples(network: str, password: str, text: str) -> None:
    """Join texts with and without escapes, and of an open network.

    Sources, in order: the ZXing wiki's "Barcode Contents" quoted at
    zenn.dev/okuoku/scraps/d6a60f2c3697e6; qrforge.meta-mind-lab.com/guides/wifi-qr-format-reference;
    the escape set of zerotool.dev/blog/wifi-qr-code-generator-guide applied by hand (three rows);
    that page's own "pa;ss\\word"; WPA3 Specification 7.1, type absent for open networks.
    """
    assert qr.wifi_join_text(network, password) == text


@pytest.mark.external
def test_wifi_join_text_of_a_hidden_network_keeps_the_order_of_fields() -> None:
    """Order: type, network, hidden, password.

    Source: WPA3 Specification, section 7.1, ABNF as quoted at
    stevetech-me.pages.dev/posts/wifi-qr-codes-are-broken.
    """
    assert qr.wifi_join_text("Stage", "mypass", hidden=True) == "WIFI:T:WPA;S:Stage;H:true;P:mypass;;"


@pytest.mark.parametrize(
    ("text", "characters"),
    [
        ("twenty wedges", ()),
        ("Stage-2_a.b!#$&'()*+/<=>?@[]^`{|}~", ()),
        ('\\;,":%', ("\\", ";", ",", '"', ":", "%")),
        ("50%;50%;", ("%", ";")),
        ("Bühne\t", ("ü", "\t")),
        ("", ()),
    ],
)
def test_misread_characters_names_each_once(text: str, characters: tuple[str, ...]) -> None:
    assert qr.misread_characters(text) == characters
