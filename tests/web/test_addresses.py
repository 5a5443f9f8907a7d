"""Which of a machine's addresses phones are given."""

import socket

import pytest

from monreq.web.addresses import (
    AddressError,
    Candidate,
    Interface,
    base_url,
    desk_url,
    host_of,
    interfaces,
    lan_addresses,
    own_addresses,
    port_of,
    rank,
    routed_address,
)

EVERYWHERE = "0.0.0.0"  # noqa: S104 - nothing is bound


def up(name: str, *addresses: str) -> Interface:
    return Interface(name, is_up=True, addresses=addresses)


LOOPBACK = up("lo", "127.0.0.1", "::1")
WIFI = up("wlan0", "192.168.1.20", "fe80::5%wlan0")
WIRED = up("eth0", "10.0.0.5")
CONTAINERS = up("docker0", "172.17.0.1")
TUNNEL = up("wg0", "10.8.0.2")
FOUND = [Candidate("192.168.1.20", "wlan0", "")]


def addresses(*found: Interface, routed: str | None = None) -> list[str]:
    return [candidate.address for candidate in rank(found, routed)]


@pytest.mark.parametrize(
    "name",
    [
        "docker0", "br-1f2e3d", "veth12ab", "virbr0", "vmnet8", "vboxnet0", "tun0", "tap1", "wg0",
        "utun4", "zt5u4y", "ppp0", "bridge100", "vEthernet (Default Switch)",
        "Host-Only Network", "Work VPN",
    ],
)  # fmt: skip
def test_rank_puts_virtual_interfaces_behind_wifi(name: str) -> None:
    virtual = up(name, "10.0.0.1")

    ranked = addresses(virtual, WIFI, routed="10.0.0.1")

    assert ranked == ["192.168.1.20", "10.0.0.1"]


@pytest.mark.parametrize("name", ["wlp3s0", "en0", "enp0s25", "Wi-Fi", "Ethernet 2", "wlan0"])
def test_rank_puts_wifi_and_ethernet_before_unknown_interfaces(name: str) -> None:
    ranked = addresses(up("mystery0", "10.0.0.1"), up(name, "10.9.9.9"))

    assert ranked == ["10.9.9.9", "10.0.0.1"]


def test_rank_lets_the_system_s_route_decide_between_equals() -> None:
    assert addresses(WIFI, WIRED) == ["192.168.1.20", "10.0.0.5"]
    assert addresses(WIFI, WIRED, routed="10.0.0.5") == ["10.0.0.5", "192.168.1.20"]


def test_rank_leaves_out_interfaces_that_are_down() -> None:
    down = Interface("eth0", is_up=False, addresses=("10.0.0.5",))

    assert addresses(down, WIFI) == ["192.168.1.20"]


def test_rank_prefers_private_addresses_then_other_ipv4_then_ipv6() -> None:
    wired = up("eth0", "fd00::20", "203.0.113.9", "172.31.0.4", "100.64.0.7")

    assert addresses(wired) == ["172.31.0.4", "203.0.113.9", "100.64.0.7", "fd00::20"]


def test_rank_does_not_take_neighbouring_ranges_for_private() -> None:
    wired = up("eth0", "172.32.0.1", "172.16.0.1")

    assert addresses(wired) == ["172.16.0.1", "172.32.0.1"]


def test_rank_puts_self_assigned_addresses_last() -> None:
    alone = up("eth0", "169.254.9.9")

    ranked = rank([alone, TUNNEL, CONTAINERS], None)

    assert [candidate.address for candidate in ranked][-1] == "169.254.9.9"
    assert ranked[-1].why == "self-assigned: no router gave this machine an address"


def test_rank_offers_loopback_only_when_there_is_nothing_else() -> None:
    assert addresses(LOOPBACK, TUNNEL) == ["10.8.0.2"]
    assert rank([LOOPBACK], None) == [
        Candidate("127.0.0.1", "lo", "reaches this machine only"),
        Candidate("::1", "lo", "reaches this machine only"),
    ]


def test_rank_says_why() -> None:
    assert rank([CONTAINERS, WIFI], None) == [
        Candidate("192.168.1.20", "wlan0", "private address on Wi-Fi or Ethernet"),
        Candidate("172.17.0.1", "docker0", "private address on a virtual interface"),
    ]


