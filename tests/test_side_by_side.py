"""How tests are shared out: what stays together, what begins first, and what stands behind a failure."""

import sys
from pathlib import Path

import pytest

from tests.support import side_by_side
from tests.support.serving import ROOT
from tests.support.side_by_side import LONGEST, mixed, unit


def test_tests_of_a_file_stay_together_and_those_that_share_a_festival_too() -> None:
    assert unit("tests/web/test_desk.py::test_row[a::b]") == "tests/web/test_desk.py"
    assert unit("tests/deploy/test_nginx.py::test_a") == unit("tests/deploy/test_outgrown.py::test_b")


def test_longest_begin_and_folders_are_mixed_to_the_end() -> None:
    units = [*(f"tests/a/{one}" for one in range(6)), "tests/b/1", "tests/b/2", LONGEST[1], LONGEST[0]]

    order = mixed(units)

    assert order[:2] == [LONGEST[0], LONGEST[1]]
    assert [one for one in order if "/a/" in one] == units[:6]
    assert [order.index(one) for one in ("tests/b/1", "tests/b/2")] == [4, 8]


def test_what_begins_first_is_there() -> None:
    assert [one for one in LONGEST if not (ROOT / one).exists()] == []


@pytest.fixture
def project(pytester: pytest.Pytester, monkeypatch: pytest.MonkeyPatch) -> pytest.Pytester:
    monkeypatch.setenv("PYTHONPATH", str(ROOT))
    pytester.makeini('[pytest]\naddopts = "-p" "tests.support.side_by_side" "-n" "auto"\n')
    pytester.makepyfile(test_first="def test_a(): pass", test_second="def test_b(): assert 0")
    return pytester


def test_a_few_files_run_in_one_process_and_a_failure_says_how_it_is_played_again(
    project: pytest.Pytester,
) -> None:
    result = project.runpytest_subprocess("--hypothesis-seed=7")

    again = f"{Path(sys.prefix).name}/bin/pytest -n 0 --hypothesis-seed=7"
    result.stdout.fnmatch_lines(
        [
            "monreq: one process*--hypothesis-seed=7",
            f"{again} 'test_second.py::test_b'",
            f"with all that its process had run: {again} test_first.py test_second.py",
        ]
    )


def test_many_files_run_on_workers_and_a_failure_there_says_the_same(project: pytest.Pytester) -> None:
    for number in range(side_by_side.FEW):
        project.makepyfile(**{f"test_number{number}": "def test_c(): pass"})

    result = project.runpytest_subprocess()

    result.assert_outcomes(passed=side_by_side.FEW + 1, failed=1)
    result.stdout.fnmatch_lines([f"monreq: {side_by_side.WORKERS} workers*"])
    header = next(line for line in result.outlines if line.startswith("monreq: "))
    seed = header.rpartition(" ")[2]
    result.stdout.fnmatch_lines([f"*bin/pytest -n 0 {seed} 'test_second.py::test_b'"])
