"""Building measures from their declarations."""

from __future__ import annotations

from assistant.model.case import GARDEN_DATES
from assistant.model.quantities import Kind
from assistant.model.readings import Span, hull
from assistant.model.signs import DaysSince, DaysUntil, GrownBy, Lookup, Measure
from assistant.rulebook.names import instead, listed, quoted
from assistant.rulebook.signs import range_in
from assistant.rulebook.view import View
from assistant.rulebook.vocabulary import Vocabulary


def build_measures(words: Vocabulary) -> None:
    """Every measure that can be made out."""
    for name, view in words.declared["measures"].items():
        measure = _measure(name, view, words)
        if measure is not None:
            words.measures[name] = measure


def _measure(name: str, view: View, words: Vocabulary) -> Measure | None:
    found: tuple[DaysSince | DaysUntil | Lookup | GrownBy, Span] | None
    found = _lookup(view, words) if view.has("lookup") else _counted(view, words)
    if found is None:
        return None
    how, span = found
    return Measure(name, view.text("says"), how, span.low, span.high, view.text("unit") or "days", view.place)


def _counted(view: View, words: Vocabulary) -> tuple[DaysSince | DaysUntil | GrownBy, Span] | None:
    how = _since(view, words) or _until(view) or _grown(view, words)
    written = view.get("range")
    span = range_in(Kind.NUMBER, written) if written else None
    return None if how is None or span is None else (how, span)


def _since(view: View, words: Vocabulary) -> DaysSince | None:
    named = view.get("days_since")
    if named is None or not words.knows("signs", named.written, named):
        return None
    sign = words.signs.get(named.written)
    if sign is not None and sign.kind is not Kind.DATE:
        dates = [each.name for each in words.signs.values() if each.kind is Kind.DATE]
        named.note("wrong-kind", f"Days are counted from a date, and {quoted(sign.name)} is none.", instead("", dates))
    return DaysSince(named.written)


def _until(view: View) -> DaysUntil | None:
    named = view.get("days_until")
    return DaysUntil(named.written) if named is not None and is_garden_date(named) else None


def _grown(view: View, words: Vocabulary) -> GrownBy | None:
    named = view.get("grown_by")
    if named is None or not words.knows("measures", named.written, named):
        return None
    counts = [name for name, each in words.measures.items() if isinstance(each.how, DaysSince)]
    if named.written not in counts:
        message = f"{quoted(named.written)} is not counted from a date, so roots do not grow by it."
        named.note("wrong-kind", message, instead("", counts) or "Write a measure that has days_since above it.")
        return None
    return GrownBy(named.written)


def is_garden_date(named: View) -> bool:
    """Whether the text is one of the garden's own dates; where not, the problem is noted."""
    if named.written in GARDEN_DATES:
        return True
    hint = f"Write one of: {listed(GARDEN_DATES)}."
    named.note("unknown-garden-date", f"The garden has no date {quoted(named.written)}.", hint)
    return False


def _lookup(view: View, words: Vocabulary) -> tuple[Lookup, Span] | None:
    sign_view, table_view, column_view = view.get("lookup"), view.get("table"), view.get("column")
    sign = sign_view and words.knows("signs", sign_view.written, sign_view) and words.signs.get(sign_view.written)
    table = (
        table_view and words.knows("tables", table_view.written, table_view) and words.tables.get(table_view.written)
    )
    if not sign or not table or not sign_view or not column_view:
        return None
    if not set(sign.choices) or not set(sign.choices) <= set(table.rows):
        message = f"The choices of {quoted(sign.name)} are not rows of the table {quoted(table.name)}."
        sign_view.note("wrong-kind", message, f"Give {sign.name} the line choices_from: {table.name}.")
        return None
    columns = list(next(iter(table.rows.values())).values)
    if any(column_view.written not in row.values for row in table.rows.values()):
        if column_view.written not in columns:
            message = f"The table {quoted(table.name)} has no column {quoted(column_view.written)}."
            hint = instead(column_view.written, columns) or f"Add it to every row: {listed(list(table.rows))}."
            column_view.note("unknown-column", message, hint)
        return None
    return Lookup(sign.name, table.name, column_view.written), hull(table.column(column_view.written).values())
