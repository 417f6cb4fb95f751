"""The lots of the garden in the one ledger that accounts for every pound."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from assistant.cases.ledger import entry_of
from assistant.garden.entries.soundness import sound
from assistant.garden.standing.stages import BedNow, InStore
from assistant.garden.standing.words import dated, units_of
from assistant.model.notebook import DigRow, LotEntryRow
from assistant.model.place import NOWHERE
from assistant.model.quantities import NotAValue, Units
from assistant.notebook import Notebook
from assistant.reckoning.lot_ledger import APART, DUG
from assistant.reckoning.using_up import PARTS

HOW = "write looked, used, given, sold, discarded, apart or weighed, with a weight such as 3 lb"


def note_lot(notebook: Notebook, now: BedNow, text: str, on: date) -> LotEntryRow:
    """A line of a lot's ledger: `looked`, `used 3 lb`, `apart 5 lb nicked`, `weighed 80 lb`; where the bed has several
    lots, after a comma which; where it was another day, after that. What was dug was dug on the day of the dig.

    Raises `NotAValue`.
    """
    on, text = dated(text, on)
    words, _, name = text.partition(",")
    lot = which_lot(now, name).lot
    line = ledger_line(words, units_of(notebook, now.bed), on)
    if line.what == DUG and lot.dig is not None:
        line = line._replace(day=notebook.get(DigRow, lot.dig).day)
    with sound(notebook, f"{lot.name} {line.what}", now.bed):
        return notebook.add(line._replace(lot=lot.id))


def ledger_line(text: str, units: Units, on: date) -> LotEntryRow:
    """A line such as `used 3 lb nicked` as a row of no lot yet. Raises `NotAValue`."""
    what, _, weight = text.strip().partition(" ")
    if not what:
        raise NotAValue(HOW)
    weight, part = weight.strip(), ""
    last = weight.rpartition(" ")[2].lower()
    if last in PARTS:
        weight, part = weight[: -len(last)].strip(), last
    cells = {"date": on.isoformat(), "lot": "lot", "what": what, "part": part, "weight": weight}
    if what.lower() == APART and not part:
        raise NotAValue(f"write which roots were set apart ({', '.join(PARTS[:-1])}), such as apart 5 lb nicked")
    entry = entry_of({name: cell for name, cell in cells.items() if cell}, units, NOWHERE)
    return LotEntryRow(0, on, entry.what, entry.part, entry.pounds)


def which_lot(now: BedNow, name: str = "") -> InStore:
    """The bed's lot that is meant; the only one needs no name. Raises `NotAValue`."""
    if not now.lots:
        raise NotAValue(f"no roots of {now.bed.name} are curing or kept; record a dig first")
    wanted = " ".join(name.split()).lower()
    found = [store for store in now.lots if store.lot.name.lower() == wanted] or _ending(now.lots, wanted)
    if len(found) == 1:
        return found[0]
    names = ", ".join(store.lot.name for store in now.lots)
    told = f"{now.bed.name} has several lots" if not wanted else f"'{name.strip()}' is no one lot of {now.bed.name}"
    raise NotAValue(f"{told}: {names}; write which after a comma, such as used 3 lb, {now.lots[-1].lot.name}")


def _ending(lots: Iterable[InStore], wanted: str) -> list[InStore]:
    return [store for store in lots if store.lot.name.lower().endswith(wanted)]
