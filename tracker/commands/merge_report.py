"""What merge and the import of a whole record say and do."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeVar

import click

from tracker import words
from tracker.commands.shared import agreed, counted_rows, say_dry_run
from tracker.commands.terminal import told_if_long
from tracker.diary.answers import in_words
from tracker.diary.choices import Choices
from tracker.record.backups import beforehand
from tracker.record.batch_writer import as_json
from tracker.record.choice_rows import choices_in_words
from tracker.record.merge import Conflict, MergeResult, merge
from tracker.record.store import Record

Command = TypeVar("Command", bound=Callable[..., object])


def merge_options(command: Command) -> Command:
    """The options of whatever merges another copy."""
    another = click.option(
        "--another-record",
        "another",
        is_flag=True,
        help="Merge a record that shares nothing with this one.",
    )
    return another(click.option("--yes", is_flag=True, help="Go on without asking.")(command))


def merge_copy(record: Record, copy: Record, why: str, dry_run: bool, another: bool, yes: bool) -> None:
    """Say what another copy brings, ask where it changes settings, and merge it unless it is a dry run."""
    with told_if_long("Comparing the copies"):
        result = merge(record, copy, dry=True, another=another)
    others = [] if record.is_empty() else list(_settings(result))
    for line in others:
        click.echo(line)
    if result.brings_something and not dry_run:
        if others and not agreed("Merge it, with these settings?", yes):
            raise click.Abort
        if not record.is_empty():
            click.echo(
                f"The record as it was is kept in {beforehand(record, why)}; tracker restore brings it back."
            )
        with told_if_long("Merging"):
            merge(record, copy, another=another, checked=True)
    for line in _report(result, record.choices()):
        click.echo(line)
    if dry_run:
        say_dry_run()


def _report(result: MergeResult, choices: Choices) -> Iterator[str]:
    if result.stay_out:
        yield f"{words.counted(result.stay_out, 'entry', 'entries')} of erased days stay out."
    if not result.brings_something:
        yield f"Everything {'else ' if result.stay_out else ''}in it stands here already."
        return
    counts = {"entry": result.entries, "choice": result.choices, "erased": result.erased}
    if not any(counts.values()):
        yield "Both are known as one record from now on; everything else in it stands here already."
        return
    yield f"{words.listed(counted_rows(counts))} {'comes' if sum(counts.values()) == 1 else 'come'} in."
    if result.gone:
        yield f"{words.counted(result.gone, 'entry', 'entries')} of days erased there go here too."
    for conflict in result.conflicts:
        yield _conflict(conflict, choices)
    for day in result.outlive:
        yield f"  {day}: erased on one side and kept later on the other, which stays; tracker erase takes it."


def _settings(result: MergeResult) -> Iterator[str]:
    """What would hold otherwise than it does, a line each."""
    if result.settings:
        yield "It would change:"
    for name, value in result.settings.items():
        is_plain = name.startswith("setting.") and value is not None
        yield f"  {choices_in_words({name: value})}{f': {as_json(value)}' if is_plain else ''}"


def _conflict(conflict: Conflict, choices: Choices) -> str:
    here, there = in_words(conflict.mine, choices), in_words(conflict.theirs, choices)
    shows = "here" if conflict.shows == conflict.mine else "there"
    return f"  {conflict.mine.day}: here {here}, there {there}; the newer one, from {shows}, shows."
