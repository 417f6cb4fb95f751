"""What `cure` has to say, before it is worded: the verdict, the progress, the air, dew and water; and as JSON."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import inf
from typing import Any, NamedTuple

from assistant.cases import rulebook_of
from assistant.cases.rooms import parse_reading, parse_space, parse_temperature
from assistant.explain.curing import wanted_air
from assistant.explain.verdict_json import verdict_json
from assistant.measures.curing import Cure, case_for, cure_by_answers, cure_by_log, recipes_of, with_signs
from assistant.model.case import Case
from assistant.model.derivation import Verdict
from assistant.model.quantities import NotAValue, Units
from assistant.model.readings import Span
from assistant.model.room_log import RoomLog
from assistant.reckoning.curing import Recipe
from assistant.reckoning.moist_air import Air, water_to_add
from assistant.whatif import advise_fully


class Asked(NamedTuple):
    """What was asked beside the cure itself: roots so warm (°F), a space so large (cubic feet), air from outside."""

    roots: float | None = None
    space: float | None = None
    outside: Air | None = None

    @classmethod
    def of(cls, roots: str | None, space: str | None, outside: str | None, units: Units) -> Asked:
        """From the words of the command line. Raises `NotAValue`."""
        return cls(
            parse_temperature(roots, units) if roots else None,
            parse_space(space) if space else None,
            _air(outside, units) if outside else None,
        )


def _air(text: str, units: Units) -> Air:
    temperature, humidity = parse_reading(text, units)
    if humidity is None:
        raise NotAValue(f"'{text}' has no humidity; write both, such as 55 F 85 %")
    return Air(temperature, humidity)


@dataclass(frozen=True)
class CureReport:
    """A cure, the verdict on it, and what else was asked."""

    cure: Cure
    verdict: Verdict
    recipes: tuple[tuple[Recipe, Span], ...]
    asked: Asked
    units: Units

    @classmethod
    def of(cls, case: Case | None, log: RoomLog | None, asked: Asked, units: Units) -> CureReport:
        """The report on a case of the curing rulebook, a log, or both. At least one is given; the later day counts."""
        if case is None:
            assert log is not None, "one of the two was asked for"
            case = case_for(log)
        on = max(case.on, log.end.date()) if log else case.on
        case = replace(case, units=units, on=on)
        book = rulebook_of(case)
        cure = cure_by_log(log, on) if log else cure_by_answers(book, case)
        verdict = advise_fully(book, with_signs(case, cure, asked.roots))
        return cls(cure, verdict, tuple(cure.against(recipes_of(book))), asked, case.units)


def cure_json(report: CureReport) -> dict[str, Any]:
    """The report as plain data; temperatures in °F, days and shares as numbers, null where nothing is known."""
    fewest, most = report.cure.days_left
    air, asked = report.cure.air, report.asked
    return {
        "verdict": verdict_json(report.verdict),
        "progress": report.cure.progress._asdict(),
        "left": {"fewest": None if fewest == inf else fewest, "most": most},
        "recipes": [
            {"named": recipe.named, "low": share.low, "high": share.high, "sources": list(recipe.sources)}
            for recipe, share in report.recipes
        ],
        "air": air and {"temperature": air.temperature, "humidity": air.humidity, "dew_point": round(air.dew_point, 2)},
        "sweats": None if air is None or asked.roots is None else air.wets(asked.roots),
        "water": _water(air, asked),
        "log": report.cure.log and _log(report.cure.log),
    }


def _water(air: Air | None, asked: Asked) -> dict[str, float | None] | None:
    if air is None or asked.space is None:
        return None
    wanted = wanted_air(air)
    outside = asked.outside
    return {
        "once": water_to_add(air, wanted, asked.space),
        "each_change": water_to_add(outside, wanted, asked.space) if outside else None,
    }


def _log(log: RoomLog) -> dict[str, Any]:
    return {
        "readings": len(log.readings),
        "start": log.start.isoformat(),
        "end": log.end.isoformat(),
        "set_aside": dict(log.set_aside),
        "gaps": [{"start": gap.start.isoformat(), "end": gap.end.isoformat()} for gap in log.gaps],
    }
