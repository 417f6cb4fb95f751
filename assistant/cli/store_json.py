"""The store as JSON, key by key as other programs read it."""

from __future__ import annotations

from datetime import date
from typing import Any

from assistant.explain.store_words import in_units, unit_of
from assistant.explain.verdict_json import verdict_json
from assistant.measures.store import Store, Wanted
from assistant.model.quantities import Units
from assistant.reckoning.lot_ledger import Account
from assistant.reckoning.ranges import Range
from assistant.reckoning.using_up import Turn


def store_json(store: Store, wanted: Wanted) -> dict[str, Any]:
    """Everything of the store as plain data."""
    units, week, life = store.case.units, store.week, store.life
    dates = life.dates(store.stored) if life and store.stored else None
    return {
        "case": store.case.title,
        "on": store.case.on.isoformat(),
        "unit": unit_of(units),
        "verdict": verdict_json(store.verdict),
        "signs": {name: known.written for name, known in store.case.answers.items()},
        "next_look": store.next_look.isoformat(),
        "place": {name: _number(value) for name, value in week._asdict().items()} if week else None,
        "log": _log(store),
        "cold": _cold(store),
        "sprouting": _sprouting(store),
        "life": {"from": _iso(dates[0]), "to": _iso(dates[1]), "limits": list(life.limits)} if life and dates else None,
        "lots": [_lot(store, account) for account in store.accounts],
        "loss_per_day": _range(store.loss_now),
        "plan": _plan(store, wanted),
    }


def _log(store: Store) -> dict[str, Any] | None:
    if store.log is None:
        return None
    return {
        "from": store.log.start.isoformat(),
        "to": store.log.end.isoformat(),
        "hours": round(sum(spell.hours for spell in store.spells), 2),
        "gaps": [{"from": gap.start.isoformat(), "to": gap.end.isoformat()} for gap in store.log.gaps],
        "set_aside": dict(store.log.set_aside),
    }


def _cold(store: Store) -> dict[str, Any] | None:
    if store.cold is None:
        return None
    return {
        "hours": {f"{limit:g}": round(hours, 2) for limit, hours in store.cold.hours.items()},
        "freezing_hours": round(store.cold.freezing_hours, 2),
        "dose": _range(store.cold.dose),
        "harmed_on": store.cold.harmed_at.isoformat() if store.cold.harmed_at else None,
    }


def _sprouting(store: Store) -> dict[str, Any] | None:
    if store.warmth is None:
        return None
    ahead = store.sprouting
    return {
        "degree_days": round(store.warmth, 1),
        "soonest": round(ahead.low, 1) if ahead else None,
        "latest": round(ahead.high, 1) if ahead else None,
    }


def _lot(store: Store, account: Account) -> dict[str, Any]:
    units, loss = store.case.units, store.losses[account.lot]
    return {
        "lot": account.lot,
        "dug": _weight(account.dug, units),
        "out": {what: _weight(pounds, units) for what, pounds in account.out.items()},
        "shrunk": _weight(account.shrunk, units),
        "left": _weight(account.left, units),
        "parts": {part: _weight(pounds, units) for part, pounds in account.parts.items()},
        "weighed": account.weighed.isoformat(),
        "now": _range(loss.left.times(in_units(account.left, units))),
        "untold_from": loss.untold_from.isoformat() if loss.untold_from else None,
    }


def _plan(store: Store, wanted: Wanted) -> dict[str, Any] | None:
    using, units = store.using, store.case.units
    if using is None:
        return None
    rates = [None if rate is None else _weight(rate, units) for rate in using.rates]
    plan = using.plan
    return {
        "per_week": _weight(using.per_week, units),
        "turns": [_turn(turn, units) for turn in plan.turns],
        "gone": {"soonest": _iso(using.gone[0]), "likely": _iso(plan.gone), "latest": _iso(using.gone[1])},
        "too_much": {"by_first": _weight(plan.too_much[0], units), "by_last": _weight(plan.too_much[1], units)},
        "too_little": _weight(using.short, units) if wanted.until else None,
        "per_week_to_finish": {"by_first": rates[0], "by_last": rates[1]},
    }


def _turn(turn: Turn, units: Units) -> dict[str, Any]:
    portion = turn.portion
    return {
        "lot": portion.lot,
        "part": portion.part,
        "weight": _weight(portion.pounds, units),
        "begins": turn.begins.isoformat(),
        "gone": _iso(turn.gone),
        "keeps_from": portion.keeps[0].isoformat(),
        "keeps_to": portion.keeps[1].isoformat(),
        "left_then": [_weight(pounds, units) for pounds in turn.left_at],
    }


def _weight(pounds: float, units: Units) -> float:
    return round(in_units(pounds, units), 3)


def _number(value: float | None) -> float | None:
    return None if value is None else round(value, 2)


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None


def _range(range_: Range | None) -> dict[str, float] | None:
    return {name: round(end, 6) for name, end in range_._asdict().items()} if range_ else None
