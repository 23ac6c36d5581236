"""What can go wrong, each kind with the one sentence that a person is shown.

TrackerError
├── WrongValue        something typed that is no value where it stands
│   ├── WrongDay          a day that cannot be kept: still to come, or no such date
│   ├── UnknownValue      a level, bucket, shift, setting or field that does not exist
│   ├── WrongTrial        a plan that cannot be carried out, or could show nothing
│   └── WrongScale        levels that leave a gap, overlap, or are too few or too many
├── NothingToUndo     no action is left to take back, or to bring again
├── BrokenFile        a file that cannot be taken, with every fault and its place
├── CannotWrite       a file that cannot be written
├── NobodyThere       a question where nobody can answer it
└── RecordTrouble     the record itself
    ├── ForeignRecord     a file that is not a record of this program
    ├── NewerRecord       a record made by a newer program
    ├── DamagedRecord     a record whose file or rows are damaged
    ├── KeyNeeded         it is locked, and its passphrase was not given yet
    ├── HeldRecord        another program holds it
    └── UnwritableRecord  read-only, full disk, missing folder
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from tracker import words


class TrackerError(Exception):
    """Anything that a person is told in one sentence: what is wrong, where, what to do."""

    def __str__(self) -> str:
        return words.harmless(super().__str__())


class WrongValue(TrackerError):
    """Something typed that is no value where it stands: whoever typed it mends it by typing."""


class WrongDay(WrongValue):
    """A day that cannot be kept."""


class UnknownValue(WrongValue):
    """A word or number that stands for nothing here."""


class WrongScale(WrongValue):
    """A set of levels that cannot serve as a scale."""


class WrongTrial(WrongValue):
    """A trial on oneself that cannot be planned or changed so."""


class NothingToUndo(TrackerError):
    """No action is left to take back or to bring again."""


class NobodyThere(TrackerError):
    """A question cannot be asked: input or output is no terminal."""


class CannotWrite(TrackerError):
    """A file that could not be written; nothing half-written was left."""


class Fault(NamedTuple):
    """One thing wrong in a file."""

    line: int
    """Line in the file, from 1; 0 where the file has no lines to count."""
    column: str
    """Name of the column, or empty when the whole line is meant."""
    sentence: str
    """What was found and what was expected."""

    def __str__(self) -> str:
        line = f"line {self.line}" if self.line else ""
        place = ", ".join(part for part in (line, self.column) if part)
        return words.harmless(f"{place}: {self.sentence}" if place else self.sentence)


class BrokenFile(TrackerError):
    """A file that cannot be taken; nothing of it was kept."""

    def __init__(self, file: Path | str, faults: list[Fault], advice: str = "") -> None:
        super().__init__(file, faults)
        self.file = file
        self.faults = faults
        self.advice = advice or "Nothing was kept; mend these lines and import the file again."

    def __str__(self) -> str:
        shown = [f"{self.file}: {fault}" for fault in self.faults[:20]]
        more = len(self.faults) - len(shown)
        tail = [f"... and {more} more."] if more > 0 else []
        return "\n".join([*shown, *tail, self.advice])


class RecordTrouble(TrackerError):
    """The record cannot be used as it is."""


class ForeignRecord(RecordTrouble):
    """A file that is not a record of this program; it was not touched."""


class NewerRecord(RecordTrouble):
    """A record made by a newer program; it was not touched."""


class DamagedRecord(RecordTrouble):
    """A record whose file or rows are damaged."""


class KeyNeeded(RecordTrouble):
    """A locked record whose passphrase was not given yet."""


class HeldRecord(RecordTrouble):
    """Another program holds the record."""


class UnwritableRecord(RecordTrouble):
    """The record cannot be written: read-only, full disk, missing folder."""


def in_one_sentence(error: BaseException | None) -> str:
    """What a person is told of an error; of the program's own fault its kind and place, no more."""
    if isinstance(error, TrackerError):
        return str(error)
    if isinstance(error, OSError) and error.strerror:
        return f"{error.filename or 'The output'} cannot be read or written: {error.strerror.lower()}."
    return words.fault(type(error).__name__, _place(error))


def _place(error: BaseException | None) -> str:
    import traceback

    frames = traceback.extract_tb(error.__traceback__) if error else []
    ours = [frame for frame in frames if "tracker" in Path(frame.filename).parts] or list(frames)
    return f"{Path(ours[-1].filename).name} line {ours[-1].lineno}" if ours else ""