def test_own_addresses_are_all_of_them_without_scope() -> None:
    down = Interface("eth0", is_up=False, addresses=("10.0.0.5",))

    assert own_addresses([LOOPBACK, WIFI, down]) == {
        "127.0.0.1", "::1", "192.168.1.20", "fe80::5", "10.0.0.5",
    }  # fmt: skip


def test_interfaces_of_this_machine_can_be_bound() -> None:
    found = own_addresses(interfaces())

    assert "127.0.0.1" in found
    for candidate in lan_addresses():
        family = socket.AF_INET6 if ":" in candidate.address else socket.AF_INET
        with socket.socket(family, socket.SOCK_DGRAM) as probe:
            probe.bind((candidate.address, 0))


def test_routed_address_is_one_of_this_machine_or_none() -> None:
    assert routed_address() in {None, *own_addresses(interfaces())}


@pytest.mark.parametrize(
    ("host", "address", "url"),
    [
        (EVERYWHERE, None, "http://192.168.1.20:8330"),
        ("::", None, "http://192.168.1.20:8330"),
        ("10.0.0.5", None, "http://10.0.0.5:8330"),
        ("fd00::20", None, "http://[fd00::20]:8330"),
        ("127.0.0.1", None, "http://127.0.0.1:8330"),
        ("10.0.0.5", "192.168.9.9", "http://192.168.9.9:8330"),
        (EVERYWHERE, "Stage.local", "http://stage.local:8330"),
        (EVERYWHERE, "stage.local:81", "http://stage.local:81"),
        (EVERYWHERE, "stage.local:80", "http://stage.local"),
        (EVERYWHERE, "fd00::20", "http://[fd00::20]:8330"),
        (EVERYWHERE, "[fd00::20]:81", "http://[fd00::20]:81"),
        (EVERYWHERE, "[fd00::20]", "http://[fd00::20]:8330"),
        (EVERYWHERE, "https://stage.example/", "https://stage.example"),
        (EVERYWHERE, "http://stage.example", "http://stage.example"),
        (EVERYWHERE, "https://stage.example:8443", "https://stage.example:8443"),
    ],
)
def test_base_url_carries_the_best_address(host: str, address: str | None, url: str) -> None:
    assert base_url(host, 8330, address, FOUND) == url


@pytest.mark.parametrize(
    "address",
    [
        "two words",
        "ftp://stage.example",
        "http://",
        "https://stage.example/path",
        "http://user@stage.example",
        "stage.example?x",
        "stage.example:99999",
        "fe80::1%eth0",
        "javascript:alert(1)",
    ],
)
def test_base_url_refuses_what_is_no_address(address: str) -> None:
    with pytest.raises(AddressError, match=r"is not a host, host:port or http\(s\) URL\.$"):
        base_url(EVERYWHERE, 8330, address, FOUND)


def test_base_url_without_any_network_says_so() -> None:
    with pytest.raises(AddressError, match=r"^This machine has no network address"):
        base_url(EVERYWHERE, 8330, None, [])


@pytest.mark.parametrize(
    ("host", "url"),
    [
        (EVERYWHERE, "http://127.0.0.1:8330"),
        ("127.0.0.1", "http://127.0.0.1:8330"),
        ("localhost", "http://127.0.0.1:8330"),
        ("::", "http://[::1]:8330"),
        ("::1", "http://[::1]:8330"),
        ("10.0.0.5", "http://10.0.0.5:8330"),
    ],
)
def test_desk_url_stays_on_this_machine_where_it_can(host: str, url: str) -> None:
    assert desk_url(host, 8330) == url


@pytest.mark.parametrize(
    ("url", "host"),
    [("http://[fd00::20]:81", "fd00::20"), ("https://stage.example", "stage.example")],
)
def test_host_of_reads_back_what_base_url_made(url: str, host: str) -> None:
    assert host_of(url) == host


@pytest.mark.parametrize(
    ("url", "port"),
    [
        ("http://192.0.2.7:8330", 8330),
        ("http://monitors.example", 80),
        ("https://monitors.example", 443),
        ("http://[2001:db8::7]:8330", 8330),
    ],
)
def test_port_of_url(url: str, port: int) -> None:
    assert port_of(url) == port
