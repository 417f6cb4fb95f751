"""How soon a need presses, as headings of a list: today, this week, later, or not at all."""

from __future__ import annotations

from datetime import date, timedelta

from assistant.garden.standing.stages import Need

WEEK = timedelta(days=7)
TODAY, SOON, LATER, REST = "Today", "This week", "Later", "At rest"


def urgency(need: Need, on: date) -> str:
    """The heading that a need stands under."""
    if need.by is None:
        return REST
    begin = need.pressing(on)[0]
    return TODAY if begin <= on else SOON if begin <= on + WEEK else LATER
