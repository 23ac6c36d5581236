"""`tracker keys`: every key, as the lines of the file in which some of one's own are named."""

from __future__ import annotations

import pytest
from textual.binding import Binding

from tests.commands.conftest import Run
from tracker.screens import bindings
from tracker.screens.bindings import sign
from tracker.screens.keys_file import DIGITS, keys_file, read_own_keys


def own(text: str) -> None:
    keys_file().parent.mkdir(parents=True, exist_ok=True)
    keys_file().write_text(text, encoding="utf-8")


def lines_of(output: str) -> list[str]:
    """What is printed under the head, without what is said behind the keys."""
    _, _, table = output.partition("\n\n")
    return [line.split("  ")[0] for line in table.splitlines() if not line.startswith(" ")]


def test_prints_each_key_as_a_comment_and_where_the_file_lies(run: Run) -> None:
    printed = run("keys")
    head, *_ = printed.stdout.split("\n\n")
    others = [key for key in bindings.built_in_keys() if key not in DIGITS]
    assert head.startswith(f"# Keys of your own stand in {keys_file()}\n")
    assert [line.split(" = ")[0].strip('# "') for line in lines_of(printed.stdout)] == [
        "digit_row",
        *map(sign, others),
    ]
    assert all(line.startswith("# ") for line in lines_of(printed.stdout))


def test_says_what_a_key_does_on_every_screen(run: Run) -> None:
    assert '# x = "x"                   # Answer: could not say; Leave the trial early' in run("keys").stdout


def test_its_lines_without_the_sign_of_a_comment_are_the_built_in_keys(run: Run) -> None:
    read = read_own_keys("\n".join(line.removeprefix("# ") for line in lines_of(run("keys").stdout)))
    for table in bindings.TOGETHER:
        keys = [(row.key, row.action) for row in read.table(table)]
        assert sorted(keys) == sorted((row.key, row.action) for row in Binding.make_bindings(table))


@pytest.mark.parametrize(
    "text",
    [
        'a = "z"',
        'Left = ["Left", "j"]',
        "Delete = []",
        'digit_row = "czech"',
        'digit_row = ""',
        'digit_row = "ąčęėįšųū90"',
        '"," = "F6"',
        '1 = ["1", "F5"]',
    ],
)  # fmt: skip
def test_what_is_her_own_is_no_comment(run: Run, text: str) -> None:
    own(text)
    assert [line for line in lines_of(run("keys").stdout) if not line.startswith("#")] == [text]


def test_its_output_can_be_the_file_that_it_tells(run: Run) -> None:
    own('a = "z"\ndigit_row = "czech"\n1 = "F5"\n"," = ["ß", "F6"]')
    printed = run("keys").stdout
    own(printed)
    assert run("keys").stdout == printed


def test_says_what_is_wrong_with_the_file(run: Run) -> None:
    own('h = "n"')
    failed = run("keys")
    assert (failed.exit_code, failed.stdout, failed.stderr) == (
        1,
        "",
        "keys.toml, line 1: n is taken twice, for n and for h; give one of them another key.\n",
    )
