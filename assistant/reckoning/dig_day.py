"""What a bed to be dug asks for: pounds, crates and hours, from the size of the bed and the weight of a plant."""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

from assistant.model.case import TestDig
from assistant.model.readings import Span
from assistant.reckoning.ranges import Range
from assistant.reckoning.yields import GRAMS_PER_POUND, MISSED, Bed, Root, grams_per_plant, plants_per_foot

CRATE_POUNDS = 25.0
"""In a bushel crate filled by half: a full one holds 50 to 55 lb, which is as much as one person should lift, or more
(Oklahoma State and the Georgia Farm Bureau for the bushel, read; the limit of 51 lb from memory)."""
PLANTS_AN_HOUR = Span(12, 30)
"""Plants that one person lifts, picks up and lays out by class in an hour with a fork. Our own judgement: no published
figure was found for gardens."""
POUNDS_A_PLANT = Span(0.5, 2.5)
"""Where nobody dug a hill: 0.5 to 1.25 lb (Nebraska Extension 2020; read), 2.5 (North Carolina, Wilkes County 2020;
read). Handbooks differ fivefold."""


class DigDay(NamedTuple):
    """What the day comes to: plants, grams in the ground and carried in, crates filled by half, hours of one person."""

    plants: int
    grown: Range
    brought_in: Range
    crates: Span
    hours: Span


def dig_day(per_plant: Range, bed: Bed) -> DigDay | None:
    """The day for a bed whose plants hold so many grams; None where the length of its rows is not known.

    The low end of what is brought in leaves behind what a fork usually misses.
    """
    grown = bed.in_bed(per_plant)
    if grown is None or bed.row_feet is None:
        return None
    plants = max(1, round(plants_per_foot(bed.spacing) * bed.row_feet))
    brought_in = Range(grown.low * (1 - MISSED), grown.likely * (1 - MISSED / 2), grown.high)
    crate = CRATE_POUNDS * GRAMS_PER_POUND
    crates = Span(max(1, ceil(brought_in.low / crate)), max(1, ceil(brought_in.high / crate)))
    return DigDay(plants, grown, brought_in, crates, Span(plants / PLANTS_AN_HOUR.high, plants / PLANTS_AN_HOUR.low))


def dig_day_of(dig: TestDig | None, bed: Bed | None) -> DigDay | None:
    """The day by a test dig, or else by what is usual; None where the size of the bed is not known."""
    if bed is None:
        return None
    hills = dig.hills if dig else ()
    return dig_day(grams_per_plant([[Root(diameter) for diameter in hill] for hill in hills]) or usual_plant(), bed)


def usual_plant() -> Range:
    """The grams of a plant of which nothing is known."""
    low, high = POUNDS_A_PLANT.low * GRAMS_PER_POUND, POUNDS_A_PLANT.high * GRAMS_PER_POUND
    return Range(low, (low * high) ** 0.5, high)
