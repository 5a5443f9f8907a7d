"""The rule that no test is skipped where all have to run."""

from pathlib import Path

import pytest

CONFTEST = Path(__file__).with_name("conftest.py").read_text(encoding="utf-8")

SKIPS = """
    import pytest

    def test_runs():
        assert True

    def test_is_skipped():
        pytest.skip("no database")

    @pytest.mark.skip(reason="later")
    def test_is_marked():
        assert True
"""


@pytest.fixture
def project(pytester: pytest.Pytester) -> pytest.Pytester:
    pytester.makeconftest(CONFTEST)
    return pytester


def test_skips_fail_where_every_test_is_required(
    project: pytest.Pytester, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("MONREQ_TEST_REQUIRE", "1")
    project.makepyfile(SKIPS)

    result = project.runpytest_subprocess()

    result.assert_outcomes(passed=1, failed=1, errors=1)


def test_skips_stay_skips_elsewhere(project: pytest.Pytester, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("MONREQ_TEST_REQUIRE", raising=False)
    project.makepyfile(SKIPS)

    result = project.runpytest_subprocess()

    result.assert_outcomes(passed=1, skipped=2)


def test_skipped_module_fails_where_every_test_is_required(
    project: pytest.Pytester, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("MONREQ_TEST_REQUIRE", "1")
    project.makepyfile("import pytest\npytest.skip('no browser', allow_module_level=True)")

    result = project.runpytest_subprocess()

    result.assert_outcomes(errors=1)
