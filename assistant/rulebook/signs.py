"""Building signs and tables from their declarations."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from assistant.model.quantities import MOST_DAYS, Kind, NotAValue, plain_number
from assistant.model.readings import Span, exactly
from assistant.model.signs import CHANCE, Effort, FromWeather, Row, Sign, Table
from assistant.rulebook.names import instead, quoted
from assistant.rulebook.values import USUAL_MARGIN, has_wrong_unit, margin_of, range_of
from assistant.rulebook.view import View
from assistant.rulebook.vocabulary import Vocabulary

_NO_COLUMNS = ("named", "sources", "note", "because")
YES_NO = {"yes": "yes", "no": "no"}


def build_tables(words: Vocabulary) -> None:
    """Every table, as far as its rows can be made out."""
    for name, view in words.declared["tables"].items():
        rows = {row: _row(row, entry, words) for row, entry in view.entries()}
        _same_columns(view)
        if rows:
            words.tables[name] = Table(name, rows)


def _row(name: str, view: View, words: Vocabulary) -> Row:
    columns = {
        key: span
        for key, cell in view.entries()
        if key not in _NO_COLUMNS and cell.whole and (span := range_in(Kind.NUMBER, cell)) is not None
    }
    named, note, because = (view.text(key) for key in ("named", "note", "because"))
    return Row(name, named, columns, words.cited(view), note, because, view.place)


def _same_columns(view: View) -> None:
    """Every row must have the columns of the first."""
    written = {name: [key for key, _ in entry.entries() if key not in _NO_COLUMNS] for name, entry in view.entries()}
    first = next(iter(written), "")
    for name, entry in view.entries():
        for column in written[first]:
            if column not in written[name]:
                message = f"The row {quoted(name)} lacks the column {quoted(column)} of the row {quoted(first)}."
                entry.note("missing-column", message, f"Add {column}: LOW..HIGH.", at_key=True)
        for column in written[name]:
            if column not in written[first]:
                message = f"The row {quoted(name)} has a column {quoted(column)} that the row {quoted(first)} has not."
                cell = entry.within(column)
                assert cell is not None
                cell.note(
                    "unknown-column", message, instead(column, written[first]) or f"Delete {column}.", at_key=True
                )


def range_in(kind: Kind, view: View, key: str = "") -> Span | None:
    """The range that a value, or its key, says; None where that means nothing."""
    try:
        return range_of(kind, key or view.written)
    except NotAValue as error:
        low, _, high = (key or view.written).partition("..")
        wrong_unit = has_wrong_unit(kind, high or low)
        view.refuse("wrong-unit" if wrong_unit else "bad-value", error, at_key=bool(key))
        return None


def build_signs(words: Vocabulary) -> None:
    """Every sign whose kind and domain can be made out."""
    for name, view in words.declared["signs"].items():
        sign = _sign(name, view, words)
        if sign is not None:
            words.signs[name] = sign


def _sign(name: str, view: View, words: Vocabulary) -> Sign | None:
    sources = words.cited(view)
    kind_text = view.text("kind")
    if not kind_text:
        return None
    kind = Kind.CHOICE if kind_text == "yes-no" else Kind(kind_text)
    span = _sign_range(kind, view)
    choices = YES_NO if kind_text == "yes-no" else _choices(name, kind, view, words)
    if kind_text == "yes-no" and (own := view.within("choices")) is not None:
        choices = _yes_no(own)
    if span is None or choices is None:
        return None
    about, share = _margin(kind, view)
    return Sign(
        name=name,
        kind=kind,
        ask=view.text("ask"),
        look=view.text("look"),
        effort=Effort(view.text("effort") or Effort.GLANCE),
        low=span.low,
        high=span.high,
        choices=choices,
        unit=view.text("unit"),
        about=about,
        about_share=share,
        usual=_usual(name, choices, view),
        usual_spans=_usual_spans(Kind.NUMBER if kind is Kind.DATE else kind, span, view),
        sources=sources,
        called=view.text("called"),
        because=view.text("because"),
        told=_told(view),
        place=view.place,
    )


def _told(view: View) -> FromWeather | None:
    """What tells a sign that nobody is asked of."""
    told = view.within("told")
    named, nights = (told.get("weather"), told.get("nights")) if told else (None, None)
    if told is None or named is None or nights is None:
        return None
    bound = told.get("at_or_below")
    if named.written == CHANCE and bound is None:
        told.note("missing-key", "A chance is of a low at or below a temperature.", "Add at_or_below: 32 F.")
        return None
    low = range_in(Kind.TEMPERATURE, bound) if bound is not None else exactly(0)
    return None if low is None else FromWeather(named.written, low.low, int(nights.written))


def _sign_range(kind: Kind, view: View) -> Span | None:
    """The domain of a sign; a choice has none, and stands at 0..0."""
    if kind is Kind.CHOICE:
        return Span(0, 0)
    written = view.get("days_ago" if kind is Kind.DATE else "range")
    if written is None:
        return None
    span = range_in(Kind.NUMBER if kind is Kind.DATE else kind, written)
    if kind is Kind.DATE and span and max(abs(span.low), abs(span.high)) > MOST_DAYS:
        written.note("bad-value", "No date is more than a century away.", "Write days_ago: 0..300.")
        return None
    return span


def _choices(name: str, kind: Kind, view: View, words: Vocabulary) -> Mapping[str, str] | None:
    """The choices of a sign with their meaning; empty for other kinds, None where they cannot be made out."""
    if kind is not Kind.CHOICE:
        return {}
    own, table = view.within("choices"), view.get("choices_from")
    if own is None and table is None:
        if not view.has("choices_from"):
            message = f"The sign {quoted(name)} is a choice but has no choices."
            view.note("missing-key", message, "Add choices: {name: meaning, …}, or choices_from: a table.", at_key=True)
        return None
    if own is not None and table is not None:
        message = f"The sign {quoted(name)} has both its own choices and those of a table."
        table.note("mixed-kinds", message, "Delete choices, or choices_from.", at_key=True)
        return None
    if own is not None:
        return {choice: meaning.written for choice, meaning in own.entries()} if own.whole else None
    assert table is not None
    if not words.knows("tables", table.written, table) or table.written not in words.tables:
        return None
    return {row.name: row.named for row in words.tables[table.written].rows.values()}


def _yes_no(own: View) -> Mapping[str, str] | None:
    """The author's own meanings of yes and no."""
    meanings = {choice: meaning.written for choice, meaning in own.entries()}
    if sorted(meanings) != sorted(YES_NO):
        own.note(
            "bad-value", "A yes-no sign has just the choices yes and no.", "Write {yes: …, no: …}, or kind: choice."
        )
        return None
    return meanings if own.whole else None


