"""The plan of the next year as JSON."""

from __future__ import annotations

from datetime import date
from typing import Any

from assistant.cases.next_year import BedState, NextYear
from assistant.explain.verdict_json import verdict_json
from assistant.reckoning.planting import at_least_once
from assistant.reckoning.ranges import Range
from assistant.reckoning.slips import bed_area, most_nitrogen

SEASONS = (1, 2, 5, 10, 20, 30)


def next_year_json(plan: NextYear) -> dict[str, Any]:
    """Everything on the page, in lb, ft and °F."""
    return {
        "verdict": verdict_json(plan.verdict),
        "signs": {name: known.written for name, known in plan.case.answers.items()},
        "year": plan.year,
        "beds": [_bed(state) for state in plan.beds],
        "bed": plan.chosen.name if plan.chosen else None,
        "ground_freezes": _freeze(plan),
        "takers": [{"name": taker.name, "fit": fit.value} for taker, fit in plan.takers],
        "planting": _planting(plan),
        "slips": _slips(plan),
    }


def _bed(state: BedState) -> dict[str, Any]:
    held = state.held
    because = held.season._asdict() if held else None
    not_before = held.until if held else None
    return {
        "bed": state.name, "ready": state.ready, "rested": state.rested, "not_before": not_before, "because": because
    }  # fmt: skip


def _freeze(plan: NextYear) -> dict[str, Any] | None:
    freeze = plan.freeze
    if freeze is None:
        return None
    weeks = freeze.weeks(plan.case.on)
    return {"on": _iso(freeze.day), "weeks": weeks, "winters": freeze.winters, "frozen": freeze.frozen}


def _planting(plan: NextYear) -> dict[str, Any]:
    planting, start = plan.planting, plan.start
    chance = planting.later_freeze
    return {
        "last_freeze": _iso(planting.last_freeze),
        "last_freeze_p90": _iso(plan.late_freeze),
        "frost_is_past": _iso(planting.frost_is_past),
        "soil_warm": _iso(planting.soil_warm),
        "plant_out": _iso(planting.plant_out),
        "later_freeze": None if chance is None else {str(n): round(at_least_once(chance, n), 4) for n in SEASONS},
        "season_days": dict(zip(("p10", "p50"), plan.season, strict=True)) if plan.season else None,
        "wake": [day.isoformat() for day in start.wake] if start else None,
        "bed": [day.isoformat() for day in start.bed] if start else None,
    }


def _slips(plan: NextYear) -> dict[str, Any] | None:
    if plan.slips is None:
        return None
    ranges = {name: _range(value) for name, value in plan.slips._asdict().items()}
    area = bed_area(plan.slips.row_feet.likely, plan.wanted.layout.row_width)
    wanted = {"pounds": plan.wanted.pounds, "use": plan.wanted.use, "months": plan.wanted.months}
    return wanted | ranges | {"most_nitrogen_lb": round(most_nitrogen(area), 3)}


def _range(value: Range) -> dict[str, float]:
    return {name: round(number, 2) for name, number in value._asdict().items()}


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None
