"""A station's freezes as JSON: days of the year with the calendar dates beside them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from statistics import mean, stdev
from typing import Any

from assistant.cli.frost_report import FrostReport, days_told, season_year
from assistant.reckoning.frost_odds import Odds, SeasonDates

TENTHS = {"p10": 0.1, "p50": 0.5, "p90": 0.9}


def frost_json(report: FrostReport) -> dict[str, Any]:
    """The whole report. Percentiles are those of the dates on record; `normal` has those of the fitted curve."""
    return {
        "station": report.record.name,
        "autumns": report.autumns,
        "none_by": report.none_by and report.none_by.isoformat(),
        "thresholds": {
            str(threshold): {
                "first_fall": _season_dates(freezes.first_fall) | {"chances": _chances(report, threshold)},
                "last_spring": _season_dates(freezes.last_spring),
            }
            for threshold, freezes in report.freezes.items()
        },
        "forecast": _forecast(report),
        "set_aside": dict(report.record.set_aside),
    }


def _season_dates(seasons: SeasonDates) -> dict[str, Any]:
    days = seasons.day_numbers
    return {
        "n": len(days),
        "mean_doy": round(mean(days), 2) if days else None,
        "sd": round(stdev(days), 2) if len(days) > 1 else None,
        **{name: _rounded(seasons.percentile(share)) for name, share in TENTHS.items()},
        **{f"{name}_date": _month_day(seasons.percentile(share)) for name, share in TENTHS.items()},
        "dates": {str(year): f"{day:%m-%d}" for year, day in seasons.dates.items()},
        "without": list(seasons.without),
        "unknown": list(seasons.unknown),
        "normal": _normal(Odds.from_seasons(seasons)),
    }


def _normal(odds: Odds | None) -> dict[str, Any] | None:
    """The fitted curve's dates, and by how many days each may be off; None when too few seasons are known."""
    if odds is None:
        return None

    def each(tell: Callable[[float], float | None]) -> dict[str, float | None]:
        return {name: _rounded(tell(share)) for name, share in TENTHS.items()}

    return {"share": round(odds.share, 4), **each(odds.quantile_number), "standard_error": each(odds.standard_error)}


def _chances(report: FrostReport, threshold: int) -> list[dict[str, Any]]:
    """The fitted chance by some days, and how many autumns it was with the range for their share."""
    odds = report.odds(threshold)
    days = days_told({threshold: odds}, season_year(report)) if odds else []
    return [_chance(report, threshold, odds, by) for by in days if odds]


def _chance(report: FrostReport, threshold: int, odds: Odds, by: date) -> dict[str, Any]:
    counted = report.counted(threshold, by)
    return {
        "by": f"{by:%m-%d}",
        "chance": round(odds.by(by), 4),
        "came": counted.came,
        "autumns": counted.seasons,
        "low": round(counted.range.low, 4),
        "high": round(counted.range.high, 4),
    }


def _forecast(report: FrostReport) -> dict[str, Any] | None:
    if report.forecast is None:
        return None
    return {
        "source": report.forecast.source,
        "issued": report.forecast.issued.isoformat(),
        "nights": [
            {
                "morning": night.morning.isoformat(),
                "low": night.low,
                "chances": {str(at): round(chance, 4) for at, chance in report.night_chances(night.morning).items()},
            }
            for night in report.forecast.nights
        ],
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 2)


def _month_day(number: float | None) -> str | None:
    """The calendar date of a day number in a year without a leap day; a fraction belongs to the day before."""
    return None if number is None else f"{date(2001, 1, 1) + timedelta(days=int(number // 1) - 1):%m-%d}"
