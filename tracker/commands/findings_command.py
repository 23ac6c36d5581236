"""`tracker findings`."""

from __future__ import annotations

import json
import sys
from datetime import date
from typing import TYPE_CHECKING

import click

from tracker import words
from tracker.commands.shared import day_or_none, open_record, typed_day
from tracker.diary.errors import WrongDay
from tracker.record.store import Record

if TYPE_CHECKING:
    from tracker.analysis.results import Topic

EXAMPLES = """\b
Examples:
  tracker findings
  tracker findings --what lags,shifts --numbers
  tracker findings --as-of 2025-12-31
  tracker findings --from 2026-01-01 --to 2026-02-28
  tracker findings --json > findings.json
"""
TOPICS: tuple[Topic, ...] = ("lags", "seasons", "shifts", "weekdays")


class Topics(click.ParamType["tuple[Topic, ...]"]):
    """Words of TOPICS with commas between them."""

    name = "topics"

    def convert(
        self, value: str, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[Topic, ...]:
        """The topics named, in the order in which they are shown."""
        wanted = {word.strip() for word in value.split(",") if word.strip()}
        unknown = sorted(wanted - set(TOPICS))
        if unknown or not wanted:
            self.fail(f"'{unknown[0] if unknown else value}' is none of {', '.join(TOPICS)}.", param, ctx)
        return tuple(topic for topic in TOPICS if topic in wanted)


@click.command("findings", epilog=f"{words.CAUTION} {words.WHERE_TO_TURN_HINT}\n\n{EXAMPLES}")
@click.option("--json", "as_object", is_flag=True, help="One JSON object, with every number.")
@click.option("--what", type=Topics(), default=",".join(TOPICS), help="lags,seasons,shifts,weekdays.")
@click.option("--as-of", metavar="DAY", help="As they stood on a day; else today.")
@click.option("--from", "first", metavar="DAY", help="Days chosen by hand are described, never judged.")
@click.option("--to", "last", metavar="DAY", help="Last of the days chosen by hand.")
@click.option("--numbers", is_flag=True, help="Every table behind the sentences.")
@click.option("--words", "in_words", is_flag=True, help="Sentences without columns, for those who listen.")
@click.pass_context
def command(
    ctx: click.Context,
    /,
    *,
    as_object: bool,
    what: tuple[Topic, ...],
    as_of: str | None,
    first: str | None,
    last: str | None,
    numbers: bool,
    in_words: bool,
) -> None:
    """What goes with what, which comes first, and what could not have been seen."""
    from tracker.analysis.findings import find
    from tracker.analysis.findings_json import as_json
    from tracker.commands.findings_report import print_findings, say_findings

    if as_object + numbers + in_words > 1:
        raise click.UsageError("--json, --numbers and --words do not go together; give one of them.")
    record = open_record(ctx, "refuse")
    chosen = (day_or_none(first, record), day_or_none(last, record)) if first or last else None
    findings = find(
        record.days().values(),
        record.choices(),
        as_of=_past(as_of, record),
        clock=record.clock,
        chosen=chosen,
        topics=what,
        progress=_tell_progress if sys.stderr.isatty() else None,
    )
    if as_object:
        click.echo(json.dumps(as_json(findings), ensure_ascii=False, allow_nan=False, indent=1))
        return
    if in_words:
        say_findings(findings)
    else:
        print_findings(findings, numbers=numbers)


def _past(text: str | None, record: Record) -> date:
    day = typed_day(text, record)
    if day > record.today():
        raise WrongDay(f"{day} is still to come; findings can be asked for up to today.")
    return day


def _tell_progress(done: int, steps: int, name: str) -> None:
    click.echo(
        f"\r{done} of {steps}: {name:<10}" + ("\r\033[K" if done == steps - 1 else ""), nl=False, err=True
    )
