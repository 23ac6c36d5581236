"""What holds for a plain record holds for a locked one: some files of tests run in both forms."""

import pytest

IN_BOTH_FORMS = {"test_backups", "test_erase", "test_identity", "test_key"}


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Let the tests of these files have a record in each form."""
    name = metafunc.module.__name__.rpartition(".")[2]
    if name in IN_BOTH_FORMS and "record" in metafunc.fixturenames:
        metafunc.parametrize("record", ["plain", "locked"], indirect=True)
