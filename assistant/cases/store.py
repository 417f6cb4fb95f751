"""A store on a day: what its case, log and ledger come to, put before the rules of keeping."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, timedelta

from assistant.measures import known_readings
from assistant.measures.keeping import (
    PastWeek,
    noted_in,
    noted_week,
    past_week,
    since,
    told_by_ledger,
    told_by_log,
    told_by_plan,
)
from assistant.measures.store import Store, UsingUp, Wanted
from assistant.model.case import Case
from assistant.model.quantities import Units
from assistant.model.readings import Choices, Known, Origin, Reading, Span
from assistant.model.room_log import RoomLog
from assistant.model.rules import Rulebook
from assistant.reckoning.chilling import Cold, cold_in
from assistant.reckoning.keeping import Life, degree_days, life_of, next_look, sprouting_in
from assistant.reckoning.lot_ledger import Account
from assistant.reckoning.moist_air import Air
from assistant.reckoning.ranges import Range
from assistant.reckoning.spells import Spell, spells_of
from assistant.reckoning.using_up import NO_LOSS, Portion, plan_of, rate_to_finish, short_by
from assistant.reckoning.weight_loss import CHILLING_LIMIT, GOOD_STORE, Cure, Loss, daily_loss, loss_over
from assistant.season import advise

RULEBOOK = "sweetpotato/keeping"
HOME = "home"
UNNAMED = "the lot"


def store_of(rulebook: Rulebook, case: Case, log: RoomLog | None, accounts: Iterable[Account], wanted: Wanted) -> Store:
    """Everything that can be said of the store on the day of the case. What the grower says stands above all else."""
    books = tuple(accounts)
    told = dict(told_by_ledger(books, case.on))
    case = _with(case, told)
    stored = _stored(case)
    spells = _until(since(spells_of(log), stored) if log else (), case.on)
    cold = cold_in(spells) if spells else None
    noted = _until(noted_in(books), case.on)
    week = past_week(spells, case.on) or noted_week(noted, case.on)
    looked = max((book.looked for book in books), default=None) or _looked(case)
    seen = _after(spells, looked) if looked else spells
    case = _with(case, dict(told_by_log(week, cold, cold_in(seen) if seen else None)))
    warmth = degree_days(spells) if spells else None
    sprouting = sprouting_in(warmth or 0.0, week.usual) if week and week.usual is not None else None
    known = known_readings(rulebook, case)
    cure = _cure(known)
    lives = _Lives(rulebook, known, cure, case.on, sprouting, cold)
    losses = {book.lot: loss_over(_after(spells, book.weighed), cure) for book in books}
    portions = tuple(_portions(books, losses, lives, stored, wanted))
    loss_now = _loss_now(week, cure, cold)
    using = _using(portions, case.on, wanted, loss_now)
    if using and wanted.per_week:
        case = _with(case, {"using": told_by_plan(using.plan.too_much)})
    verdict = advise(rulebook, case)
    look = next_look(case.on, looked, verdict.look_again, cold.harmed_at if cold else None)
    life = lives.of(stored) if stored else None
    return Store(
        case, verdict, log, spells, noted, week, cold, warmth, sprouting, cure, life, stored, books, losses, loss_now,
        portions, using, look,
    )  # fmt: skip


class _Lives:
    """How long lots last in this store, by the day they came in and the kind of root."""

    def __init__(
        self,
        rulebook: Rulebook,
        known: Mapping[str, Known],
        cure: Cure,
        on: date,
        sprouting: Span | None,
        cold: Cold | None,
    ) -> None:
        place = known["place_life"].reading
        if known["place"].origin in (Origin.NOT_ASKED, Origin.CANT_TELL):
            place = rulebook.tables["places"].column("days")[HOME]
        variety = None if known["variety"].origin is Origin.NOT_ASKED else known["variety_life"].reading
        assert isinstance(place, Span)
        assert variety is None or isinstance(variety, Span)
        self.place, self.variety, self.cure = place, variety, cure
        self.harmed_at = cold.harmed_at if cold else None
        self.sprouting = (on + timedelta(sprouting.low), on + timedelta(sprouting.high)) if sprouting else None

    def of(self, stored: date, part: str = "") -> Life:
        """The life of a lot, or of its nicked roots, whose wounds keep as uncured roots do (our judgement)."""
        cure = Cure.NONE if part == "nicked" else self.cure
        return life_of(self.place, self.variety, cure, stored, self.sprouting, self.harmed_at)

    def part(self, stored: date, part: str) -> str:
        """The kind of root that a part has become: what the cold has harmed is chilled, unless nicked as well."""
        harmed = self.harmed_at is not None and stored <= self.harmed_at.date()
        return "chilled" if harmed and part != "nicked" else part


def _portions(
    books: Iterable[Account], losses: Mapping[str, Loss], lives: _Lives, stored: date | None, wanted: Wanted
) -> Iterable[Portion]:
    """What there is to eat, by lot and kind, as much as is likely left of it."""
    found: dict[tuple[str, str], Portion] = {}
    for book in books:
        for part, pounds in book.parts.items():
            now = pounds * losses[book.lot].left.likely
            kind = lives.part(book.stored, part)
            portion = Portion(book.lot, kind, now, book.stored, lives.of(book.stored, kind).dates(book.stored))
            before = found.get((book.lot, kind))
            found[book.lot, kind] = portion._replace(pounds=now + before.pounds) if before else portion
    if not found and wanted.left and stored:
        kind = lives.part(stored, "sound")
        found[UNNAMED, kind] = Portion(UNNAMED, kind, wanted.left, stored, lives.of(stored).dates(stored))
    return found.values()


def _using(portions: tuple[Portion, ...], on: date, wanted: Wanted, loss: Range | None) -> UsingUp | None:
    if not portions:
        return None
    loss = loss or NO_LOSS
    rates = tuple(rate_to_finish(portions, on, loss.likely, latest) for latest in (False, True))
    weekly = tuple(rate * 7 if rate is not None else None for rate in rates)
    per_day = wanted.per_week / 7 if wanted.per_week else rates[0] or rates[1]
    if not per_day:
        return None
    plan = plan_of(portions, on, per_day, loss.likely)
    gone = tuple(plan_of(portions, on, per_day, each).gone for each in (loss.high, loss.low))
    short = short_by(plan, wanted.until, per_day) if wanted.until else 0.0
    return UsingUp(plan, per_day * 7, (gone[0], gone[1]), short, (weekly[0], weekly[1]))


def _loss_now(week: PastWeek | None, cure: Cure, cold: Cold | None) -> Range | None:
    """The share lost a day in the air of the past week, or else of a good store; None when cold forbids to say."""
    usual = week.usual if week and week.usual is not None else GOOD_STORE.temperature
    low = week.low if week and week.low is not None else usual
    if low < CHILLING_LIMIT or (cold and cold.is_harmful):
        return None
    humidity = week.humidity if week and week.humidity is not None else GOOD_STORE.humidity
    return daily_loss(Air(usual, humidity), cure)


def _with(case: Case, told: Mapping[str, Known]) -> Case:
    """The case with signs told, where the grower said nothing."""
    return replace(case, answers={**told, **case.answers})


def _stored(case: Case) -> date | None:
    """The day the roots came in, the earliest it can be; None when nobody knows."""
    known = case.answers.get("stored_on")
    if known is None or known.origin is Origin.CANT_TELL or not isinstance(known.reading, Span):
        return None
    return date.fromordinal(int(known.reading.low))


def _looked(case: Case) -> date | None:
    known = case.answers.get("looked_days_ago")
    if known is None or known.origin is Origin.CANT_TELL or not isinstance(known.reading, Span):
        return None
    return case.on - timedelta(days=int(known.reading.high))


def _cure(known: Mapping[str, Known]) -> Cure:
    """How the roots were cured; where that is not sure, a short cure, whose loss spans the others'."""
    reading: Reading = known["cure"].reading
    if isinstance(reading, Choices) and len(reading.possible) == 1:
        return Cure(next(iter(reading.possible)))
    return Cure.SHORT


def _until(spells: tuple[Spell, ...], on: date) -> tuple[Spell, ...]:
    return tuple(spell for spell in spells if spell.start.date() <= on)


def _after(spells: tuple[Spell, ...], day: date) -> tuple[Spell, ...]:
    return tuple(spell for spell in spells if spell.start.date() >= day)


def own_case(on: date, units: Units) -> Case:
    """A case of which nothing is said but the day."""
    return Case(f"The store on {on.isoformat()}", RULEBOOK, on, units)
