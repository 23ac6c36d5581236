"""What merge and the import of a whole record say and do."""

from __future__ import annotations

import click

from tracker import words
from tracker.diary.answers import in_words
from tracker.diary.choices import Choices
from tracker.record.backups import beforehand
from tracker.record.joining import Conflict, Joined, join
from tracker.record.rows import Rows
from tracker.record.store import Record


def join_rows(record: Record, theirs: Rows, why: str, dry_run: bool) -> None:
    """Say what the rows of another copy bring, and join them unless it is a dry run."""
    joined = join(record, theirs, dry=True)
    if not dry_run and _brings_something(joined):
        if not record.is_empty():
            click.echo(
                f"The record as it was is kept in {beforehand(record, why)}; tracker restore brings it back."
            )
        join(record, theirs)
    for line in _report(joined, record.choices()):
        click.echo(line)
    if dry_run:
        click.echo("Nothing was changed, because this was a dry run.")


def _brings_something(joined: Joined) -> bool:
    return bool(joined.entries or joined.choices or joined.gone)


def _report(joined: Joined, choices: Choices) -> list[str]:
    if not _brings_something(joined):
        return ["Everything in it stands here already."]
    gone = (
        f", and {words.counted(joined.gone, 'entry', 'entries')} erased there go here too"
        if joined.gone
        else ""
    )
    return [
        f"{words.counted(joined.entries, 'entry', 'entries')} and {words.counted(joined.choices, 'choice')} "
        f"come in{gone}.",
        *(_conflict(conflict, choices) for conflict in joined.conflicts),
    ]


def _conflict(conflict: Conflict, choices: Choices) -> str:
    here, there = in_words(conflict.mine, choices), in_words(conflict.theirs, choices)
    shows = "here" if conflict.shows == conflict.mine else "there"
    return f"  {conflict.mine.day}: here {here}, there {there}; the newer one, from {shows}, shows."
