"""What reaches the log."""

import io
import logging
from collections.abc import Iterator

import pytest

from monreq.cli.log import set_up_log

pytestmark = pytest.mark.security

MAC = "Ab-_" * 5 + "Xy"


@pytest.fixture
def stream() -> Iterator[io.StringIO]:
    root = logging.getLogger()
    before = root.handlers[:], root.level
    root.handlers = []
    written = io.StringIO()
    set_up_log(written)
    yield written
    root.handlers[:] = before[0]
    root.setLevel(before[1])


@pytest.mark.parametrize("token", [f"show1.{MAC}", f"show1-bass.{MAC}"])
def test_log_holds_no_token(stream: io.StringIO, token: str) -> None:
    logging.getLogger("monreq").warning("opened http://10.0.0.5:8330/j/%s?x, then left", token)

    line = stream.getvalue().rstrip("\n")
    assert line.endswith("WARNING monreq: opened http://10.0.0.5:8330/j/[token]?x, then left")


def test_log_holds_no_token_in_a_traceback(stream: io.StringIO) -> None:
    try:
        raise ValueError(f"show1.{MAC}")
    except ValueError:
        logging.getLogger("monreq").exception("failed")

    assert stream.getvalue().endswith("ValueError: [token]\n")


def test_log_leaves_other_text_alone(stream: io.StringIO) -> None:
    logging.getLogger("monreq").warning("host stage.local, version 3.1.3")

    assert stream.getvalue().endswith("monreq: host stage.local, version 3.1.3\n")
