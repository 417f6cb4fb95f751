"""A test dig as plain data for other programs."""

from __future__ import annotations

from typing import Any

from assistant.explain.digging import Needed, in_weight_unit, weight_unit
from assistant.model.quantities import CM_PER_INCH, Units
from assistant.model.readings import Span
from assistant.reckoning.dig_report import DigReport
from assistant.reckoning.growth import days_to_size, growth_per_day
from assistant.reckoning.ranges import Range
from assistant.reckoning.yields import BUSHELS, GRAMS_PER_POUND, Bed


def dig_json(
    report: DigReport, units: Units, bed: Bed | None, growth: tuple[DigReport, int] | None, needed: Needed
) -> dict[str, Any]:
    """Everything a dig says; shares from 0 to 1, diameters in inches or cm, weights in pounds or kilograms."""
    plan = report.plan
    data: dict[str, Any] = {
        "hills": len(report.hills),
        "roots": report.root_count,
        "share": _range(report.share, 4),
        "confidence": report.confidence,
        "per_plant": _weight(report.per_plant, units),
        "grades": report.grades if report.roots else {},
        "stop": plan.answer is not None,
        "more_hills": plan.more_hills,
        "answer": plan.answer.value if plan.answer else None,
        "hills_needed": needed._asdict(),
        "wanted": _span(report.wanted, units),
        "too_small": _range(report.too_small, 4),
        "too_big": _range(report.too_big, 4),
        "middle_root": _span(report.middle, units),
        "stricter_grades": report.stricter,
        "trial_classes_by_weight": report.trial,
    }
    if bed and report.per_plant:
        data["bed"] = _bed(bed, report.per_plant, units)
    if growth:
        data["growth"] = _growth(report, *growth, units)
    return data


def _bed(bed: Bed, plant: Range, units: Units) -> dict[str, Any]:
    acre = bed.per_acre(plant.times(1 / GRAMS_PER_POUND))
    return {
        "per_row_foot": _weight(bed.per_foot(plant), units),
        "whole": _weight(bed.in_bed(plant), units),
        "bushels_per_acre": acre and {name: _range(acre.times(1 / pounds), 1) for name, pounds in BUSHELS.items()},
    }


def _growth(later: DigReport, earlier: DigReport, days: int, units: Units) -> dict[str, Any]:
    digs = earlier.dig.hills, later.dig.hills, days
    ahead = days_to_size(*digs, later.wanted.low, later.confidence)
    widening = growth_per_day(*digs, later.confidence)
    return {
        "days_between": days,
        "per_day": {**_range(widening.times(_scale(units)), 4), "unit": _unit(units)},
        "days_to_size": ahead and {"low": ahead.low, "high": ahead.high},
    }


def _range(value: Range, digits: int) -> dict[str, float]:
    return {name: round(end, digits) for name, end in value._asdict().items()}


def _weight(grams: Range | None, units: Units) -> dict[str, float | str] | None:
    return None if grams is None else {**_range(in_weight_unit(grams, units), 3), "unit": weight_unit(units)}


def _span(inches: Span | None, units: Units) -> dict[str, float | str] | None:
    if inches is None:
        return None
    return {
        "low": round(inches.low * _scale(units), 2),
        "high": round(inches.high * _scale(units), 2),
        "unit": _unit(units),
    }


def _scale(units: Units) -> float:
    return 1.0 if units is Units.US else CM_PER_INCH


def _unit(units: Units) -> str:
    return "in" if units is Units.US else "cm"
