"""Where to turn, country by country, as read on public pages. Dial every number once before a release."""

from __future__ import annotations

from typing import Literal, NamedTuple

How = Literal["own", "press", "local"]
"""Where a row was read: a page of the line itself or of a government, the press, a practice or charity."""


class HelpLines(NamedTuple):
    """Whom to call in one country."""

    country: str
    emergency: str
    advice: str
    """Urgent advice; may be empty."""
    listening: str
    """Somebody to talk to."""
    checked: str
    """Month in which the row was last read."""
    how: tuple[How, ...]
    """Where it was read."""


ELSEWHERE_IN_THE_EU = "elsewhere in the EU"
UNITED_KINGDOM, USA = "United Kingdom", "USA"
SAMARITANS = "Samaritans 116 123"
GENERAL = HelpLines(
    "",
    "your emergency number (112 in most of Europe)",
    "your local health service",
    "a listening line near you",
    "2026-11",
    ("own",),
)

HELP_LINES: tuple[HelpLines, ...] = (
    HelpLines(
        "England", "999 or 112", "NHS 111, mental health option (2)", SAMARITANS, "2026-11", ("own", "local"),
    ),
    HelpLines("Wales", "999 or 112", "NHS 111, press 2", SAMARITANS, "2026-11", ("own", "press")),
    HelpLines(
        "Scotland", "999 or 112", "NHS 24 on 111",
        f"Breathing Space 0800 83 85 87 (evenings, weekends), {SAMARITANS}", "2026-11", ("own", "press"),
    ),
    HelpLines(
        "Northern Ireland", "999 or 112", "the out-of-hours service",
        f"Lifeline 0808 808 8000 (day and night), {SAMARITANS}", "2026-11", ("own", "press"),
    ),
    HelpLines(
        UNITED_KINGDOM, "999 or 112",
        "NHS 111, mental health option (Northern Ireland: your doctor's out-of-hours number)",
        SAMARITANS, "2026-11", ("own", "local"),
    ),
    HelpLines(
        "Ireland", "112 or 999", "your doctor or the out-of-hours GP",
        f"{SAMARITANS}, text 50808; HSE 1800 111 888 informs", "2026-11", ("own",),
    ),
    HelpLines("Germany", "112", "116 117", "TelefonSeelsorge 0800 111 0 111", "2026-11", ("own", "press")),
    HelpLines("France", "15 or 112", "", "3114", "2026-11", ("own", "press")),
    HelpLines("Spain", "112", "", "024", "2026-11", ("own", "press")),
    HelpLines(
        "Netherlands", "112", "the huisartsenpost (evenings, nights, weekends)",
        "113 (free) or 0800-0113", "2026-11", ("press", "local"),
    ),
    HelpLines(USA, "911", "", "988, call or text", "2026-11", ("own",)),
    HelpLines("Canada", "911", "811 in many provinces", "988, call or text", "2026-11", ("own",)),
    HelpLines(
        "Australia", "000", "", "Lifeline 13 11 14, Beyond Blue 1300 22 4636", "2026-11", ("own", "press"),
    ),
    HelpLines("New Zealand", "111", "Healthline 0800 611 116", "1737, call or text", "2026-11", ("local",)),
    HelpLines("India", "112", "", "Tele MANAS 14416", "2026-11", ("own", "press")),
    HelpLines(
        ELSEWHERE_IN_THE_EU, "112", "116 117, which is reserved in every EU country and does not work in all",
        "116 123, where it works", "2026-11", ("own", "press"),
    ),
)  # fmt: skip

UK_NATIONS = ("England", "Scotland", "Wales", "Northern Ireland")
EU_MEMBERS = (
    "Austria", "Belgium", "Bulgaria", "Croatia", "Cyprus", "Czechia", "Denmark", "Estonia", "Finland",
    "France", "Germany", "Greece", "Hungary", "Ireland", "Italy", "Latvia", "Lithuania", "Luxembourg",
    "Malta", "Netherlands", "Poland", "Portugal", "Romania", "Slovakia", "Slovenia", "Spain", "Sweden",
)  # fmt: skip

OWN_LINES = 4
"""Lines of her own that may stand first."""
FOR_HEALTH_STAFF_UK = (
    "Doctors and medical students in the UK: BMA counselling 0330 123 1245, day and night.",
    "Doctors and dentists in England: NHS Practitioner Health 0300 0303 300, not at night.",
    "Neither is an emergency service.",
)


def lines_for(country: str) -> HelpLines:
    """The lines of a country, else of the EU for its members, else the general text."""
    wanted = country.strip().casefold()
    rows = {row.country.casefold(): row for row in HELP_LINES}
    if wanted in (member.casefold() for member in EU_MEMBERS) and wanted not in rows:
        return rows[ELSEWHERE_IN_THE_EU.casefold()]._replace(country=country.strip())
    return rows.get(wanted, GENERAL)


def note_on(country: str) -> str:
    """What to know of a country that is kept: finer lines, or that no numbers of it are known."""
    if country == UNITED_KINGDOM:
        return "England, Scotland, Wales or Northern Ireland gives that country's lines."
    if not country or lines_for(country).country:
        return ""
    return f"No numbers of it are known here: tracker help --own TEXT puts your own ({OWN_LINES} lines)."
