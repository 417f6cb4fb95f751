"""An outlook as JSON; the keys are explained in `digday outlook --help`."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.outlook.ahead import DayAhead, Outlook, View
from assistant.outlook.assumptions import assumptions, missing
from assistant.reckoning.ranges import Range


def outlook_json(outlook: Outlook) -> dict[str, object]:
    """Dates as ISO 8601, temperatures in °F, widths in inches, chances and shares from 0 to 1."""
    good, look, safe = outlook.first_good_day, outlook.first_look, {view: outlook.latest_safe(view) for view in View}
    week, now = outlook.week, outlook.days[0].roots
    return {
        "case": outlook.case.title,
        "on": outlook.case.on.isoformat(),
        "risk": outlook.risk,
        "days": [_day(day) for day in outlook.days],
        "first_good_day": good.isoformat() if good else None,
        "first_look": look.isoformat() if look else None,
        "latest_safe_day": {view.value: its.on.isoformat() if its else None for view, its in safe.items()},
        "latest_safe_because": {
            view.value: its.end.value if its else "nothing is known of the coming nights" for view, its in safe.items()
        },
        "week": {
            "gain": {
                "grams_per_plant": _range(week.grams),
                "share_now": _range(now.share if now else None),
                "share_then": _range(week.share),
            },
            "risk": {view.value: _chance(chance) for view, chance in week.risk.items()},
        },
        "missing": missing(outlook),
        "assumptions": [{"says": says, "sources": list(sources)} for says, sources in assumptions(outlook)],
    }


def _day(day: DayAhead) -> dict[str, object]:
    counted = day.counted
    return {
        "on": day.on.isoformat(),
        "low": _range(day.low),
        "chance": _chances(day.night),
        "by": _chances(day.by),
        "counted": {"came": counted.came, "seasons": counted.seasons} if counted else None,
        "soil": _range(day.soil),
        "share": _range(day.roots.share if day.roots else None),
        "width": _range(day.roots.width if day.roots else None),
        "harm": {view.value: _chance(chance) for view, chance in day.harm.items()},
        "advice": day.advice,
    }


def _chances(chances: Mapping[int, float | None]) -> dict[str, float | None]:
    return {str(limit): _chance(chance) for limit, chance in chances.items()}


def _chance(chance: float | None) -> float | None:
    return None if chance is None else round(chance, 4)


def _range(range_: Range | None) -> dict[str, float] | None:
    return {name: round(end, 4) for name, end in range_._asdict().items()} if range_ else None
