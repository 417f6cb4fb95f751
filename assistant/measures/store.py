"""A store on a day: what its case, log and ledger come to, and what the rules of keeping say of it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from assistant.measures.keeping import PastWeek
from assistant.model.case import Case
from assistant.model.derivation import Verdict
from assistant.model.readings import Span
from assistant.model.room_log import RoomLog
from assistant.reckoning.chilling import Cold
from assistant.reckoning.keeping import Life
from assistant.reckoning.lot_ledger import Account
from assistant.reckoning.ranges import Range
from assistant.reckoning.spells import Spell
from assistant.reckoning.using_up import Plan, Portion
from assistant.reckoning.weight_loss import Cure, Loss


class Wanted(NamedTuple):
    """What the grower asks of the plan: pounds used a week, the day until which there should be roots, pounds left."""

    per_week: float | None = None
    until: date | None = None
    left: float | None = None


class UsingUp(NamedTuple):
    """The plan of eating at the likely loss and its pounds a week; its last day at the high and the low loss; pounds
    short of the day that was asked for; pounds a week to finish all by the first and the last day it should keep."""

    plan: Plan
    per_week: float
    gone: tuple[date | None, date | None]
    short: float
    rates: tuple[float | None, float | None]


class Store(NamedTuple):
    """All that is known of a store on a day, and the verdict of the rules on it."""

    case: Case
    verdict: Verdict
    log: RoomLog | None
    spells: tuple[Spell, ...]
    noted: tuple[Spell, ...]
    week: PastWeek | None
    cold: Cold | None
    warmth: float | None
    sprouting: Span | None
    cure: Cure
    life: Life | None
    stored: date | None
    accounts: tuple[Account, ...]
    losses: Mapping[str, Loss]
    loss_now: Range | None
    portions: tuple[Portion, ...]
    using: UsingUp | None
    next_look: date
