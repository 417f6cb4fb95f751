"""The plan of the next year as a page to print and hang up."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from math import ceil

from assistant.cases.next_year import BedState, Freeze, NextYear
from assistant.explain.evidence import cautions, disagreements, sources
from assistant.explain.sheet import Section, Sheet, Table
from assistant.model.quantities import Units, centimetres, format_day
from assistant.model.rules import ADVICE
from assistant.reckoning.frost_odds import FEWEST_SEASONS
from assistant.reckoning.planting import at_least_once
from assistant.reckoning.rotation import USUAL_REST
from assistant.reckoning.slips import METRES_PER_FOOT, bed_area, most_fertilizer, most_nitrogen
from assistant.reckoning.yields import GRAMS_PER_POUND, OUNCES_PER_POUND

SEASONS = 10
"""Over which the chance of a frost after planting is told."""
SQUARE_METRES_PER_SQUARE_FOOT = METRES_PER_FOOT**2
_TABLES = {
    "beds": ("rotations",),
    "start": ("weeks",),
    "slips": ("yields", "shares", "slips_of_a_pound", "slips_of_a_root", "nitrogen"),
}
"""The tables of the rulebook that parts of the plan rest on."""
FINE = 10
"""Below this a figure keeps a decimal."""


def next_year_sheet(plan: NextYear) -> Sheet:
    """The whole page."""
    below = f"Made on {format_day(plan.case.on)}, for the crop to be dug in {plan.year}."
    return Sheet("Next year's sweet potatoes", below, tuple(_sections(plan)))


def _sections(plan: NextYear) -> Iterator[Section]:
    yield _to_do(plan)
    if plan.beds:
        yield _beds(plan)
    if plan.takers:
        yield _takers(plan)
    yield _dates(plan)
    if plan.slips:
        yield _slips(plan)
        yield _feeding(plan)
    derivation = plan.verdict.derivation
    mind = tuple(caution.text for caution in cautions(derivation))
    if plan.verdict.questions_left:
        asks = [derivation.rulebook.signs[name].ask for name in plan.verdict.questions_left]
        yield Section("Not said yet, and could change what comes first", items=tuple(asks))
    if mind:
        yield Section("Mind", items=mind)
    disputed = tuple(f"{each.about} Taken here: {each.taken}" for each in disagreements(derivation))
    if disputed:
        yield Section("Where handbooks differ", items=disputed)
    yield Section("Sources", items=tuple(_sources(plan)))


def _sources(plan: NextYear) -> Iterator[str]:
    """Those of the verdict and of the tables that the plan reckons with."""
    book = plan.verdict.derivation.rulebook
    cited = [source.id for source in sources(plan.verdict.derivation, of_cautions=False)]
    shown = [table for part, tables in _TABLES.items() if getattr(plan, part) for table in tables]
    rows = [row for table in shown if table in book.tables for row in book.tables[table].rows.values()]
    cited += [code for row in rows for code in row.sources]
    cited += [code for taker, _ in plan.takers for code in taker.sources]
    for code in dict.fromkeys(cited):
        if source := book.sources.get(code):
            yield f"{code}: {source.title}, {source.year} ({source.how.value})"


def _to_do(plan: NextYear) -> Section:
    """What comes first, with its steps, and what else the rules ask for, the most pressing first."""
    verdict, derivation = plan.verdict, plan.verdict.derivation
    advice = derivation.rulebook.advice
    given = {firing.rule.value for firing in derivation.firings if firing.rule.concludes == ADVICE}
    first = advice[verdict.advice] if verdict.advice else None
    later = [kind.headline for kind in advice.values() if kind.name in given and kind is not first and kind.urgency]
    return Section(
        f"First: {verdict.headline}",
        (first.says,) if first else (),
        first.steps if first else (),
        tuple(f"Then: {headline}." for headline in later),
    )


def _beds(plan: NextYear) -> Section:
    says = []
    if plan.chosen:
        ready = "has rested" if plan.chosen.ready else "has not rested"
        says.append(f"Reckoned with for {plan.year}: {plan.chosen.name}, which {ready} long enough.")
    says.append(f"The rest is {USUAL_REST} full seasons as a rule, 4 and more after black rot or scurf, 8 after wilt.")
    rows = tuple((state.name, _held_words(state), _from(state, plan.year)) for state in plan.beds)
    return Section("Beds", tuple(says), table=Table(("bed", "because", "sweet potatoes again"), rows))


def _held_words(state: BedState) -> str:
    if state.held is None:
        return "never had any"
    season = state.held.season
    crop = season.crop.replace("-", " ")
    sick = "" if season.disease == "none" else f" with {season.disease.replace('-', ' ')}"
    return f"{crop}{sick} in {season.year}"


def _from(state: BedState, year: int) -> str:
    return f"in {year}" if state.ready else f"not before {state.held.until if state.held else year}"


def _takers(plan: NextYear) -> Section:
    assert plan.freeze is not None
    notes = tuple(f"{taker.name}: {taker.note} ({', '.join(taker.sources)})" for taker, _ in plan.takers)
    day, title = plan.freeze.day, "What can follow in a dug bed"
    if day is None:
        says = "The ground does not freeze to stay in a usual year. Plant garlic once the soil is at 50 °F (10 °C)."
        return Section(title, (says, *_winters(plan.freeze)), items=notes)
    says = f"The ground usually freezes about {_day(day)}, {plan.freeze.weeks(plan.case.on)} weeks from now."
    rows = tuple((taker.name, fit.value, _between(taker.window(day))) for taker, fit in plan.takers)
    table = Table(("what", "is it time", "when"), rows)
    return Section(title, (says, *_winters(plan.freeze)), items=notes, table=table)


def _winters(freeze: Freeze) -> Iterator[str]:
    if freeze.winters:
        yield f"It froze in {freeze.frozen} of {freeze.winters} winters on record, as estimated from the air."


def _dates(plan: NextYear) -> Section:
    planting, says = plan.planting, []
    if planting.later_freeze is not None:
        chance = at_least_once(planting.later_freeze, SEASONS)
        says.append(
            f"The chance of a freeze after that is {_percent(planting.later_freeze)} in a spring; planted so for "
            f"{SEASONS} years, {_percent(chance)} for at least one. Keep a cover at hand."
        )
    says.extend(_unknown(plan))
    table = Table(("what", "when"), tuple(_date_rows(plan))) if planting.plant_out else None
    return Section("Dates", tuple(says), table=table)


def _date_rows(plan: NextYear) -> Iterator[tuple[str, str]]:
    planting = plan.planting
    assert planting.plant_out is not None
    if plan.start:
        yield "bring seed roots into the warm", _between(plan.start.wake)
        yield "bed them", _between(plan.start.bed)
    if planting.last_freeze and planting.frost_is_past:
        yield "last freeze past in 5 springs of 10", _day(planting.last_freeze)
        if plan.late_freeze:
            yield "last freeze past in 9 springs of 10", _day(plan.late_freeze)
        yield "two weeks after the first of these", _day(planting.frost_is_past)
    if planting.soil_warm:
        yield "soil at 65 °F (18.3 °C), four days running", _day(planting.soil_warm)
    yield "plant, the later of these two", format_day(planting.plant_out)
    if plan.season:
        early, usual = plan.season
        yield "days from then to the first freeze", f"{usual} usually, {early} in one year of ten"


def _unknown(plan: NextYear) -> Iterator[str]:
    recorded = plan.case.weather is not None and plan.case.weather.record is not None
    few = f"; the record has fewer than {FEWEST_SEASONS} such seasons" if recorded else ""
    give = "" if recorded else "--weather or "
    if plan.planting.last_freeze is None:
        yield f"The last freeze is not known{few}; give {give}--last-frost."
    if plan.planting.soil_warm is None:
        yield f"When the soil warms is not known{few}; measure it, or give {give}--soil-warm."
    if plan.freeze is None:
        yield f"When the ground freezes is not known{few}; give {give}--ground-freezes."
    if plan.planting.soil_warm and recorded:
        yield "The soil is estimated from the air and may be off by 5 °F (3 °C); let your own thermometer decide."


def _slips(plan: NextYear) -> Section:
    assert plan.slips
    units, wanted, slips = plan.case.units, plan.wanted, plan.slips
    assert wanted.pounds
    rows = (
        ("to dig", *(_weight(value, units) for value in slips.dug)),
        ("row", *(_length(value, units) for value in slips.row_feet)),
        ("plants", *map(_count, slips.plants)),
        ("slips", *map(_count, slips.slips)),
        ("seed roots of half a pound (230 g)", *map(_count, slips.seed_roots)),
        ("seed, by weight", *(_weight(value, units) for value in slips.seed_pounds)),
        ("boxes of 40 lb (18 kg)", *(f"{value:.1f}" for value in slips.boxes)),
    )
    says = (
        f"For {_weight(wanted.pounds, units)} to be {wanted.use}, {wanted.months:g} months in store on the average, "
        f"plants {_distance(wanted.layout.spacing, units)} apart. Plan for the likely figure, or for the high one "
        "where running short would hurt.",
        "The range is wide because the sources are: gardens dig 0.6 to 2.5 lb from a foot of row (0.9 to 3.7 kg a "
        "metre), and a root gives 4 to 25 slips. Your own yields, by --yield, narrow it.",
    )
    return Section("How much to plant", says, table=Table(("what", "low", "likely", "high"), rows))


def _feeding(plan: NextYear) -> Section:
    assert plan.slips
    area = bed_area(plan.slips.row_feet.likely, plan.wanted.layout.row_width)
    units = plan.case.units
    size = f"{area:.0f} sq ft" if units is Units.US else f"{area * SQUARE_METRES_PER_SQUARE_FOOT:.0f} m²"
    says = [
        f"At most {_small(most_nitrogen(area), units)} of nitrogen for the likely {size}, from all that is spread: "
        "75 lb an acre (84 kg/ha). More makes vines, and long, thin, cracked roots that keep badly."
    ]
    if plan.wanted.percent:
        most = _small(most_fertilizer(area, plan.wanted.percent), units)
        says.append(f"That is {most} of a fertilizer with {plan.wanted.percent:g} % nitrogen.")
    return Section("Feeding", tuple(says))


def _day(day: date) -> str:
    return format_day(day, year=False)


def _between(days: tuple[date, date]) -> str:
    return f"{_day(days[0])} to {_day(days[1])}"


def _percent(chance: float) -> str:
    return f"{chance * 100:.0f} %" if chance >= 0.01 else "under 1 %"


def _count(value: float) -> str:
    return str(ceil(value - 1e-9))


def _figure(value: float) -> str:
    return f"{value:.1f}" if value < FINE else f"{value:.0f}"


def _weight(pounds: float, units: Units) -> str:
    return f"{_figure(pounds)} lb" if units is Units.US else f"{_figure(pounds * GRAMS_PER_POUND / 1000)} kg"


def _small(pounds: float, units: Units) -> str:
    if units is Units.METRIC:
        return f"{_figure(pounds * GRAMS_PER_POUND)} g"
    return f"{_figure(pounds * OUNCES_PER_POUND)} oz" if pounds < 1 else f"{_figure(pounds)} lb"


def _length(feet: float, units: Units) -> str:
    return f"{_count(feet)} ft" if units is Units.US else f"{_count(feet * METRES_PER_FOOT)} m"


def _distance(inches: float, units: Units) -> str:
    return f"{inches:g} in" if units is Units.US else f"{centimetres(inches):.0f} cm"
