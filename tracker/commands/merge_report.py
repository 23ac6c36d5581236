"""What merge and the import of a whole record say and do."""

from __future__ import annotations

from collections.abc import Iterator

import click

from tracker import words
from tracker.commands.shared import counted_rows, say_dry_run
from tracker.diary.answers import in_words
from tracker.diary.choices import Choices
from tracker.record.backups import beforehand
from tracker.record.merge import Conflict, MergeResult, merge
from tracker.record.store import Record


def merge_copy(record: Record, copy: Record, why: str, dry_run: bool) -> None:
    """Say what another copy brings, and merge it unless it is a dry run."""
    result = merge(record, copy, dry=True)
    if result.brings_something and not dry_run:
        if not record.is_empty():
            click.echo(
                f"The record as it was is kept in {beforehand(record, why)}; tracker restore brings it back."
            )
        merge(record, copy)
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
    yield f"{words.listed(counted_rows(counts))} {'comes' if sum(counts.values()) == 1 else 'come'} in."
    if result.gone:
        yield f"{words.counted(result.gone, 'entry', 'entries')} of days erased there go here too."
    for conflict in result.conflicts:
        yield _conflict(conflict, choices)
    for day in result.outlive:
        yield f"  {day}: erased on one side and kept later on the other, which stays; tracker erase takes it."


def _conflict(conflict: Conflict, choices: Choices) -> str:
    here, there = in_words(conflict.mine, choices), in_words(conflict.theirs, choices)
    shows = "here" if conflict.shows == conflict.mine else "there"
    return f"  {conflict.mine.day}: here {here}, there {there}; the newer one, from {shows}, shows."
