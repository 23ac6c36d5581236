"""A trial on oneself: two ways of doing things, in blocks of days whose order is drawn by lot.

The lot is drawn and kept before the first day, so that what is found can rest on the lot alone, whatever else
the days did [1]_.

References
----------
.. [1] Bulté I, Onghena P (2008). An R package for single-case randomization tests. Behav. Res. Methods
   40:467-478. (Blocks within one person.)
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta
from types import MappingProxyType
from typing import Literal, NamedTuple

from tracker.diary.dates import long_day
from tracker.diary.errors import WrongTrial

Outcome = Literal["mood", "sleep", "anxious"]
Direction = Literal["higher", "lower"]
Arm = Literal["A", "B"]
Stage = Literal["to come", "running", "closing", "ended", "stopped"]

LONGEST_WORDS = 40
"""Letters of what is tried, or of what it is compared with."""
CLOSING_DAYS = 3
"""The one look at the result is on this day after the end: the last squares may come late."""
SEED_BYTES = 32
MOST_PAIRS = 60
HOPED: Mapping[Outcome, Direction] = MappingProxyType(
    {"mood": "higher", "sleep": "higher", "anxious": "lower"}
)
"""Where an outcome is hoped to lie: nobody plans for less sleep or lower days."""


class BlockForm(NamedTuple):
    """How long a block must be, by how long the effect of what is tried stays."""

    fades: str
    """When the effect is gone, in words."""
    days: int
    """Days of a block."""
    washout: int
    """Days at the beginning of each block that are not counted: the block before may still act."""
    fewest_pairs: int
    advised_pairs: int


FORMS: tuple[BlockForm, ...] = (
    BlockForm("with the day", 2, 0, 20, 30),
    BlockForm("after a day", 4, 1, 12, 16),
    BlockForm("after some days", 7, 2, 8, 12),
    BlockForm("later", 14, 3, 8, 10),
)


def form_of(block_days: int | str) -> BlockForm:
    """The form whose blocks are so long, as a number or typed; raises WrongTrial where there is none."""
    found = next((form for form in FORMS if str(form.days) == str(block_days).strip()), None)
    if found is None:
        *shorter, longest = (str(form.days) for form in FORMS)
        raise WrongTrial(f"A block has {', '.join(shorter)} or {longest} days, not '{block_days}'.")
    return found


class Block(NamedTuple):
    """Consecutive days on which one of the two is done."""

    pair: int
    """From 1."""
    arm: Arm
    first: date
    last: date


class Trial(NamedTuple):
    """A plan, as it was drawn; nothing of it ever changes but days not done as planned, and an early end."""

    id: str
    tried: str
    """What is done in the blocks of arm A, in her own words."""
    usual: str
    """What is done in those of arm B."""
    outcome: Outcome
    direction: Direction
    """Where the outcome is hoped to lie in the blocks of A, beside those of B."""
    first: date
    block_days: int
    washout: int
    pairs: int
    seed: str
    """The lot: 32 random bytes as hexadecimal digits."""
    stopped: date | None = None
    """The day on which it was left early."""
    missed: frozenset[date] = frozenset()
    """Days not done as planned; they stay where the lot put them."""

    @property
    def last(self) -> date:
        """The last day of the last block."""
        return self.first + timedelta(days=2 * self.pairs * self.block_days - 1)

    @property
    def until(self) -> date:
        """The last day that it took up: the planned one, or the day before it was left."""
        return self.last if self.stopped is None else min(self.last, self.stopped - timedelta(days=1))

    @property
    def look_on(self) -> date:
        """The day from which its result is shown."""
        return self.last + timedelta(days=CLOSING_DAYS)

    def stage(self, today: date) -> Stage:
        """How far it has come."""
        if self.stopped is not None:
            return "stopped"
        if today < self.first:
            return "to come"
        if today <= self.last:
            return "running"
        return "closing" if today < self.look_on else "ended"

    def blocks(self) -> Iterator[Block]:
        """Every block, in order of time."""
        step = timedelta(days=self.block_days)
        first = self.first
        for pair in range(1, self.pairs + 1):
            for arm in arms_of(self.seed, pair):
                yield Block(pair, arm, first, first + step - timedelta(days=1))
                first += step

    def block_of(self, day: date) -> Block | None:
        """The block in which a day lies; None outside the trial."""
        if not self.first <= day <= self.until:
            return None
        place = (day - self.first).days // self.block_days
        pair, second = place // 2 + 1, place % 2
        first = self.first + timedelta(days=place * self.block_days)
        last = first + timedelta(days=self.block_days - 1)
        return Block(pair, arms_of(self.seed, pair)[second], first, last)

    def words_for(self, arm: Arm) -> str:
        """What is done in one arm, in her own words."""
        return self.tried if arm == "A" else self.usual

    def counts(self, day: date) -> bool:
        """Whether a day belongs to what is compared: in a block, past its washout."""
        block = self.block_of(day)
        return block is not None and (day - block.first).days >= self.washout

    def overlaps(self, other: Trial) -> bool:
        """Whether two trials took up the same day."""
        return self.first <= other.until and other.first <= self.until


def arms_of(seed: str, pair: int) -> tuple[Arm, Arm]:
    """The order of the two arms in a pair of blocks, counted from 1.

    It begins with A if the highest bit of SHA-256 over the seed's bytes and the number of the pair in ASCII
    is set: anybody can draw the lot again.
    """
    import hashlib  # not at the top: it loads OpenSSL, which the first picture need not wait for

    digest = hashlib.sha256(bytes.fromhex(seed) + str(pair).encode("ascii")).digest()
    return ("A", "B") if digest[0] & 0x80 else ("B", "A")


def running(trials: Iterable[Trial], today: date) -> Trial | None:
    """The trial that is going on or is to come; None where there is none."""
    open_ones = (trial for trial in trials if trial.stage(today) in ("to come", "running"))
    return min(open_ones, key=lambda trial: trial.first, default=None)


def trial_on(trials: Iterable[Trial], day: date) -> Trial | None:
    """The trial in whose blocks a day lies; None where there is none."""
    return next((trial for trial in trials if trial.block_of(day)), None)


def told_arm(trials: Iterable[Trial], day: date, today: date) -> str:
    """What is done on a day, in her own words; empty outside trials, and for blocks that are still secret.

    Of what is to come she knows the present block and, on its last day, the next one's first.
    """
    trial = trial_on(trials, day)
    block = trial.block_of(day) if trial else None
    if trial is None or block is None:
        return ""
    now = trial.block_of(today)
    known_to = today if now is None else now.last + timedelta(days=today == now.last)
    return trial.words_for(block.arm) if day <= known_to else ""


def new_lot() -> tuple[str, str]:
    """The id of a trial and its seed, from the system's source of chance."""
    import secrets  # for a new trial alone

    return secrets.token_hex(8), secrets.token_hex(SEED_BYTES)


