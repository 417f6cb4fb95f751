"""Published decision tables, some with gaps and overlaps that their authors point out, written as rulebooks.

Each folder of decision_tables/ holds the table as printed, with its source, and the same as a rulebook. The printed
rows are read by published.py, which shares nothing with the reading of rulebooks.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest
from outside.published import Case, Published, as_readings, every_case, read_published

from assistant.inference import evaluate, run
from assistant.interview.remainder import Ending, Remainder, remainder
from assistant.measures import domains
from assistant.model.case import Case as Garden
from assistant.model.readings import Choices, Known, Origin, Reading, Span
from assistant.model.rules import Rulebook, Several
from assistant.proofs import Flaw, prove
from assistant.rulebook import read_rulebook

TABLES = Path(__file__).parent / "decision_tables"
NAMES = sorted(path.name for path in TABLES.iterdir() if path.is_dir())
ON = date(2031, 10, 4)  # any day; none of the tables counts days
NO_ADVICE, CLASH = Ending(None), Ending(None, conflict=True)
Where = Callable[[Case], bool]


class Example(NamedTuple):
    """One published example in both forms, and every exact case that its rows can tell apart."""

    published: Published
    rulebook: Rulebook
    cases: tuple[Case, ...]


@cache
def example(name: str) -> Example:
    rulebook = read_rulebook(str(TABLES / name))
    published = read_published(TABLES / name / "as-published.txt")
    return Example(published, rulebook, tuple(every_case(published, rulebook)))


def left(rulebook: Rulebook) -> Remainder:
    """The remainder with nothing asked."""
    whole = domains(rulebook, ON)
    return remainder(rulebook, {name: Known(reading, Origin.NOT_ASKED) for name, reading in whole.items()}, whole)


def cases_that_end(rulebook: Rulebook, cases: tuple[Case, ...], how: Ending) -> list[Case]:
    rest = left(rulebook)
    return [case for case in cases if rest.decide(as_readings(case)) == how]


def expected(outcomes: frozenset[str]) -> Ending:
    """What a printed table comes to: a gap is no advice, and rows that disagree are a clash."""
    return Ending(next(iter(outcomes))) if len(outcomes) == 1 else Ending(None, conflict=bool(outcomes))


@pytest.mark.parametrize("name", NAMES)
def test_every_exact_case_comes_to_what_the_printed_rows_say(name: str) -> None:
    published, rulebook, cases = example(name)
    whole, rest = domains(rulebook, ON), left(rulebook)
    for number, case in enumerate(cases):
        readings = as_readings(case)
        wanted = expected(published.outcomes(case))
        found = evaluate(rulebook, readings, whole)
        assert Ending(found.advice, bool(found.conflicts)) == wanted, case
        assert rest.decide(readings) == wanted, case
        if number % 5 == 0:
            fired = run(rulebook, {name: Known(r, Origin.ANSWERED) for name, r in readings.items()}, whole)
            assert Ending(fired.advice, bool(fired.conflicts)) == wanted, case


def nowhere(case: Case) -> bool:
    return False


def number(case: Case, sign: str) -> float:
    value = case[sign]
    assert not isinstance(value, str)
    return value


# Where the sources (named in each as-published.txt) say that a table has a gap, and where rows of it disagree.
KNOWN_FLAWS: dict[str, tuple[Where, Where]] = {
    # Any income of 500 to 1000 with a loan of 500 to 1000 is in the rows for very good and for fair.
    "loan-grade": (
        lambda case: (
            not any(
                low <= number(case, "annual_income") <= high and least <= number(case, "loan_size") <= most
                for low, high, least, most in (
                    (0, 1000, 0, 1000),
                    (250, 750, 4000, 5000),
                    (500, 1500, 500, 3000),
                    (2000, 2500, 0, 2000),
                )
            )
        ),
        lambda case: 500 <= number(case, "annual_income") <= 1000 and 500 <= number(case, "loan_size") <= 1000,
    ),
    # "A value of x = 50 will make C1 = N, C2 = N"; x over 60 and under 40 is ambiguous in looks only.
    "one-number-two-tests": (lambda case: 40 <= number(case, "x") <= 60, nowhere),
    # "x = 70 will satisfy both": really ambiguous.
    "one-number-two-tests-met-together": (lambda case: number(case, "x") <= 40, lambda case: number(case, "x") > 60),
    # Of those that would be eligible: a score of exactly 130 has no risk, and so no call and no strategy.
    "bureau-strategy": (
        lambda case: (
            case["existing_customer"] == "no"
            and case["application_risk_score"] == 130
            and case["affordable"] == "yes"
            and number(case, "age") >= 18
        ),
        nowhere,
    ),
    "applicant-risk": (nowhere, nowhere),
    "loan-compliance": (nowhere, nowhere),
    "post-bureau-risk": (nowhere, nowhere),
    "special-discount": (nowhere, nowhere),
}


@pytest.mark.parametrize("name", NAMES)
def test_the_remainder_finds_the_known_gaps_and_overlaps_and_no_others(name: str) -> None:
    _, rulebook, cases = example(name)
    gaps, overlaps = KNOWN_FLAWS[name]
    assert cases_that_end(rulebook, cases, NO_ADVICE) == list(filter(gaps, cases))
    assert cases_that_end(rulebook, cases, CLASH) == list(filter(overlaps, cases))


def test_rows_meant_for_the_first_to_count_overlap_where_they_must_agree() -> None:
    _, rulebook, cases = example("special-discount")
    strict = replace(rulebook, several=Several.MUST_AGREE)

    def overlap(case: Case) -> bool:
        away = case["type_of_order"] == "phone" or case["customer_location"] == "non-us"
        return case["type_of_customer"] == "retailer" and away

    assert cases_that_end(strict, cases, CLASH) == list(filter(overlap, cases))
    assert set(flaws(strict)) == {"advice-clash"}


def flaws(rulebook: Rulebook) -> dict[str, Flaw]:
    """The flaws proved of a table by code; that a vague answer may get no outcome is in the nature of printed rows."""
    return {flaw.code: flaw for flaw in prove(rulebook).flaws if flaw.code != "no-advice-unsure"}


def as_case(garden: Garden) -> Case:
    """The exact values of an example that a proof gives."""
    return {name: _exact(known.reading) for name, known in garden.answers.items()}


def _exact(reading: Reading) -> float | str:
    if isinstance(reading, Span):
        assert reading.low == reading.high
        return reading.low
    (choice,) = reading.possible
    return choice


@pytest.mark.parametrize("name", NAMES)
def test_the_proofs_find_the_known_gaps_and_overlaps_and_no_other_flaw(name: str) -> None:
    _, rulebook, cases = example(name)
    known = dict(zip(("no-advice", "advice-clash"), KNOWN_FLAWS[name], strict=True))
    found = flaws(rulebook)
    assert set(found) == {code for code, where in known.items() if any(map(where, cases))}
    assert all(known[code](as_case(garden)) for code, flaw in found.items() for garden in flaw.examples)


def test_the_proofs_name_the_rows_that_the_paper_names() -> None:
    flaw = flaws(example("loan-grade").rulebook)["advice-clash"]
    assert "row-a" in flaw.message
    assert "row-c" in flaw.message


UNIQUE = ("applicant-risk", "post-bureau-risk")


@pytest.mark.parametrize("name", UNIQUE)
def test_a_complete_table_that_loses_a_row_has_just_that_row_for_a_gap(name: str) -> None:
    published, rulebook, cases = example(name)
    (table,) = published.tables
    for lost in range(len(rulebook.rules)):
        torn = replace(rulebook, rules=rulebook.rules[:lost] + rulebook.rules[lost + 1 :])
        row = Published((replace(table, rows=table.rows[lost : lost + 1]),))
        assert cases_that_end(torn, cases, NO_ADVICE) == [case for case in cases if row.outcomes(case)]
        if lost % 4 == 0:
            found = flaws(torn)
            assert set(found) == {"no-advice"}
            assert all(row.outcomes(as_case(garden)) for garden in found["no-advice"].examples)


@pytest.mark.parametrize("name", UNIQUE)
def test_an_answer_no_vaguer_than_a_row_still_gets_the_outcome_of_the_row(name: str) -> None:
    published, rulebook, cases = example(name)
    (table,) = published.tables
    rest = left(rulebook)
    for lost, row in enumerate(table.rows):
        only = Published((replace(table, rows=(row,)),))
        met = [case for case in cases if only.outcomes(case)]
        vague = {sign: _spread([case[sign] for case in met]) for sign in rulebook.signs}
        assert rest.decide(vague) == Ending(row[-1]), rulebook.rules[lost].name


def _spread(values: list[float | str]) -> Reading:
    """The vaguest answer that allows no more than these values."""
    numbers = [value for value in values if not isinstance(value, str)]
    return Span(min(numbers), max(numbers)) if numbers else Choices(frozenset(map(str, values)))
