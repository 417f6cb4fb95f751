"""What a grower's words come to."""

from datetime import date

import pytest

from assistant.interview.answers import parse_answer
from assistant.model.quantities import Kind, NotAValue, Units
from assistant.model.readings import Choices, Known, Origin, Span
from assistant.model.signs import Effort, Sign

VISIT = date(2031, 10, 4)


def sign(kind: Kind, **more: object) -> Sign:
    return Sign("it", kind, "What?", "Look.", Effort.GLANCE, **more)  # type: ignore[arg-type]


TEMPERATURE = sign(Kind.TEMPERATURE, low=-20.0, high=100.0, about=3.0)
DAYS = sign(Kind.NUMBER, low=0.0, high=400.0, about_share=0.05)
LENGTH = sign(Kind.LENGTH, low=0.0, high=12.0, about=0.25)
PLANTED = sign(Kind.DATE, low=0.0, high=300.0, about=7.0)
VINES = sign(Kind.CHOICE, choices={"green": "", "yellowing": "", "frost-blackened": ""})


def day(text: str) -> float:
    return float(date.fromisoformat(text).toordinal())


def read(asked: Sign, text: str, units: Units = Units.US) -> Known:
    return parse_answer(asked, text, VISIT, units)


@pytest.mark.parametrize(
    ("asked", "text", "low", "high"),
    [
        (TEMPERATURE, "54", 54, 54),
        (TEMPERATURE, "12 C", 53.6, 53.6),
        (TEMPERATURE, "12°C", 53.6, 53.6),
        (TEMPERATURE, "about 54 F", 51, 57),
        (TEMPERATURE, "29..36", 29, 36),
        (TEMPERATURE, "-2..2 C", 28.4, 35.6),
        (DAYS, "about 100", 95, 105),
        (DAYS, "112", 112, 112),
        (DAYS, "about 399", 379.05, 400),
        (LENGTH, "1 3/4 in", 1.75, 1.75),
        (LENGTH, "2.54 cm", 1, 1),
        (PLANTED, "2031-06-20", day("2031-06-20"), day("2031-06-20")),
        (PLANTED, "about 2031-06-20", day("2031-06-13"), day("2031-06-27")),
        (PLANTED, "2031-06-01..2031-06-20", day("2031-06-01"), day("2031-06-20")),
        (PLANTED, "June", day("2031-06-01"), day("2031-06-30")),
        (PLANTED, "mid June", day("2031-06-11"), day("2031-06-20")),
        (PLANTED, "late june..5 july", day("2031-06-21"), day("2031-07-05")),
        (PLANTED, "20 december", day("2030-12-20"), day("2030-12-20")),
        (PLANTED, "3 weeks ago", day("2031-09-13"), day("2031-09-13")),
        (PLANTED, "October", day("2031-10-01"), day("2031-10-04")),
    ],
)
def test_numbers_and_dates_become_ranges(asked: Sign, text: str, low: float, high: float) -> None:
    known = read(asked, text)
    assert known.origin is Origin.ANSWERED
    assert isinstance(known.reading, Span)
    assert known.reading.low == pytest.approx(low)
    assert known.reading.high == pytest.approx(high)


def test_bare_numbers_are_in_the_gardens_units() -> None:
    assert read(TEMPERATURE, "12", Units.METRIC).reading == Span(53.6, 53.6)
    assert read(LENGTH, "5.08", Units.METRIC).reading == Span(2, 2)


@pytest.mark.parametrize("text", ["can't tell", "Can’t tell", "?", "  can't   TELL "])
def test_cant_tell_is_the_whole_domain_and_is_remembered_as_said(text: str) -> None:
    assert read(VINES, text) == Known(VINES.domain(VISIT), Origin.CANT_TELL, "can't tell")
    assert read(PLANTED, text).reading == Span(VISIT.toordinal() - 300, VISIT.toordinal())


@pytest.mark.parametrize("text", ["green, yellowing", "yellowing or green", "[green, yellowing]", "Green,YELLOWING"])
def test_several_choices_stay_possible(text: str) -> None:
    assert read(VINES, text).reading == Choices(frozenset(("green", "yellowing")))


@pytest.mark.parametrize(
    ("asked", "text", "says"),
    [
        (TEMPERATURE, "54 K", "'54 K' has the unit 'K'; write a temperature such as 54 F or 12 C"),
        (TEMPERATURE, "cold", "'cold' is not a value here; write a temperature such as 54 F or 12 C"),
        (TEMPERATURE, "300", "it lies between -20 °F and 100 °F; check the number and its unit"),
        (TEMPERATURE, "40..30", "'40..30' runs from high to low; write the smaller value first"),
        (PLANTED, "2031-02-30", "there is no day 2031-02-30 in the calendar; check month and day"),
        (PLANTED, "02-30", "there is no day 02-30 in the calendar; check month and day"),
        (PLANTED, "2031-10-05", "5 October 2031 is after the day of the visit, 4 October 2031; check the year"),
        (PLANTED, "2029-06-20", "20 June 2029 is too long ago; write a date from 8 December 2030 on"),
        (PLANTED, "the other day", "'the other day' is not a date; write it as year-month-day, such as 2031-06-20"),
        (VINES, "yelowing", "'yelowing' is not a choice for it; write one of green, yellowing, frost-blackened; "
                            "did you mean 'yellowing'?"),
        (VINES, "purple", "'purple' is not a choice for it; write one of green, yellowing, frost-blackened"),
        (DAYS, "", "write a number such as 12, or can't tell"),
        (LENGTH, "1/0", "'1/0' divides by zero; write a length such as 2.5 in or 6 cm"),
    ],
)  # fmt: skip
def test_what_is_no_answer_is_refused_with_what_to_write_instead(asked: Sign, text: str, says: str) -> None:
    with pytest.raises(NotAValue) as refused:
        read(asked, text)
    assert str(refused.value) == says


def test_reckoned_days_agree_with_the_calendar_of_the_standard_library() -> None:
    for text in ("2031-02-28", "2031-03-01", "2030-12-31"):
        reading = read(PLANTED, text).reading
        assert isinstance(reading, Span)
        assert VISIT.toordinal() - reading.low == (VISIT - date.fromisoformat(text)).days
