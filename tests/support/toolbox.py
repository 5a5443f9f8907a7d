"""Lets another library's decibels in, when they are asked for: it brings all of scipy along.

Importing it warns about the plots it comes with, which say nothing of ours.
"""

import importlib
import warnings
from collections.abc import Iterable
from functools import cache
from typing import Any


@cache
def _decibel() -> Any:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return importlib.import_module("acoustic_toolbox.decibel")


def dbsum(levels: Iterable[float]) -> float:
    """Return the level of uncorrelated sources together. [dB]."""
    return float(_decibel().dbsum(levels))


def dbsub(total: float, part: float) -> float:
    """Return the level that is left of a total without a part of it. [dB]."""
    return float(_decibel().dbsub(total, part))


def dbdiv(total: float, parts: float) -> float:
    """Return the level of each of so many equal parts of a total. [dB]."""
    return float(_decibel().dbdiv(total, parts))