def planned(
    tried: str, usual: str, outcome: Outcome, first: date, block_days: int, pairs: int, lot: tuple[str, str]
) -> Trial:
    """A plan with the washout that its blocks need and the direction that is hoped for.

    Parameters
    ----------
    lot
        See `new_lot`.
    """
    form, (id, seed) = form_of(block_days), lot
    direction = HOPED[outcome]
    return Trial(
        id, tried.strip(), usual.strip(), outcome, direction, first, form.days, form.washout, pairs, seed
    )


def outcome_named(text: str) -> Outcome:
    """The outcome that a word means; raises WrongTrial for any other word."""
    found = next((outcome for outcome in HOPED if outcome == text.strip().casefold()), None)
    if found is None:
        raise WrongTrial(f"A trial looks at mood, sleep or anxious, not at '{text}'.")
    return found


def pairs_typed(text: str) -> int:
    """How many pairs of blocks somebody typed; raises WrongTrial for what is no whole number."""
    if not text.strip().isdecimal():
        raise WrongTrial(f"'{text}' is no number of pairs; write 12.")
    return int(text)


def shares_days(trial: Trial, trials: Iterable[Trial]) -> bool:
    """Whether another trial took up some of its days, as after a merge of two copies: neither is judged."""
    return any(trial.overlaps(other) for other in trials if other.id != trial.id)


def check_plan(trial: Trial, today: date, others: Iterable[Trial] = ()) -> None:
    """Refuse a plan that cannot be carried out or could show nothing.

    Raises
    ------
    WrongTrial
        For words that are missing, too long or the same on both sides, a first day that is not to come,
        blocks of another length, too few or too many pairs, or days that another trial has.
    """
    _check_words(trial)
    form = form_of(trial.block_days)
    if trial.washout != form.washout:
        raise WrongTrial(f"Of a block of {form.days} days the first {form.washout} are not counted.")
    if trial.direction != HOPED[trial.outcome]:
        raise WrongTrial(
            f"A trial of {trial.outcome} hopes for {HOPED[trial.outcome]}, not {trial.direction}."
        )
    if trial.first <= today:
        raise WrongTrial(f"A trial begins tomorrow or later, not on {long_day(trial.first)}.")
    if trial.pairs < form.fewest_pairs:
        raise WrongTrial(
            f"{trial.pairs} pairs of blocks of {form.days} days could show nothing; "
            f"take {form.fewest_pairs} or more, {form.advised_pairs} if you can."
        )
    if trial.pairs > MOST_PAIRS:
        raise WrongTrial(f"A trial has at most {MOST_PAIRS} pairs of blocks.")
    if taken := next((other for other in others if trial.overlaps(other)), None):
        raise WrongTrial(f"The days to {long_day(taken.until)} belong to another trial; begin after it.")


def _check_words(trial: Trial) -> None:
    for words, what in ((trial.tried, "what you try"), (trial.usual, "what you compare it with")):
        if not words.strip():
            raise WrongTrial(f"Say {what} in a few words.")
        if len(words) > LONGEST_WORDS:
            raise WrongTrial(f"Say {what} in at most {LONGEST_WORDS} letters; these are {len(words)}.")
    if trial.tried.casefold() == trial.usual.casefold():
        raise WrongTrial("What you try and what you compare it with are the same words.")
