"""The set of hosts that this machine answers to."""

from monreq.web.known_hosts import KnownHosts, machine_names


class Network:
    """A network whose addresses and clock a test moves."""

    def __init__(self) -> None:
        self.now_s, self.addresses, self.readings = 100.0, ["192.168.1.20"], 0

    def read(self) -> list[str]:
        self.readings += 1
        return self.addresses

    def clock(self) -> float:
        return self.now_s


def test_known_hosts_are_loopback_names_and_addresses() -> None:
    network = Network()

    hosts = KnownHosts(["Stage.Local.", "[FD00::0:1]"], network.read, network.clock)

    assert hosts() == {"localhost", "127.0.0.1", "::1", "stage.local", "fd00::1", "192.168.1.20"}


def test_known_hosts_follow_a_new_network_after_three_seconds() -> None:
    network = Network()
    hosts = KnownHosts([], network.read, network.clock)
    network.addresses = ["10.0.0.5"]

    network.now_s += 2.9
    before = hosts()
    network.now_s += 0.1
    after = hosts()

    assert before == {"localhost", "127.0.0.1", "::1", "192.168.1.20"}
    assert after == {"localhost", "127.0.0.1", "::1", "10.0.0.5"}


def test_known_hosts_ask_the_system_seldom() -> None:
    network = Network()
    hosts = KnownHosts([], network.read, network.clock)

    for _ in range(100):
        hosts()

    assert network.readings == 1


def test_machine_names_include_the_local_name() -> None:
    assert machine_names("laptop") == ("laptop", "laptop", "laptop.local")
    assert machine_names("laptop.example") == ("laptop.example", "laptop", "laptop.local")
    assert machine_names("") == ()
