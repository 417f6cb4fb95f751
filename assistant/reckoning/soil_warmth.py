"""Soil temperature at 4 in (10 cm), estimated from the air, with its error as a range. °F throughout."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from assistant.model.readings import Span

FOLLOWS = 0.25
"""Share of the gap to the air that the soil closes each day (Zheng, Hunt and Running 1993, as coded after it)."""
STANDARD_ERROR = 3.6
"""°F (2 °C), for an estimate that was not fitted to the place: Zheng et al. 1993 found 1.5 to 2.9 °C."""
WITHIN = 1.2816
"""Standard errors to either side that hold 8 of 10 estimates."""


def soil_course(air: Iterable[float], start: float | None = None) -> Iterator[float]:
    """The soil's temperature on each day, from the daily means of the air.

    The soil follows the air with a lag: each day it closes a quarter of the gap. It begins at
    `start`, else at the first day's mean. Bare soil; a canopy warms more slowly. Source: Zheng, Hunt
    and Running 1993, Climate Research 2:183-191.
    """
    soil = start
    for mean in air:
        soil = mean if soil is None else soil + FOLLOWS * (mean - soil)
        yield soil


def soil_range(estimate: float) -> Span:
    """What the soil may really be, in 8 of 10 cases, where the estimate (°F) was not fitted to the place."""
    return Span(estimate - WITHIN * STANDARD_ERROR, estimate + WITHIN * STANDARD_ERROR)
