"""Every bed of a notebook as it stands today, read with as few questions to the file as will do."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import NamedTuple

from assistant.garden.standing.accounts import CRUMB, account_of, left_of
from assistant.garden.standing.stages import (
    BedNow,
    InStore,
    need_of_lot,
    need_of_planting,
    need_of_rest,
    need_of_what_is_left,
)
from assistant.garden.standing.words import ledger_words
from assistant.model.notebook import (
    AirRow,
    BedRow,
    DigRow,
    FrostRow,
    GardenRow,
    HistoryRow,
    LotEntryRow,
    LotRow,
    PlantingRow,
    StayRow,
    VerdictRow,
    VisitRow,
)
from assistant.notebook import Notebook
from assistant.reckoning.lot_ledger import WEIGHED, DoesNotAddUp
from assistant.reckoning.rotation import RESTS, SWEET_POTATOES, Season, held_until

LOOKS = ("dug", "stored", "looked", WEIGHED, "discarded")
"""The lines of a ledger that mean that somebody looked through the whole lot."""


def beds_now(notebook: Notebook, on: date, garden: int | None = None) -> tuple[BedNow, ...]:
    """All beds, or those of a garden, the most pressing first. Raises `BadInput` where the file cannot be read."""
    with notebook.at_one_time():
        reader = _Reader.of(notebook, on)
        rows = notebook.all(BedRow) if garden is None else notebook.all(BedRow, garden=garden)
        beds = [reader.bed_now(bed) for bed in rows]
    return tuple(sorted(beds, key=lambda each: (each.next.pressing(on), each.bed.name)))


def bed_now(notebook: Notebook, number: int, on: date) -> BedNow:
    """One bed. Raises `BadInput` when it is no longer there."""
    with notebook.at_one_time():
        bed = notebook.get(BedRow, number)
        return _Reader.of(notebook, on, bed=number).bed_now(bed)


def seasons_of(plantings: Iterable[PlantingRow], history: Iterable[HistoryRow]) -> tuple[Season, ...]:
    """What a bed grew, by its plantings and by what was written of the years before."""
    written = [Season(row.year, row.crop, row.disease if row.disease in RESTS else "none") for row in history]
    told = {(season.year, season.crop) for season in written}
    grown = {row.planted_from.year for row in plantings}
    return tuple(written + [Season(year, SWEET_POTATOES) for year in grown if (year, SWEET_POTATOES) not in told])


class _Reader(NamedTuple):
    """What is read once for all beds."""

    notebook: Notebook
    on: date
    plantings: Mapping[int, list[PlantingRow]]
    history: Mapping[int, list[HistoryRow]]
    stores: Mapping[int, list[InStore]]
    frosts: Mapping[int, FrostRow]
    gardens: Mapping[int, GardenRow]

    @staticmethod
    def of(notebook: Notebook, on: date, **bed: int) -> _Reader:
        """Reads plantings, histories, lots in store and frost dates, of all beds or of one."""
        plantings, history = defaultdict(list), defaultdict(list)
        for planting in notebook.all(PlantingRow, **bed):
            plantings[planting.bed].append(planting)
        for year in notebook.all(HistoryRow, **bed):
            history[year.bed].append(year)
        frosts = {row.garden: row for row in notebook.all(FrostRow, which="first_frost")}
        stays = _stays_of(notebook, plantings) if bed else notebook.all(StayRow, until=None)
        stores: dict[int, list[InStore]] = defaultdict(list)
        for number, store in _stores(notebook, stays):
            stores[number].append(store)
        gardens = {garden.id: garden for garden in notebook.all(GardenRow)}
        return _Reader(notebook, on, plantings, history, stores, frosts, gardens)

    def bed_now(self, bed: BedRow) -> BedNow:
        """The bed with all its needs."""
        lots, garden = tuple(self.stores.get(bed.id, ())), self.gardens[bed.garden]
        planting = next((each for each in reversed(self.plantings.get(bed.id, [])) if each.ended is None), None)
        visit = _last_visit(self.notebook, planting) if planting else None
        verdict = self.notebook.latest(VerdictRow, visit=visit.id) if visit else None
        needs, left = [need_of_lot(store, self.on, len(lots) == 1) for store in lots], ""
        if planting:
            frost = self.frosts.get(bed.garden)
            day = frost.p10.in_year(planting.planted_from.year) if frost else None
            need = need_of_planting(planting, visit, verdict, day, self.on)
            still = left_of(bed, planting, self.notebook.all(DigRow, planting=planting.id))
            left = still.words(garden.units) if still else ""
            needs.append(need_of_what_is_left(need, left, self.on) if left else need)
        if not needs:
            seasons = seasons_of(self.plantings.get(bed.id, ()), self.history.get(bed.id, ()))
            needs.append(need_of_rest(held_until(seasons), self.on))
        in_order = tuple(sorted(needs, key=lambda need: need.pressing(self.on)))
        return BedNow(bed, in_order, planting, visit, verdict, lots, garden, left)


def _last_visit(notebook: Notebook, planting: PlantingRow) -> VisitRow | None:
    """The visit of the latest day; of one day, the one entered last."""
    visits = notebook.all(VisitRow, planting=planting.id)
    return max(visits, key=lambda each: (each.day, each.id), default=None)


def _stays_of(notebook: Notebook, plantings: Mapping[int, list[PlantingRow]]) -> Iterator[StayRow]:
    """Where the lots of these plantings lie now."""
    digs = (dig for rows in plantings.values() for row in rows for dig in notebook.all(DigRow, planting=row.id))
    for dig in digs:
        for lot in notebook.all(LotRow, dig=dig.id):
            yield from notebook.all(StayRow, lot=lot.id, until=None)


def _stores(notebook: Notebook, stays: Iterable[StayRow]) -> Iterator[tuple[int, InStore]]:
    """Each lot that lies somewhere and is not used up, with the bed that it is of."""
    air: dict[int, AirRow | None] = {}
    for stay in stays:
        lot = notebook.get(LotRow, stay.lot)
        entries = notebook.all(LotEntryRow, lot=lot.id)
        try:
            account, wrong = account_of(lot, entries), ""
        except DoesNotAddUp as error:
            account, wrong = None, ledger_words(str(error), notebook.get(GardenRow, lot.garden).units)
        if lot.dig is None or (account is not None and account.left <= CRUMB):
            continue
        if stay.room not in air:
            air[stay.room] = notebook.latest(AirRow, room=stay.room)
        looked = max((entry.day for entry in entries if entry.what in LOOKS), default=stay.since)
        bed = notebook.get(PlantingRow, notebook.get(DigRow, lot.dig).planting).bed
        yield bed, InStore(lot, stay, looked, air[stay.room], account, wrong)
