"""The examples in docstrings are so."""

import doctest
from importlib import import_module
from pkgutil import walk_packages

import tracker


def test_examples_give_what_they_say() -> None:
    names = [found.name for found in walk_packages(tracker.__path__, "tracker.")]
    run = {name: doctest.testmod(import_module(name)) for name in names if name != "tracker.__main__"}
    assert [name for name, result in run.items() if result.failed] == []
    assert {name for name, result in run.items() if result.attempted} >= {"tracker.analysis.lags"}
