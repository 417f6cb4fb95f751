"""Where a bed is in its year, and what it needs next."""

from __future__ import annotations

from datetime import date, timedelta
from enum import Enum
from typing import NamedTuple

from assistant.model.notebook import AirRow, BedRow, GardenRow, LotRow, PlantingRow, StayRow, VerdictRow, VisitRow
from assistant.reckoning.keeping import LOOK_EVERY
from assistant.reckoning.lot_ledger import Account
from assistant.reckoning.rotation import Held
from assistant.reckoning.weight_loss import CHILLING_LIMIT

FIRST_LOOK_WORDS = "First look at the bed"
FIRST_LOOK = timedelta(days=80)
"""After planting; the earliest variety of the shipped table takes 80 days (Georgia Jet, from memory)."""
QUICKEST_CURE = timedelta(days=4)
"""At 80 to 85 °F (North Carolina)."""
LEAD = timedelta(days=3)
"""To dig a bed takes more of a day than a look at another, so it presses so much earlier. Our choice."""
SALVAGE = "sort-and-salvage"


class Stage(str, Enum):
    """Where a bed is, the most pressing first."""

    DIG = "dig"
    CURING = "curing"
    WATCH = "watch"
    KEEPING = "keeping"
    GROWING = "growing"
    RESTING = "resting"


class Need(NamedTuple):
    """What is to be done next, and the day by which; None where no day presses."""

    stage: Stage
    words: str
    by: date | None = None

    def pressing(self, on: date) -> tuple[date, int, date]:
        """The smaller, the more pressing; what was due before today presses as what is due today."""
        by = self.by or date.max
        begin = by - LEAD if self.stage is Stage.DIG and by != date.max else by
        return max(begin, on), list(Stage).index(self.stage), by


class InStore(NamedTuple):
    """A lot where it lies now, the last look through it, the last reading of the air there, and its account: None when
    it was never weighed or when it does not add up, which is then said in `wrong`."""

    lot: LotRow
    stay: StayRow
    looked: date
    air: AirRow | None
    account: Account | None = None
    wrong: str = ""


class BedNow(NamedTuple):
    """A bed as it stands today, its needs with the most pressing first."""

    bed: BedRow
    needs: tuple[Need, ...]
    planting: PlantingRow | None = None
    visit: VisitRow | None = None
    verdict: VerdictRow | None = None
    lots: tuple[InStore, ...] = ()
    garden: GardenRow | None = None
    left: str = ""
    """What is still in the ground, in words, after a part was dug."""

    @property
    def next(self) -> Need:
        """What presses most."""
        return self.needs[0]

    @property
    def stage(self) -> Stage:
        """The stage that its most pressing need belongs to."""
        return self.next.stage


def need_of_planting(
    planting: PlantingRow, visit: VisitRow | None, verdict: VerdictRow | None, frost: date | None, on: date
) -> Need:
    """What roots in the ground need: a first look, the end of a visit, or what the last verdict says.

    `frost` is the day by which a frost has come in 1 year of 10.
    """
    if visit is None:
        first = planting.planted_from + FIRST_LOOK
        if frost is not None and frost > planting.planted_from:
            first = min(first, frost - timedelta(days=14))
        return Need(Stage.WATCH if first <= on else Stage.GROWING, FIRST_LOOK_WORDS, first)
    if verdict is None:
        return Need(Stage.WATCH, "Finish the visit" if visit.day == on else "Look: the last visit broke off", visit.day)
    only_look = verdict.act_by is None and verdict.look_again is not None
    words = "Look again" if only_look else verdict.headline.split("; ")[0]
    digs = verdict.advice is not None and (verdict.advice.startswith("dig-") or verdict.advice == SALVAGE)
    return Need(Stage.DIG if digs else Stage.WATCH, words, verdict.act_by or verdict.look_again or verdict.day)


def need_of_what_is_left(need: Need, left: str, on: date) -> Need:
    """What the rest of a bed needs of which a part was dug: it stays to be dug, and is advised on as before."""
    if need.words == FIRST_LOOK_WORDS:
        need = need._replace(words="Dig the rest", by=on)
    return need._replace(stage=Stage.DIG, words=f"{need.words}; {left}")


def need_of_lot(store: InStore, on: date, only: bool = True) -> Need:
    """What a lot needs: readings and an end of its cure, warmth, or a look through it; named where it is not the
    only one of its bed."""
    lot, stay, looked, air, _, wrong = store
    if wrong:
        return Need(Stage.CURING if stay.purpose == "cure" else Stage.KEEPING, f"Mend the ledger: {wrong}", on)
    read = air.at.date() if air and air.at.date() >= stay.since else None
    if stay.purpose == "cure":
        over = on - stay.since >= QUICKEST_CURE
        of = "" if only else f" of {lot.name}"
        words = f"Day {max((on - stay.since).days, 0) + 1} of the cure{of}: {'is it over?' if over else 'read the air'}"
        return Need(Stage.CURING, words, read + timedelta(days=1) if read else stay.since)
    if read and air and air.temperature is not None and air.temperature < CHILLING_LIMIT:
        return Need(Stage.KEEPING, f"Warm the store of {lot.name}", read)
    return Need(Stage.KEEPING, f"Look through {lot.name}", max(looked, stay.since) + LOOK_EVERY)


def need_of_rest(held: Held | None, on: date) -> Need:
    """When an empty bed may have sweet potatoes again."""
    if held is None or held.until <= on.year:
        return Need(Stage.RESTING, "Free for sweet potatoes")
    return Need(Stage.RESTING, f"Rests until {held.until}")
