"""Taking host and port apart."""

import pytest

from monreq.web.authority import Authority, bracketed, ip_address, parse_authority


@pytest.mark.parametrize(
    ("text", "host", "port"),
    [
        ("localhost", "localhost", None),
        ("LOCALHOST.", "localhost", None),
        ("Stage-Box.local:8330", "stage-box.local", 8330),
        ("192.168.1.20:1", "192.168.1.20", 1),
        ("[::1]", "::1", None),
        ("[FD00:0:0::20]:65535", "fd00::20", 65535),
    ],
)
def test_parse_authority_understands_hosts(text: str, host: str, port: int | None) -> None:
    assert parse_authority(text) == Authority(host, port)


@pytest.mark.parametrize(
    "text",
    [
        "",
        ".",
        ":8330",
        "localhost:",
        "localhost:0",
        "localhost:65536",
        "localhost:8330:8330",
        "localhost:+80",
        "localhost:80@evil.example",
        "user@localhost",
        "localhost,evil.example",
        "localhost evil.example",
        "localhost/evil",
        "localhost..",
        "::1",
        "[::1",
        "[127.0.0.1]",
        "[fe80::1%25eth0]",
        "[1:2]",
        "localhost\n",
        "l\u00f6calhost",
        "a" * 256,
    ],
)
def test_parse_authority_refuses_tricks(text: str) -> None:
    assert parse_authority(text) is None


@pytest.mark.parametrize(
    ("text", "canonical"),
    [("FE80::0:1%eth0", "fe80::1"), ("10.0.0.1", "10.0.0.1"), ("127.1", None), ("0177.0.0.1", None)],
)
def test_ip_address_has_one_text(text: str, canonical: str | None) -> None:
    assert ip_address(text) == canonical


@pytest.mark.parametrize(("host", "text"), [("::1", "[::1]"), ("10.0.0.1", "10.0.0.1")])
def test_bracketed_touches_only_ipv6(host: str, text: str) -> None:
    assert bracketed(host) == text


@pytest.mark.parametrize(
    ("authority", "scheme", "port"),
    [
        (Authority("a", None), "http", 80),
        (Authority("a", None), "https", 443),
        (Authority("a", None), "ftp", None),
        (Authority("a", 81), "http", 81),
    ],
)
def test_port_or_default_follows_the_scheme(authority: Authority, scheme: str, port: int | None) -> None:
    assert authority.port_or_default(scheme) == port
