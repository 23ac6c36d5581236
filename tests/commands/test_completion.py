"""How a shell asks the program how a line goes on, in click's own way ("Shell Completion" of its manual)."""

import os
import re
import subprocess
import sys

import pytest


def asked(how: str, **line: str) -> list[str]:
    """What the program answers a shell in a fresh process, as its script asks it: without arguments."""
    ran = subprocess.run(
        [sys.executable, "-m", "tracker"],
        env=os.environ | line | {"_TRACKER_COMPLETE": how},
        capture_output=True,
        text=True,
        check=True,
    )
    assert ran.stderr == ""
    return ran.stdout.splitlines()


def completed(words: str) -> list[str]:
    """What the last word of a line may become in bash."""
    answers = asked("bash_complete", COMP_WORDS=words, COMP_CWORD=str(words.count(" ")))
    return [answer.removeprefix("plain,") for answer in answers if answer]


@pytest.mark.parametrize(
    ("shell", "registers"),
    [
        ("bash", "complete -o nosort -F _tracker_completion tracker"),
        ("zsh", "compdef _tracker_completion tracker"),
        ("fish", 'complete --no-files --command tracker --arguments "(_tracker_completion)"'),
    ],
)
def test_every_shell_gets_a_script_that_registers_it(shell: str, registers: str) -> None:
    assert registers in "\n".join(asked(f"{shell}_source"))


@pytest.mark.parametrize(
    ("words", "becomes"),
    [
        ("tracker p", ["put", "paper"]),
        ("tracker -", ["--record", "-V", "--version", "-h", "--help"]),
        ("tracker help se", ["settings"]),
        ("tracker put --cle", ["--clear"]),
        ("tracker put --clear s", ["sleep", "shift"]),
        ("tracker show --rec", ["--record"]),
        ("tracker import ", ["file,"]),
        ("tracker settings li", ["lines"]),
        ("tracker settings lines ", ["yes", "no"]),
        ("tracker settings theme caw", ["cawbrook-lamps"]),
        ("tracker settings tides ", []),
    ],
)
def test_commands_options_and_their_values_are_completed(words: str, becomes: list[str]) -> None:
    assert sorted(completed(words)) == sorted(becomes)  # in click 8.4 the names of one option in any order


def test_zsh_and_fish_are_told_what_a_command_does() -> None:
    zsh = asked("zsh_complete", COMP_WORDS="tracker und", COMP_CWORD="1")
    fish = asked("fish_complete", COMP_WORDS="tracker und", COMP_CWORD="und")
    told = ["plain", "undo", "Take the last action back."]
    assert zsh == told
    assert re.split(r"[,\t\n]", "\n".join(fish)) == told  # parted by lines in click 8.4
