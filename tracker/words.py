"""Every sentence that must be the same everywhere. Imports nothing; takes plain values."""

PROGRAM = "tracker"
FOLDER_NAME = "tracker-days"
"""Of the program's folders: other programs have the bare name."""

# --- cautions ---------------------------------------------------------------------------------

NO_SCREENING = "Not a clinical screening tool."
CAUTION = f"{NO_SCREENING} Patterns in a diary are not a diagnosis."

CAUTION_HELP = (
    "This program keeps a diary and shows what is in it. It is not a clinical screening tool, not a "
    "medical device, and nobody is watching what you enter. It has not been tested for finding or "
    "ruling out any illness. A low day, a run of short nights or a pattern here does not mean that "
    "you are ill, and a quiet page does not mean that you are well. How you feel, and what people "
    "who know you say, count for more than any square. If something worries you, see your doctor, "
    "with or without this page."
)

VERDICTS_MEAN = (
    "'Shown' means that chance alone seldom does so much, with weekdays, shifts and slow change taken into "
    "account; 'not shown' says how large a link would have to be to be seen; 'too little kept' that these "
    "days can show nothing either way."
)

PURPOSE = (
    "For a person's own diary and for talking it over with a doctor; not for finding, ruling out, "
    "monitoring or treating any illness."
)

WHERE_TO_TURN_HINT = "If you feel unsafe, or want someone to talk to: tracker help, or ? in the app."

UNSAFE_HEAD = "If you feel unsafe, or might harm yourself, get help now."


def unsafe_body(emergency: str, listening: str, advice: str, own: str) -> tuple[str, ...]:
    """Where to turn, in lines of 76 characters or less for the lines that ship."""
    return (
        f"1. In immediate danger: call {emergency}.",
        f"2. Need to talk to someone now: {listening}.",
        f"3. Urgent advice: {advice}, or your own doctor's practice.",
        f"4. Someone you trust: {own}.",
        'You need not explain well. Saying "I am not safe" is enough.',
        "These numbers may be out of date. Your local service comes first.",
        "This program does not watch what you enter and cannot call anyone.",
    )


TIRED = (
    "Short of sleep, above all after a night shift, you slow down more than you",
    "notice. If you feel sleepy, do not drive: rest first, or take a lift, a bus",
    "or a taxi. At work, say so before a task where a slip matters.",
)

CAUSE = (
    "Two things that go together need not be cause and effect. A third, such as",
    "the rota, an illness or the time of year, may move both.",
)

STOPPING = (
    "You may stop at any time. If keeping this makes you worry more about sleep or mood, stop, and tell your "
    "doctor."
)

HANDING_OVER = (
    "What you hand over may be kept in your medical record and seen by others",
    "who look after you. If you are treated where you work, colleagues with",
    "access to that record could see it. Leave out what you do not want there.",
)
NAMED_FOR_ONE_PAGE = (
    "A page sent electronically needs your name on it. Typed here it stands on this page and is kept nowhere."
)

INVENTED = "Invented days of a relief signaller on the Harrowmere line."
INVENTED_DAYS = "invented days"
"""The same behind a title."""

# --- what failed ------------------------------------------------------------------------------


def fault(kind: str, place: str) -> str:
    """The program itself is at fault."""
    where = f" at {place}" if place else ""
    return (
        f"The program made a mistake ({kind}{where}). "
        "What was kept before stands; tracker check looks after the record."
    )


def no_backup(why: str) -> str:
    """The day's backup could not be made."""
    return f"There is no backup of today: {why}"


# --- first run --------------------------------------------------------------------------------

WHAT_THIS_IS = (
    "Each day has two squares: one for mood, one for hours you think you slept.",
    "It stays on this computer and is shown to nobody.",
    "It finds out what goes with what, and says so only when the days bear it.",
)

# --- the grids --------------------------------------------------------------------------------

SLEEP_BEFORE = "the sleep before"
SLEEP_AFTER = "the sleep after"
MOOD_ASKED = "How was this day, taken as a whole?"
SLEEP_ASKED = "Hours asleep, every sleep since you last got up added together."
HOURS_LIKE = "6.5, 6:30, or with a nap 5+1.5"
ANXIOUS_HELP = "uneasy or unsettled for a good part of the day"
AFTER_A_NIGHT = "After a night: the sleep that ends today belongs to today."
MORE_OF_A_COMMAND = "tracker help COMMAND says all that one takes, with examples."
OTHER_WAY = "tracker put asks in plain lines"
"""Where a window is too small for a screen."""
NOTHING_CHANGED = "Nothing was changed."
TYPED_WAITS = "What you typed waits where you typed it."
THROWN_AWAY = "Thrown away; what stands here now was kept before."
NO_RECORD_FOR_DRAFTS = "No record is begun yet, and none for this alone."
TYPED_ELSEWHERE = "What was typed here in another window waits already, so this cannot; Enter keeps it."
LEFT = "Left: all that was kept stands."
ENDED = "Told to end before it was done; all that was kept before stands."
SUSPENDED = "tracker is suspended; fg brings it back. All that was kept stands."
KEPT_FROM_NOW_ON = "Kept; it holds from now on."
NOTHING_WAITS = "Nothing of yesterday and today waits."
MOOD_AT_THE_END = "at the day's end"
RESTS_ON_PAPER = "If they were copied from paper, tracker put DAY --paper says so and brings them in."
"""How to put right that findings leave days out."""
NO_NAMES_IN_NOTES = "No patients' names or details in notes."


def not_suspended(key: str) -> str:
    """Why Ctrl+Z does nothing, and the key that leaves."""
    return f"No shell here could bring the program back from Ctrl+Z; {key} leaves it."