def _margin(kind: Kind, view: View) -> tuple[float, float]:
    written = view.get("about")
    if written is None:
        return USUAL_MARGIN[kind]
    try:
        return margin_of(kind, written.written)
    except NotAValue as error:
        written.refuse("wrong-unit" if has_wrong_unit(kind, written.written) else "bad-value", error)
        return USUAL_MARGIN[kind]


def _usual(name: str, choices: Mapping[str, str], view: View) -> dict[str, float]:
    usual = view.get("usual") if choices else None
    weights: dict[str, float] = {}
    for choice, weight in usual.entries() if usual else ():
        if choice not in choices:
            message = f"The sign {quoted(name)} has no choice {quoted(choice)}."
            weight.note("unknown-choice", message, instead(choice, choices), at_key=True)
        else:
            weights[choice] = plain_number(weight.written)
    if usual and weights.keys() == choices.keys():
        _check_some_weight(usual, weights.values())
    return weights


def _check_some_weight(usual: View, weights: Iterable[float]) -> None:
    if not any(weights):
        usual.note("bad-value", "Every weight is 0, so nothing is ever met.", "Give one a weight above 0.", at_key=True)


def _usual_spans(kind: Kind, domain: Span, view: View) -> tuple[tuple[Span, float], ...]:
    """The weights of ranges, which together hold all that the sign can be, in order."""
    usual = view.get("usual") if kind is not Kind.CHOICE else None
    if usual is None:
        return ()
    ranges = [(text, weight, range_in(kind, weight, text)) for text, weight in usual.entries()]
    found = [(span, text, weight) for text, weight, span in ranges if span is not None]
    found.sort(key=lambda item: (item[0].low, item[0].high))
    if len(found) == len(ranges):
        _check_cover(kind, domain, found, usual)
    weights = [plain_number(weight.written) for _, _, weight in found]
    _check_some_weight(usual, weights)
    return tuple((span, weight) for (span, _, _), weight in zip(found, weights, strict=True))


def _check_cover(kind: Kind, domain: Span, ranges: Sequence[tuple[Span, str, View]], usual: View) -> None:
    """Note where ranges leave something out, say it twice, or speak of what the sign cannot be."""
    step = 1 if kind is Kind.NUMBER else 0  # no whole number lies between 0..1 and 2..30
    reached, before, hint = domain.low, "", "Let each range start where the one before it ends."
    for span, text, weight in ranges:
        if not span.within(domain):
            weight.note("bad-value", f"{quoted(text)} reaches beyond all that the sign can be.", hint, at_key=True)
        elif before and span.low < reached:
            weight.note("bad-value", f"{quoted(text)} overlaps {quoted(before)}.", hint, at_key=True)
        elif span.low > reached + (step if before else 0):
            weight.note("bad-value", f"Nothing says how usual it is just below {quoted(text)}.", hint, at_key=True)
        reached, before = max(reached, span.high), text
    if reached < domain.high:
        usual.note("bad-value", f"Nothing says how usual it is above {quoted(before)}.", hint, at_key=True)
