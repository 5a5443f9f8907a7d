"""Lets another library's decibels in; importing it warns about the plots it comes with, which say nothing of ours."""

import warnings

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    from acoustic_toolbox.decibel import dbdiv, dbsub, dbsum  # type: ignore[import-untyped] # it ships no types

__all__ = ["dbdiv", "dbsub", "dbsum"]