def typed_waits_at(day: str) -> str:
    """Said at the opening, where a window was lost with something typed."""
    return f"What you typed on {day} and did not keep waits there: Enter on that day shows it."


def stands_again(rows: list[str], key: str) -> str:
    """What was typed and not kept is offered again, in some rows of a form or in its only one."""
    where = f"under {listed(rows)}" if rows else "here"
    again = "there" if rows else "here"
    keys = f"Enter keeps it, {key} throws it away."
    return f"What you typed {where} and did not keep stands {again} again. {keys}"


def left_as_they_are(names: str, command: str) -> str:
    """Said of backups that could not be locked, or unlocked, with the record."""
    return (
        f"Left as they are: {names}. They are damaged, have another passphrase, or could not be "
        f"written; tracker {command} tries again."
    )


def goes_if_left(why: str) -> str:
    """What is typed cannot wait in the record, so it would be lost if she left."""
    return f"What you typed cannot wait; the same key again leaves without it. {why}"


def after_an_earlier_night(day: str) -> str:
    """The same of a day that is over, which must not be taken for today."""
    return f"After a night: the sleep that ended on {day} belongs to that day."


def still_to_come(day: str) -> str:
    """Why a key for a later day keeps nothing."""
    return f"{day} is still to come; nothing was kept."


def means_nothing(key: str, help_key: str) -> str:
    """Said of a key that does nothing, so that no older sentence looks like its answer."""
    return f"{key} means nothing here; {help_key} lists keys."


def on_the_command_line(line: str, leave: str) -> str:
    """Said of a command of the command line that is chosen in the app."""
    return f"Type it in another terminal, or here after {leave}: {line}"


def only_looking(record: object) -> str:
    """Why nothing is kept in a record that could only be opened for reading."""
    return f"Nothing is kept: no room on the disk, or no leave to write. Mend that, then open {record} again."


def moved_while_open(record: object) -> str:
    """Why nothing is kept in a record whose file is no longer where it was opened."""
    return f"Nothing is kept: {record} was moved or replaced. Put it back, or leave and open it anew."


def no_level(key: str, grid: str, first: str, last: str) -> str:
    """Why a digit keeps nothing."""
    return f"{key} is no level of {grid}; its keys are {first} to {last}."


NEWEST_ALONE = "Findings compare moods on the newest levels alone."
"""What other levels of mood cost."""


def other_levels(grids: str, day: str) -> str:
    """Asked before levels are others from a day on."""
    compared = f" {NEWEST_ALONE}" if "mood" in grids else ""
    return (
        f"From {day} on there would be other levels of {grids}; squares that are kept keep theirs, and undo "
        f"takes it back.{compared} Enter once more keeps this."
    )


def squares_in_a_break(number: int) -> str:
    """Said where a break is laid over days that are kept; empty where none is."""
    return f" It covers {counted(number, 'day')} with squares; these stay." if number else ""


def waiting_line(number: int, key: str, brief: bool = False) -> str:
    """How many earlier squares wait, and the key that goes there; a fact, never a reproach."""
    verb = "waits" if number == 1 else "wait"
    squares = f"{number} earlier" if brief else counted(number, "earlier square")
    return f"{squares} {verb} ({key} goes there)." if number else ""


# --- a trial on oneself -------------------------------------------------------------------------

TRIAL_NEVER = (
    "Never for a trial of your own: a medicine, a sleep aid or a supplement begun, left off or moved without "
    "whoever prescribed it; less time in bed or staying awake on purpose, which slows you down; more "
    "alcohol, nicotine or caffeine; fasting; bright lamps; anything on which safety at work or at the wheel "
    "rests."
)
TRIAL_NOT_WHILE_UNWELL = "Not while you are unwell: see your doctor first."
TRIAL_NONE_OF_THESE = "It is none of these, and I am not unwell."
TRIAL_STOP = "Stop whenever you like. If it makes things worse, stop and tell your doctor."
TRIAL_KNOWN = "You knew which block it was, and that alone can do something."
TRIAL_LEFT_EARLY = (
    "It was left early, so there are only counts: whoever may stop at any time may stop at a good moment."
)
TRIAL_LEVELS_CHANGED = "Its levels were changed within it, so there are only counts."
TRIALS_SHARE_DAYS = "It shares days with another trial, so neither is judged."

# --- numbers, lists and sentences --------------------------------------------------------------


def page_written(path: object) -> str:
    """Where the page is, and that it went nowhere else."""
    return f"The page is in {path}; nothing was sent or printed."


def left_out(things: list[str] | tuple[str, ...]) -> str:
    """What the page has no room for."""
    return f"Left out, for want of room on one side: {listed(list(things))}."


def counted(number: int, thing: str, things: str = "") -> str:
    """A number with its noun: `1 square`, `2 squares`."""
    return f"{number} {thing if number == 1 else things or thing + 's'}"


def listed(things: list[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return " and ".join(filter(None, [", ".join(things[:-1]), things[-1]])) if things else ""


def sentence(text: str) -> str:
    """With a capital at its beginning."""
    return text[:1].upper() + text[1:]


def harmless(text: str) -> str:
    """A text from outside as a terminal may show it: signs that steer it or turn letters round are named."""
    return "".join(f"\\u{ord(sign):04x}" if sign in _STEERING else sign for sign in text)


_STEERING = {
    chr(number)
    for first, last in ((0, 8), (11, 31), (127, 159), (0x2028, 0x202E), (0x2066, 0x2069))
    for number in range(first, last + 1)
}
