"""Where to turn, country by country. Every number is checked by hand before a release."""

from __future__ import annotations

from typing import NamedTuple


class HelpLines(NamedTuple):
    """Whom to call in one country."""

    country: str
    emergency: str
    advice: str
    """Urgent advice; may be empty."""
    listening: str
    """Somebody to talk to."""
    checked: str
    """Month in which the row was last checked."""
    source: str
    """Where the row was read."""


GENERAL = HelpLines(
    "",
    "your emergency number (112 in most of Europe)",
    "your local health service",
    "a listening line near you",
    "2026-11",
    "common practice, no source",
)

HELP_LINES: tuple[HelpLines, ...] = (
    HelpLines(
        "England", "999 or 112", "NHS 111, option 2", "Samaritans 116 123", "2026-11",
        "NHS pages on 111 option 2; 112 from memory",
    ),
    HelpLines(
        "Wales", "999", "NHS 111, press 2", "Samaritans 116 123", "2026-11",
        "Welsh news on 111 press 2; 999 from memory",
    ),
    HelpLines(
        "Scotland", "999", "NHS 24 on 111",
        "Breathing Space 0800 83 85 87, Samaritans 116 123", "2026-11",
        "NHS 24 notices; 999 from memory",
    ),
    HelpLines(
        "Northern Ireland", "999", "the out-of-hours service",
        "Lifeline 0808 808 8000, Samaritans 116 123", "2026-11",
        "Public Health Agency; the rest from memory",
    ),
    HelpLines(
        "Ireland", "112 or 999", "HSE line 1800 111 888", "Samaritans 116 123, text 50808",
        "2026-11", "Irish press 2019-2020; emergency number from memory",
    ),
    HelpLines(
        "Germany", "112", "116 117", "TelefonSeelsorge 0800 111 0 111", "2026-11",
        "church and press pages; 116 117 from memory",
    ),
    HelpLines(
        "France", "15 or 112", "", "3114", "2026-11", "French press 2021-2022; 15 from memory",
    ),
    HelpLines("Spain", "112", "", "024", "2026-11", "Spanish press 2022"),
    HelpLines(
        "Netherlands", "112", "the huisartsenpost", "113 or 0800-0113", "2026-11",
        "Dutch press 2020, 2025; the rest from memory",
    ),
    HelpLines(
        "USA", "911", "", "988", "2026-11",
        "encyclopaedia and press on 988; 911 from memory",
    ),
    HelpLines(
        "Canada", "911", "811 in most provinces", "988, call or text", "2026-11",
        "encyclopaedia and press on 988; the rest from memory",
    ),
    HelpLines(
        "Australia", "000", "", "Lifeline 13 11 14, Beyond Blue 1300 22 4636", "2026-11",
        "healthdirect.gov.au",
    ),
    HelpLines("New Zealand", "111", "", "1737, call or text", "2026-11", "press 2017-2018"),
    HelpLines(
        "India", "112", "", "Tele MANAS 14416", "2026-11",
        "Indian press 2022-2025; 112 from memory",
    ),
    HelpLines(
        "elsewhere in the EU", "112", "116 117 in some countries", "116 123 in some countries",
        "2026-11", "European Commission on 116 numbers, 2009-2013",
    ),
)  # fmt: skip

FOR_HEALTH_STAFF_UK = (
    "For doctors and health staff in the UK: BMA counselling 0330 123 1245, day and night;",
    "NHS Practitioner Health 0300 0303 300, office hours. Neither is an emergency service.",
)


def lines_for(country: str) -> HelpLines:
    """The lines of a country, or the general text for one that is not listed."""
    wanted = country.strip().casefold()
    return next((row for row in HELP_LINES if row.country.casefold() == wanted), GENERAL)
