"""A test dig written down hill by hill, on the screen or line by line: the diameters are kept, as a case keeps them."""

from __future__ import annotations

from assistant.cases.hills import parse_wanted, typed_hill
from assistant.model.case import TestDig
from assistant.model.place import NOWHERE, BadInput
from assistant.model.quantities import NotAValue, Units
from assistant.model.readings import Span
from assistant.reckoning.dig_report import DigReport
from assistant.reckoning.hills import Hill
from assistant.reckoning.yields import Root

US_NO_1 = Span(1.75, 3.5)
"""What is wanted until the grower says otherwise: U.S. No. 1 (LSU AgCenter, Smith 2009)."""


def wanted_of(dig: TestDig | None) -> Span:
    """The diameters wanted of a dig, also before it has a hill."""
    return dig.wanted if dig else US_NO_1


def hills_of(dig: TestDig | None) -> tuple[tuple[float, ...], ...]:
    """The hills dug so far."""
    return dig.hills if dig else ()


def with_typed(dig: TestDig | None, text: str, units: Units) -> TestDig | None:
    """The dig with one hill more, or with other sizes wanted where a range such as 1.5..3 was typed.

    Raises `NotAValue` or `BadInput`.
    """
    if ".." in text:
        return _kept(parse_wanted(text.removeprefix("wanted"), units), hills_of(dig))
    hill = typed_hill(text, "", NOWHERE, units)
    if hill.classes:
        raise NotAValue("a case keeps diameters, so sorted roots cannot stand here; measure them")
    diameters = tuple(round(diameter, 2) for diameter in hill.diameters)
    return _kept(wanted_of(dig), (*hills_of(dig), diameters))


def without_last(dig: TestDig | None) -> TestDig | None:
    """The dig without its last hill."""
    return _kept(wanted_of(dig), hills_of(dig)[:-1])


def trouble_with(error: NotAValue | BadInput) -> str:
    """Why what was typed is no hill, in a sentence."""
    return error.problems[0].message if isinstance(error, BadInput) else f"{error}."


def report_of(dig: TestDig | None) -> DigReport:
    """What the hills say of the bed."""
    hills = (Hill(str(at), tuple(map(Root, hill))) for at, hill in enumerate(hills_of(dig), start=1))
    return DigReport(tuple(hills), wanted_of(dig))


def _kept(wanted: Span, hills: tuple[tuple[float, ...], ...]) -> TestDig | None:
    return TestDig(wanted, hills) if hills or wanted != US_NO_1 else None
