"""What cannot be proved is said, one sentence a statement; and an engine that errs is found out."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

import pytest
from small_rulebooks import rule, rulebook

from assistant.inference import EngineFault, TooManyBranches, run
from assistant.interview.diagrams import TooLarge
from assistant.interview.options import TooManyChoices
from assistant.model.conditions import ALWAYS, All, AnyOf, Compare, Concluded, Not, OneOf, Op
from assistant.model.derivation import Derivation
from assistant.model.readings import Known, Reading
from assistant.model.rules import Direction, Rulebook
from assistant.proofs import Flaw, directions, engine, prove, proving, scenarios
from assistant.proofs.gardens import Gardens, gardens_of
from assistant.proofs.manual import manual_folder
from assistant.rulebook import read_rulebook

DIG = rule("dig it", OneOf("vines", frozenset({"withered"})))
WAIT = rule("wait", Not(OneOf("vines", frozenset({"withered"}))), value="wait")


@pytest.mark.parametrize("limit", [TooLarge, TooManyChoices, TooManyBranches])
def test_a_rulebook_too_large_is_unproved_in_every_statement(
    limit: type[ValueError], monkeypatch: pytest.MonkeyPatch
) -> None:
    def give_up(_: Rulebook) -> Gardens:
        raise limit("it is too large")

    monkeypatch.setattr(proving, "gardens_of", give_up)
    report = prove(rulebook(DIG))
    assert (report.flaws, report.proved) == ((), ())
    assert [item.what for item in report.unproved] == [check.says for check in proving.CHECKS]
    assert {item.why for item in report.unproved} == {"it is too large"}


def test_a_check_that_grows_too_large_keeps_what_it_found_and_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    check = proving.CHECKS[2]

    def partly(gardens: Gardens) -> Iterator[Flaw | str]:
        yield from check.find(gardens)
        raise TooLarge("it is too large")

    monkeypatch.setattr(proving, "CHECKS", (replace(check, find=partly),))
    report = prove(rulebook(DIG))
    assert [flaw.code for flaw in report.flaws] == ["no-advice"]
    assert [(item.what, item.why) for item in report.unproved] == [(check.says, "it is too large")]
    assert report.proved == ()


def test_a_rulebook_without_scenarios_is_told_where_they_go() -> None:
    home = manual_folder() / "no-advice" / "good"
    found = list(scenarios.find(gardens_of(read_rulebook(str(home)))))
    assert found == [f"there are no scenarios yet; {home / 'scenarios'} is the place for them"]


def test_a_rulebook_of_no_folder_has_no_scenarios_to_look_for() -> None:
    assert list(scenarios.find(gardens_of(rulebook(DIG, WAIT)))) == ["the rulebook was not read from a folder"]


def test_a_direction_without_urgencies_is_unproved() -> None:
    book = replace(rulebook(DIG, WAIT), directions={"cold": Direction("cold", "", "nights", ("lower",))})
    assert list(directions.find(gardens_of(book))) == ["the advice salvage, dig, wait has no urgency"]


def test_an_engine_that_says_something_else_is_found_out(monkeypatch: pytest.MonkeyPatch) -> None:
    def err(rulebook: Rulebook, known: Mapping[str, Known], whole: Mapping[str, Reading]) -> Derivation:
        said = run(rulebook, known, whole)
        return said._replace(advice="salvage") if said.advice == "wait" else said

    monkeypatch.setattr(engine, "run", err)
    (flaw,) = (flaw for flaw in prove(rulebook(DIG, WAIT)).flaws if flaw.code == "engine-differs")
    assert flaw.message == "The rule engine says: salvage; the diagrams say: wait."
    assert len(flaw.examples) == 1


def test_an_engine_that_stops_is_found_out(monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(*_: object) -> Derivation:
        raise EngineFault("the rule engine stopped early")

    monkeypatch.setattr(engine, "run", stop)
    (flaw,) = (flaw for flaw in prove(rulebook(DIG, WAIT)).flaws if flaw.code == "engine-differs")
    assert "stopped early" in flaw.message


def test_too_many_paths_are_counted_and_said(monkeypatch: pytest.MonkeyPatch) -> None:
    hurt = AnyOf((Compare("nights", Op.BELOW, 32), Compare("planted", Op.ABOVE, 100)))
    book = rulebook(rule("hurt", All((hurt, DIG.when)), value="salvage"), DIG, WAIT)
    assert engine.CHECK.says in prove(book).proved
    monkeypatch.setattr(engine, "MOST_PATHS", 0)
    why = [item.why for item in prove(book).unproved if item.what == engine.CHECK.says]
    assert why == ["of 9 paths 6 were tried, some through every turn of the diagram"]


def test_too_many_turns_are_not_all_taken_and_that_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    hurt = AnyOf((Compare("nights", Op.BELOW, 32), Compare("planted", Op.ABOVE, 100)))
    monkeypatch.setattr(engine, "MOST_PATHS", 0)
    monkeypatch.setattr(engine, "MOST_TURNS", 5)
    report = prove(rulebook(rule("hurt", All((hurt, DIG.when)), value="salvage"), DIG, WAIT))
    why = [item.why for item in report.unproved if item.what == engine.CHECK.says]
    assert why == ["of 9 paths 5 were tried, not through every turn of the diagram"]


def test_a_rule_that_waits_for_what_never_comes_is_told_so() -> None:
    never = rule("never", All((Compare("nights", Op.ABOVE, 50), Compare("nights", Op.BELOW, 40))), "size", "small")
    waiting = rule("waiting", Concluded("size", frozenset({"small"})))
    hints = {flaw.about: flaw.hint for flaw in prove(rulebook(never, waiting)).flaws if flaw.code == "never-fires"}
    assert hints["waiting"] == "Its finding 'size' never comes to small; mend that first."
    assert hints["never"].startswith("Look for tests")


def test_a_rule_that_always_fires_has_no_garden_where_it_just_does_not() -> None:
    assert [flaw.code for flaw in prove(rulebook(rule("always", ALWAYS))).flaws if flaw.about == "always"] == []
