"""What several commands share: opening the record, reading a day, asking whether a person is there."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

import click

from tracker.diary.clock import Clock
from tracker.diary.dates import day_for_text
from tracker.diary.errors import NobodyThere
from tracker.record.files import default_record
from tracker.record.store import Record


def record_path(ctx: click.Context) -> Path:
    """The file named by --record, or the platform's place."""
    named: Path | None = ctx.find_root().obj
    return named or default_record()


def open_record(ctx: click.Context, clock: Clock | None = None) -> Record:
    """The record of this call, made if there is none; closed when the command ends."""
    record = Record.open(record_path(ctx), clock)
    ctx.call_on_close(record.close)
    return record


def read_day(text: str | None, record: Record) -> date:
    """The day meant by a word of the command line; none: today."""
    return day_for_text(text or "today", record.today())


def somebody_is_there() -> bool:
    """Whether a person sits at both ends: nothing may wait for an answer that cannot come."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def need_somebody(instead: str) -> None:
    """Refuse to ask where nobody can answer, and say what does without asking."""
    if not somebody_is_there():
        raise NobodyThere(f"Nobody can answer here, because this is no terminal; {instead}.")
