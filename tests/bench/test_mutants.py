"""What is put wrong where mutants are tried, and what is left alone."""

import random
from itertools import pairwise
from pathlib import Path

import pytest

from tests.bench.mutants import drawn
from tests.bench.mutation.mutator import Mutant, mutants
from tests.bench.mutation.seen import Seen, kept_at


def put(source: str) -> set[str]:
    """Return the changed lines of all mutants of a source."""
    code = source.encode()
    return {one.text(code)[1] for one in mutants("some.py", code)}


@pytest.mark.parametrize(
    ("source", "wrongs"),
    [
        ("x = a < b", {"x = a <= b", "x = a >= b"}),
        ("x = a is not b", {"x = a is b"}),
        ("x = a in b", {"x = a not in b"}),
        ("x = a and b", {"x = a or b", "x = a", "x = b"}),
        ("x = (a or b) and c", {"x = (a and b) and c", "x = (a or b) or c", "x = (a) and c", "x = (b) and c", "x = c", "x = (a or b)"}),
        ('x = a or ""', {'x = a and ""', 'x = ""'}),
        ("x = a[0]", {"x = a[(0 + 1)]"}),
        ("x = not a", {"x = bool(a)"}),
        ("x = 3", {"x = (3 + 1)", "x = (3 - 1)"}),
        ("x = True", {"x = False"}),
        ("x = a + b", {"x = a - b"}),
        ("x = -a", {"x = (a)"}),
        ("x = min(a, b)", {"x = max(a, b)"}),
        ("x = a if b else c", {"x = a if not (b) else c"}),
        ("x = [a for a in b if c]", {"x = [a for a in b if not (c)]"}),
        ("if a:\n    f()", {"if not (a):", "pass"}),
        ("def f():\n    return a", {"return None"}),
        ("a[b] = c", {"pass"}),
        ("raise a", {"pass"}),
    ],
)  # fmt: skip
def test_each_kind_of_wrong_is_put(source: str, wrongs: set[str]) -> None:
    assert put(source) == wrongs


@pytest.mark.parametrize(
    "source",
    [
        'x = "text"',
        'x = f"{a + 1} of {b}"',
        'x = "a" + b',
        "x: Annotated[int, 3] = a",
        "def f(a: Literal[3]) -> Literal[4]:\n    b",
        "@dataclass(frozen=True)\nclass A:\n    b: int",
        "if TYPE_CHECKING:\n    x = 1",
        "def __repr__(self):\n    return a + b",
        "x = list(zip(a, b, strict=True))",
        "x = isinstance(a, B | C)",
        "assert_never(a)",
        "return None",
    ],
)
def test_texts_types_and_what_only_developers_see_are_left_alone(source: str) -> None:
    assert put(source) == set()


def test_every_mutant_is_python_and_differs() -> None:
    path = Path(__file__)
    source = path.read_bytes()

    files = [one.of(source) for one in mutants(path.name, source)]

    assert len(files) > 20
    for one in files:
        compile(one, path.name, "exec")
        assert one != source


def test_mutants_say_where_they_are_and_what_they_are_known_by() -> None:
    source = b"LIMIT = 3\n\n\nclass A:\n    def f(self, b=2):\n        return b < (\n            LIMIT\n        )\n"

    found = {
        one.text(source)[1]: (one.function, one.first_line, one.last_line, one.names)
        for one in mutants("a.py", source)
    }

    assert found["LIMIT = (3 + 1)"] == ("", 1, 1, ("LIMIT",))
    assert found["def f(self, b=(2 + 1)):"] == ("A.f", 5, 5, ("f",))
    assert found["return b <= ("] == ("A.f", 6, 8, ())


def test_drawn_lines_lie_evenly_apart_and_the_same_for_a_seed() -> None:
    lines = {("a.py", line): [_mutant(line), _mutant(line)] for line in range(1000)}

    found = [one.first_line for one in drawn(lines, 100, random.Random(7))]

    assert found == [one.first_line for one in drawn(lines, 100, random.Random(7))]
    assert {later - earlier for earlier, later in pairwise(found)} == {10}


def test_tests_that_pass_and_run_a_line_or_name_what_is_made_once_are_asked_quick_files_first(
    tmp_path: Path,
) -> None:
    (tmp_path / "monreq").mkdir()
    (tmp_path / "monreq" / "a.py").write_text("LIMIT = 3\ndef f():\n    return LIMIT\n")
    slow = '{"tests": [["t.py::slow", 9, true], ["t.py::bad", 1, false]], "lines": {"monreq/a.py": {"3": [0, 1]}}}'
    quick = (
        '{"tests": [["u.py::one", 1, true], ["u.py::two", 1, true]], "lines": {"monreq/a.py": {"3": [-1]}}}'
    )
    seen = Seen(tmp_path)
    for name, told in (("t", slow), ("u", quick)):
        (tmp_path / name).write_text(told)
        seen.add(tmp_path / name)

    inside, above = (
        seen.running(Mutant("monreq/a.py", "", 0, 0, "", line, line, names))
        for line, names in ((3, ()), (1, ("LIMIT",)))
    )

    assert inside == above == ["u.py::one", "u.py::two", "t.py::slow"]


def test_what_a_file_of_tests_ran_is_found_out_anew_once_it_changed(tmp_path: Path) -> None:
    test = tmp_path / "test_a.py"
    test.write_text("one")
    before = kept_at(tmp_path, tmp_path, "test_a.py")

    test.write_text("two")

    assert kept_at(tmp_path, tmp_path, "test_a.py") != before


def _mutant(line: int) -> Mutant:
    return Mutant("a.py", "", 0, 1, "", line, line, ())
