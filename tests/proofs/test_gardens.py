"""Gardens as examples: their answers read back as what they stand for, on whatever day."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from shutil import copytree

import pytest
from small_rulebooks import rule, rulebook

from assistant.interview.answers import parse_answer
from assistant.model.conditions import All, Compare, OneOf, Op
from assistant.model.quantities import Kind, Units
from assistant.model.readings import Span
from assistant.model.rules import Advice, Direction
from assistant.model.signs import DaysUntil, Measure
from assistant.proofs import directions, never_fires, scenarios
from assistant.proofs.answers import answer_of
from assistant.proofs.gardens import ON, Gardens, gardens_of
from assistant.proofs.manual import manual_folder
from assistant.proofs.report import Flaw
from assistant.rulebook import read_rulebook


@pytest.fixture(scope="module")
def shipped() -> Gardens:
    return gardens_of(read_rulebook("sweetpotato/when-to-dig"))


def test_every_option_is_written_as_an_answer_that_reads_back_as_that_option(shipped: Gardens) -> None:
    for sign in shipped.rulebook.signs.values():
        for number, option in enumerate(shipped.rest.options[sign.name].all):
            known = answer_of(sign, shipped.rest, number, ON)
            read = parse_answer(sign, known.written, ON, Units.US)
            assert shipped.rest.option_for(sign.name, read.reading) == number, (sign.name, known.written)
            assert (read.reading == sign.domain(ON)) == option.whole
            assert read.origin == known.origin


def test_answers_are_in_round_numbers_where_they_mean_the_same(shipped: Gardens) -> None:
    written = {
        answer_of(shipped.rulebook.signs["forecast_low"], shipped.rest, number, ON).written
        for number, option in enumerate(shipped.rest.options["forecast_low"].all)
        if option.exact
    }
    assert {"-20 F", "29 F", "33 F", "37 F"} <= written


def test_a_garden_is_the_same_on_every_day_of_the_year(shipped: Gardens) -> None:
    ways = shipped.simplest(shipped.fires("days-reached"))
    assert ways is not None
    case = shipped.case("", ways)
    (planted,) = (name for name, sign in shipped.rulebook.signs.items() if sign.kind is Kind.DATE)
    known = case.answers[planted]
    assert isinstance(known.reading, Span)
    for days in (-100, 1, 250):
        day = case.on + timedelta(days=days)
        moved = known._replace(reading=Span(known.reading.low + days, known.reading.high + days))
        elsewhen = replace(case, on=day, answers={**case.answers, planted: moved})
        assert shipped.ways_of(elsewhen) == shipped.ways_of(case)


def test_a_frost_that_is_usual_later_cannot_be_nearer_than_the_earliest() -> None:
    measures = {
        "earliest": Measure("earliest", "", DaysUntil("first_frost.p10"), -365, 365),
        "usual": Measure("usual", "", DaysUntil("first_frost.p50"), -365, 365),
    }
    backwards = All((Compare("earliest", Op.ABOVE, 20), Compare("usual", Op.AT_MOST, 10)))
    in_order = All((Compare("earliest", Op.AT_MOST, 10), Compare("usual", Op.ABOVE, 20)))
    beyond = Compare("usual", Op.ABOVE, 182)
    rules = (rule("backwards", backwards), rule("in order", in_order), rule("beyond half a year", beyond))
    book = replace(rulebook(*rules), measures=measures)
    found = [flaw.about for flaw in never_fires.find(gardens_of(book)) if isinstance(flaw, Flaw)]
    assert found == ["backwards", "beyond half a year"]


def test_a_conflict_has_no_urgency_and_breaks_no_direction() -> None:
    withered, yellow = (OneOf("vines", frozenset({vine})) for vine in ("withered", "yellowing"))
    dig, wait = rule("dig", yellow), rule("wait", withered, value="wait")
    sizes = (rule("small", withered, "size", "small"), rule("big", withered, "size", "big"))
    promise = {"vines": Direction("vines", "", "vines", ("yellowing", "withered"))}
    urgent = {name: Advice(name, name, name, urgency=level) for name, level in (("dig", 1), ("wait", 0))}
    one_sided = replace(rulebook(dig, wait, sizes[0]), advice=urgent, directions=promise)
    disputed = replace(rulebook(dig, wait, *sizes), advice=urgent, directions=promise)
    found = [[flaw.code for flaw in directions.find(gardens_of(book)) if isinstance(flaw, Flaw)]
             for book in (one_sided, disputed)]  # fmt: skip
    assert found == [["direction-broken"], []]


def test_a_date_presses_through_the_days_reckoned_from_it() -> None:
    book = read_rulebook("sweetpotato/when-to-dig")
    urgent = {name: advice._replace(urgency=0) for name, advice in book.advice.items()}
    for kind in ("dig-now", "dig-before-frost"):
        urgent[kind] = urgent[kind]._replace(urgency=1)
    found = []
    for way in ("lower", "higher"):
        promise = {"age": Direction("age", "", "planted_on", (way,))}
        gardens = gardens_of(replace(book, advice=urgent, directions=promise))
        found.append([flaw.about for flaw in directions.find(gardens) if isinstance(flaw, Flaw)])
    assert found == [[], ["age"]]


def scenario(folder: Path, number: int, tops: str, expect: str) -> None:
    text = f"case: A row {number}\nrulebook: ..\non: 2031-08-20\nsigns: {{tops: {tops}}}\nexpect: {expect}\n"
    (folder / f"{number}.yaml").write_text(text + "sources: common practice\n", encoding="utf-8")


def test_a_scenario_in_which_the_rule_fires_is_none_where_it_just_does_not(tmp_path: Path) -> None:
    home = tmp_path / "onions"
    copytree(manual_folder() / "no-neighbour-scenario" / "good", home)
    folder = home / "scenarios"
    for path in folder.iterdir():
        path.unlink()
    scenario(folder, 1, "down", "{fired: [tops-down], not_fired: [tops-down, still-growing]}")
    scenario(folder, 2, "upright", "{fired: [still-growing]}")
    flaws = [flaw for flaw in scenarios.find(gardens_of(read_rulebook(str(home)))) if isinstance(flaw, Flaw)]
    assert [(flaw.code, flaw.about) for flaw in flaws] == [("no-neighbour-scenario", "tops-down")]


@pytest.mark.parametrize("name", ["sweetpotato/short-season", "sweetpotato/mild-maritime"])
def test_rules_taken_over_from_below_have_their_scenarios_there(name: str) -> None:
    gardens = gardens_of(read_rulebook(name))
    assert list(scenarios.find(gardens)) == []


def test_an_answer_stays_uneven_where_no_round_number_means_the_same() -> None:
    between = All((Compare("nights", Op.ABOVE, 50.2), Compare("nights", Op.BELOW, 50.8)))
    gardens = gardens_of(rulebook(rule("between", between)))
    ways = gardens.simplest(gardens.fires("between"))
    assert ways is not None
    case = gardens.case("", ways)
    assert case.answers["nights"].written == "50.21 F"
    assert gardens.at(gardens.fires("between"), gardens.ways_of(case))
