"""monreq under load, beside a bare server in the same run: run `python -m tests.bench.load`, on a quiet machine.

Only ratios mean something, and only those of one run: the client runs beside the server, and other programs share the
machine. Each round starts both servers afresh and drives them in turns. The bare server is asked over HTTP, as monreq
is, and over the live connection, which monreq does not offer.
"""

import argparse
import asyncio
import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median

from tests.bench import load_servers
from tests.bench.load_driver import Driver, Stretch
from tests.bench.load_servers import MIXES, Server

Figures = Mapping[str, float]


@dataclass(frozen=True)
class Load:
    """How much of it.

    Attributes:
        per_s: Requests offered. [1/s]
        offered_s: For how long. [s]
        at_once: Requests on their way when saturated.
        saturated_s: For how long. [s]
        listeners: Phones connected in the end, those that ask included: nearly as many as one process admits.
    """

    per_s: float = 50.0
    offered_s: float = 6.0
    at_once: int = 32
    saturated_s: float = 4.0
    listeners: int = 380


@dataclass(frozen=True)
class Measure:
    """One line of the table.

    Attributes:
        of: The figure's name.
        to: The bare server's figure that it is compared with; where None, monreq's own named in `against`.
        goal: Chosen: what the ratio may be at most, or at least; None where none was set.
    """

    name: str
    of: str
    goal: float | None
    to: str | None = None
    against: str | None = None
    is_least: bool = False


MEASURES = (
    Measure("desk p50, 60 phones, 50 req/s [ms]", "desk_p50", 1.5),
    Measure("desk p95 [ms]", "desk_p95", 2.0),
    Measure("desk p99 [ms]", "desk_p99", 3.0),
    Measure("desk p50, floor by socket [ms]", "desk_p50", 1.5, to="socket_desk_p50"),
    Measure("desk p95, floor by socket [ms]", "desk_p95", 2.0, to="socket_desk_p95"),
    Measure("desk p99, floor by socket [ms]", "desk_p99", 3.0, to="socket_desk_p99"),
    Measure("answer to phone p50 [ms]", "phone_p50", 1.5),
    Measure("answer to phone p50, floor by socket [ms]", "phone_p50", 1.5, to="socket_phone_p50"),
    Measure("saturated, asked and answered [1/s]", "per_s", 0.5, is_least=True),
    Measure("saturated, floor by socket [1/s]", "per_s", 0.5, to="socket_per_s", is_least=True),
    Measure("processor time, asked and answered [ms]", "processor_ms", None),
    Measure("desk p50, 380 phones against 60 [ms]", "crowd_desk_p50", 1.3, against="desk_p50"),
    Measure("memory with 60 phones [kB]", "resident_kb", 2.0),
    Measure("memory per phone [kB]", "per_phone_kb", 1.3),
    Measure("cold start to first page [s]", "cold_s", 2.5),
)


@dataclass
class Faults:
    """What must not be, counted over all rounds."""

    unheard: int = 0
    doubled: int = 0
    lost: int = 0
    failures: list[str] = field(default_factory=list)


async def figures_of(server: Server, load: Load, faults: Faults) -> dict[str, float]:
    """Drive a server and return what was measured."""
    async with Driver(server) as driver:
        await driver.offered(load.per_s, 1.0)  # a server that has just started is not what is measured
        found = {"cold_s": server.cold_s}
        for prefix, by_socket in _ways(server):
            offered = await driver.offered(load.per_s, load.offered_s, by_socket=by_socket)
            found |= {prefix + name: figure for name, figure in _latencies(offered, faults).items()}
        found["resident_kb"] = server.resident_kb()
        await driver.add_listeners(load.listeners - len(MIXES))
        more = load.listeners - len(MIXES)
        found["per_phone_kb"] = (server.resident_kb() - found["resident_kb"]) / more
        crowd = _latencies(await driver.offered(load.per_s, load.offered_s), faults)
        found["crowd_desk_p50"] = crowd["desk_p50"]
        for prefix, by_socket in _ways(server):
            before_s = server.processor_s()
            full = await driver.saturated(load.at_once, load.saturated_s, by_socket=by_socket)
            _look_for_faults(full, faults)
            found[f"{prefix}per_s"] = full.per_s()
            found[f"{prefix}processor_ms"] = (server.processor_s() - before_s) / len(full.notes) * 1000
        _look_into_store(server, driver.taken, faults)
    return found


def _ways(server: Server) -> list[tuple[str, bool]]:
    return [("", False), ("socket_", True)] if server.name == "floor" else [("", False)]


def _latencies(stretch: Stretch, faults: Faults) -> dict[str, float]:
    _look_for_faults(stretch, faults)
    to_desk, to_phone = stretch.to_desk_ms(), stretch.to_phone_ms()
    return {f"desk_p{percent}": percentile(to_desk, percent) for percent in (50, 95, 99)} | {
        "phone_p50": percentile(to_phone, 50)
    }


def percentile(figures: Sequence[float], percent: int) -> float:
    """Return the figure that so many of a hundred do not exceed."""
    return sorted(figures)[min(len(figures) - 1, len(figures) * percent // 100)]


def _look_for_faults(stretch: Stretch, faults: Faults) -> None:
    faults.unheard += stretch.unheard()
    faults.failures += stretch.failures


def _look_into_store(server: Server, taken: frozenset[str], faults: Faults) -> None:
    stored = server.stored()
    faults.lost += sum(one not in stored for one in taken)
    faults.doubled += sum(times - 1 for times in stored.values())


def rounds(number: int, load: Load, faults: Faults) -> Iterator[dict[str, dict[str, float]]]:
    """Yield the figures of each round, by server."""
    starts: dict[str, Callable[[Path], AbstractContextManager[Server]]] = {
        "floor": load_servers.floor,
        "monreq": load_servers.monreq,
    }
    for _ in range(number):
        found = {}
        for name, start in starts.items():
            with tempfile.TemporaryDirectory(prefix="monreq-load-") as folder, start(Path(folder)) as server:
                found[name] = asyncio.run(figures_of(server, load, faults))
        yield found


def table(measured: Sequence[Mapping[str, Figures]]) -> Iterator[str]:
    """Yield the lines: medians over the rounds, and the ratio of monreq's to the bare server's."""
    yield f"{'':44}{'goal':>8}{'ratio':>8}{'floor':>10}{'monreq':>10}"
    for one in MEASURES:
        ours = median(found["monreq"][one.of] for found in measured)
        base = ("monreq", one.against) if one.against else ("floor", one.to or one.of)
        theirs = median(found[base[0]][base[1]] for found in measured)
        goal = f"{'>' if one.is_least else '<'}= {one.goal:g}" if one.goal else ""
        yield f"{one.name:44}{goal:>8}{ours / theirs:8.2f}{theirs:10.2f}{ours:10.2f}"


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("rounds", type=int, nargs="?", default=3)
    faults, began_s, measured = Faults(), time.monotonic(), []
    for found in rounds(parser.parse_args().rounds, Load(), faults):
        measured.append(found)
        sys.stderr.write(f"round {len(measured)}: load average {os.getloadavg()[0]:.1f}\n")
    lines = [
        *table(measured),
        f"taken but not at the desk {faults.unheard}, taken but not stored {faults.lost}, "
        f"doubled {faults.doubled}, failed {len(faults.failures)} {faults.failures[:1]}",
        f"load average {os.getloadavg()[0]:.1f}, {time.monotonic() - began_s:.0f} s",
    ]
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
