"""A hundred small wrongs put into monreq one at a time: does a test find each? Run `python -m tests.bench.mutants`.

They are spread over domain, services, web, live and storage by lines, and drawn by a seed that is printed; with paths
behind it, over these only. A mutant is tried in a copy, by the tests that run its line, at most for two minutes: those
named like its module first, then the quick ones. Which run it is found out once, in a quarter of an hour on two free cores, and kept in
.cache/mutants. What survives is told; what changes nothing that anybody could notice stands with its reason in
tests/bench/mutation/equal.toml.

It ends with 1 if more than five survive, or one without a reason.
"""

import argparse
import os
import random
import sys
import tempfile
import time
import tomllib
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from pathlib import Path
from queue import SimpleQueue
from typing import Final

from tests.bench.mutation.mutator import NOTHING, Mutant, mutants
from tests.bench.mutation.running import Copy, End, Tried, copied
from tests.bench.mutation.seen import Seen, files_of_tests, kept_at, shared_by_all

ROOT: Final = Path(__file__).parents[2]
PACKAGES: Final = ("monreq/domain", "monreq/services", "monreq/web", "monreq/live", "monreq/storage")
MOST_LEFT: Final = 5
_EQUAL: Final = Path(__file__).parent / "mutation" / "equal.toml"


def main() -> int:
    asked = _asked()
    began_s = time.monotonic()
    _say(f"seed {asked.seed}, {asked.workers} at a time")
    chosen = drawn(_all(asked.paths or PACKAGES), asked.number, random.Random(asked.seed))
    with tempfile.TemporaryDirectory(prefix="mutants-") as scratch, ExitStack() as stack:
        copies = [
            stack.enter_context(copied(ROOT, Path(scratch) / str(number))) for number in range(asked.workers)
        ]
        seen = _seen(copies)
        _say(f"{len(seen.seconds)} tests known after {_minutes(began_s)}")
        tried = list(_tried(chosen, copies, seen))
        doubtful = set(copies[0].failing(sorted({one.by for one in tried if "::" in one.by})))
    left = _told(tried, doubtful)
    _say(f"{_minutes(began_s)} in all")
    return left


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="python -m tests.bench.mutants", description=(__doc__ or "").split(":")[0]
    )
    parser.add_argument("--number", type=int, default=100, help="how many mutants")
    parser.add_argument(
        "--seed", type=int, default=random.SystemRandom().randrange(1 << 16), help="draw alike"
    )
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1, help="how many at a time")
    parser.add_argument("paths", nargs="*", metavar="PATH", help="files or folders to look into")
    return parser.parse_args()


def _all(paths: Sequence[str]) -> dict[tuple[str, int], list[Mutant]]:
    """Return all mutants of some files by their line, in order."""
    lines: dict[tuple[str, int], list[Mutant]] = defaultdict(list)
    for path in paths:
        place = ROOT / path
        for file in sorted(place.rglob("*.py")) if place.is_dir() else [place]:
            source = file.read_bytes()
            for one in mutants(file.relative_to(ROOT).as_posix(), source):
                lines[one.path, source.count(b"\n", 0, one.start)].append(one)
    return lines


def drawn(lines: dict[tuple[str, int], list[Mutant]], number: int, chance: random.Random) -> list[Mutant]:
    """Draw mutants from lines that lie evenly far from one another, one of each.

    That nothing is returned is easily found, so it is drawn only where a line has no other.
    """
    of_lines = list(lines.values())
    number = min(number, len(of_lines))
    apart = len(of_lines) / number
    begin = chance.random() * apart
    lots = (of_lines[int(begin + place * apart)] for place in range(number))
    return [chance.choice([one for one in lot if one.put != NOTHING] or lot) for lot in lots]


def _seen(copies: Sequence[Copy]) -> Seen:
    """Return what the tests run; those that are not known yet run for it now."""
    into = ROOT / ".cache" / "mutants" / shared_by_all(ROOT)
    files = files_of_tests(ROOT)
    unknown = [one for one in files if not kept_at(into, ROOT, one).exists()]
    with ThreadPoolExecutor(len(copies)) as pool:
        shares = [unknown[place :: len(copies)] for place in range(len(copies))]
        list(pool.map(lambda copy, share: share and copy.map(share, into), copies, shares))
    seen = Seen(ROOT)
    for one in files:
        if kept_at(into, ROOT, one).exists():
            seen.add(kept_at(into, ROOT, one))
        else:
            _say(f"not asked, for it ran no test: {one}")
    return seen


def _tried(chosen: Sequence[Mutant], copies: Sequence[Copy], seen: Seen) -> Iterator[Tried]:
    free: SimpleQueue[Copy] = SimpleQueue()
    for copy in copies:
        free.put(copy)

    def one(mutant: Mutant) -> Tried:
        copy = free.get()
        try:
            return copy.try_out(mutant, seen)
        finally:
            free.put(copy)

    with ThreadPoolExecutor(len(copies)) as pool:
        for number, tried in enumerate(pool.map(one, chosen), 1):
            place = f"{tried.mutant.path}:{tried.mutant.first_line} {tried.mutant.function}"
            _say(f"{number}/{len(chosen)} {tried.end}: {place}: {tried.before} -> {tried.after}")
            yield tried


def _told(tried: Sequence[Tried], doubtful: set[str]) -> int:
    """Print what became of all, and return how the program ends."""
    reasons = {
        (one["file"], one["function"], one["before"], one["after"]): one["reason"]
        for one in tomllib.loads(_EQUAL.read_text()).get("equal", [])
    }
    survivors = [one for one in tried if one.end is End.SURVIVED]
    unknown = 0
    _say("\n" + ", ".join(f"{number} {end}" for end, number in Counter(one.end for one in tried).items()))
    for one in survivors:
        reason = reasons.get((one.mutant.path, one.mutant.function, one.before, one.after))
        unknown += reason is None
        why = reason or ("NO REASON KNOWN" if one.tests else "NO TEST RUNS IT")
        _say(f"- {one.mutant.path}:{one.mutant.first_line} {one.mutant.function}, {one.tests} tests")
        _say(f"    {one.before}\n    {one.after}\n    {why}")
    for one in tried:
        if one.by in doubtful:
            _say(
                f"doubtful, for {one.by} fails without it too: {one.mutant.path}: {one.before} -> {one.after}"
            )
    return int(len(survivors) > MOST_LEFT or unknown > 0)


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def _minutes(since_s: float) -> str:
    return f"{(time.monotonic() - since_s) / 60:.1f} min"


if __name__ == "__main__":
    sys.exit(main())
