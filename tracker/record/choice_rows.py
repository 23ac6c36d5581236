"""Choices as rows of JSON, and as the values they stand for.

A name says what a row decides: `setting.theme`, `scale.mood5`, `kind.night`, `break.2026-03-17`,
`page.wants`, `help.own`, `event.Night`, `change.2026-09-14`. A null value takes the choice back.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date, time
from types import MappingProxyType
from typing import Any

from tracker.diary.breaks import Break, Breaks
from tracker.diary.choices import Choices, PageLines
from tracker.diary.dates import long_day, short_day
from tracker.diary.errors import WrongScale
from tracker.diary.rota import DEFAULT_KINDS, ON_CALL, ShiftKind, Work
from tracker.diary.scales import DEFAULT_SCALES, Level, Scale, Scales, taken_back
from tracker.diary.settings import SETTINGS, Settings
from tracker.record.change_rows import changes_from
from tracker.record.trial_rows import trials_from
from tracker.words import listed

Values = Mapping[str, Any]
"""Newest value by name; null ones left out."""
WasKept = Callable[[Iterable[str]], bool]
"""Whether a square was ever kept with one of some levels, by their ids."""
NOTHING: Values = MappingProxyType({})


def choices_from(values: Values, former: Values = NOTHING) -> Choices:
    """What the rows decide, with the defaults where none does.

    Parameters
    ----------
    former
        Scales that were taken back, as they last stood: squares may have been kept with them.
    """
    return Choices(
        settings=_settings(values),
        scales=_scales(values, former),
        kinds=_kinds(values),
        breaks=tuple(
            sorted((break_from(value) for value in _under(values, "break")), key=lambda b: b.from_day)
        ),
        page_lines=PageLines(tuple(values.get("page.wants", ())), tuple(values.get("page.changed", ()))),
        own_help=tuple(values.get("help.own", ())),
        event_kinds=MappingProxyType(
            {name[len("event.") :]: value for name, value in values.items() if name.startswith("event.")}
        ),
        trials=trials_from(values),
        catch_up=MappingProxyType(values.get("catch_up.last", {})),
        dated_changes=changes_from(values),
    )


def choices_in_words(values: Values) -> str:
    """What is decided, as undo names it: `setting theme`, `levels and kinds of shift`."""
    return listed(list(dict.fromkeys(map(_in_words, values))))


def _in_words(name: str) -> str:
    first, _, rest = name.partition(".")
    return {
        "setting": f"setting {rest.replace('_', ' ')}",
        "scale": "levels",
        "kind": "kinds of shift",
        "break": f"break from {short_day(date.fromisoformat(rest))}" if first == "break" else "",
        "page": "lines for the appointment",
        "help": "lines of your own to turn to",
        "event": "what the rota's words mean",
        "change": f"change of {short_day(date.fromisoformat(rest))}" if first == "change" else "",
        "catch_up": "how past days are put in",
        "trial": "a day of the trial" if ".missed." in rest else "the trial",
    }[first]


def _under(values: Values, first: str) -> Iterator[Any]:
    return (value for name, value in sorted(values.items()) if name.startswith(f"{first}."))


def _settings(values: Values) -> Settings:
    chosen = {name: values[f"setting.{name}"] for name in SETTINGS if f"setting.{name}" in values}
    return Settings()._replace(**chosen)


def setting_values(settings: Settings, before: Settings) -> dict[str, Any]:
    """The rows that lead from one set of settings to another."""
    new, old = settings._asdict(), before._asdict()
    return {f"setting.{name}": new[name] for name in SETTINGS if new[name] != old[name]}


def _scales(values: Values, former: Values) -> Scales:
    versions = {scale.id: taken_back(scale) for scale in map(scale_from, _under(former, "scale"))}
    versions |= {scale.id: scale for scale in DEFAULT_SCALES.versions}
    versions |= {scale.id: scale for scale in map(scale_from, _under(values, "scale"))}
    ordered = sorted(versions.values(), key=lambda scale: (scale.from_day or date.min, scale.to_day is None))
    return Scales(tuple(ordered))


def scale_from(value: dict[str, Any]) -> Scale:
    """The version of levels that a row stands for."""
    levels = tuple(Level(**{**level, "keys": tuple(level["keys"])}) for level in value["levels"])
    return Scale(value["id"], value["grid"], levels, _day(value["from_day"]), _day(value["to_day"]))


def scale_value(scale: Scale) -> dict[str, Any]:
    """The row of a version of levels: name and value."""
    value = scale._asdict()
    value |= {"levels": [level._asdict() for level in scale.levels]}
    value |= {"from_day": _iso(scale.from_day), "to_day": _iso(scale.to_day)}
    return {f"scale.{scale.id}": value}


def new_scale_values(scale: Scale, standing: Scales, was_kept: WasKept) -> dict[str, Any]:
    """The rows of other levels; a version for the very same days makes room, if no square was kept with it.

    Raises WrongScale if one was, or for a closed span that overlaps another.
    """
    values: dict[str, Any] = {}
    for other in standing.of(scale.grid):
        if other == scale or other.is_taken_back:
            continue
        if (other.from_day, other.to_day) == (scale.from_day, scale.to_day):
            if was_kept([level.id for level in other.levels]):
                begin = long_day(scale.from_day) if scale.from_day else "the first day"
                raise WrongScale(
                    f"The levels of {scale.grid} change on {begin} already, "
                    "and squares were kept with them; choose another day."
                )
            values |= dict.fromkeys(scale_value(other))
        elif scale.overlaps(other):
            raise WrongScale(
                f"These days overlap those from {other.from_day} to {other.to_day}, which have levels of "
                f"{scale.grid} of their own; choose days beside them."
            )
    return values | scale_value(scale)


def _kinds(values: Values) -> tuple[ShiftKind, ...]:
    kinds = {kind.id: kind for kind in DEFAULT_KINDS}
    kinds |= {kind.id: kind for kind in map(kind_from, _under(values, "kind"))}
    return tuple(kinds.values())


def kind_from(value: dict[str, Any]) -> ShiftKind:
    """The kind of shift that a row stands for."""
    start, end = value["start"], value["end"]
    return ShiftKind(
        value["id"],
        value["code"],
        value["label"],
        time.fromisoformat(start) if start else None,
        time.fromisoformat(end) if end else None,
        _work(value),
    )


def _work(value: dict[str, Any]) -> Work:
    """Whether a kind is work; before there was on call, a row said yes or no."""
    if "work" in value:
        work: Work = value["work"]
        return work
    if not value["works"]:
        return "no"
    return "on call" if value["id"] == ON_CALL else "yes"


def kind_value(kind: ShiftKind) -> dict[str, Any]:
    """The row of a shift kind: name and value."""
    value = kind._asdict()
    for at in ("start", "end"):
        value[at] = value[at].strftime("%H:%M") if value[at] else None
    return {f"kind.{kind.id}": value}


def break_from(value: dict[str, Any]) -> Break:
    """The break that a row stands for."""
    return Break(date.fromisoformat(value["from"]), _day(value["to"]))


def break_value(span: Break) -> dict[str, Any]:
    """The row of a marked break: name and value."""
    value = {"from": span.from_day.isoformat(), "to": _iso(span.to_day)}
    return {f"break.{span.from_day.isoformat()}": value}


def break_values(breaks: Breaks, before: Breaks) -> dict[str, Any]:
    """The rows that lead from some breaks to others."""
    gone = [span for span in before if span.from_day not in [other.from_day for other in breaks]]
    values: dict[str, Any] = {name: None for span in gone for name in break_value(span)}
    for span in breaks:
        if span not in before:
            values |= break_value(span)
    return values


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None
