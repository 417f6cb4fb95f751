"""A rule without a scenario where it fires, or without one where it just does not.

Only a scenario that names the rule counts, for only that one fails when the rule changes: under `fired`
for the first, under `not_fired` or `open` for the second. It just does not fire where one other answer
(or other frost dates) would make it. Rules taken over unchanged from the rulebook built on need none
here: they have theirs there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from assistant.cases import find_scenarios, read_case, rulebook_of
from assistant.interview.diagrams import Diagram, Leaf
from assistant.model.case import Case
from assistant.model.place import NOWHERE, BadInput
from assistant.model.rules import Rule, Rulebook
from assistant.proofs.gardens import Gardens, Ways
from assistant.proofs.report import Check, Flaw
from assistant.rulebook import shipped_folder, shipped_rulebooks


def find(gardens: Gardens) -> Iterator[Flaw | str]:
    """Up to two flaws for each rule; says so where there are no scenarios at all."""
    if gardens.rulebook.place == NOWHERE:
        yield "the rulebook was not read from a folder"
        return
    folder = scenarios_folder(gardens.rulebook)
    try:
        cases = [case for case in _cases(folder) if rulebook_of(case).digest == gardens.rulebook.digest]
    except BadInput as error:
        yield f"a scenario cannot be read: {error.problems[0].one_line()}"
        return
    if not cases:
        yield f"there are no scenarios yet; {folder} is the place for them"
        return
    shown = [(case, gardens.ways_of(case)) for case in cases]
    home = Path(gardens.rulebook.place.file).parent
    for rule in gardens.rulebook.rules:
        if Path(rule.place.file).parent == home:
            yield from _missing(gardens, rule, shown)


def scenarios_folder(rulebook: Rulebook) -> Path:
    """Where a rulebook's scenarios lie: for a shipped one with the others, else in or beside its own folder."""
    name = rulebook.name.rpartition("/")[2]
    home = Path(rulebook.place.file).parent
    if rulebook.name in shipped_rulebooks() and home.samefile(shipped_folder("rulebooks") / rulebook.name):
        return shipped_folder("scenarios") / name
    beside = home.parent / "scenarios" / name
    return beside if beside.is_dir() else home / "scenarios"


def _cases(folder: Path) -> Iterator[Case]:
    if folder.is_dir() and any(folder.rglob("*.yaml")):
        yield from map(read_case, find_scenarios([folder]))


def _missing(gardens: Gardens, rule: Rule, shown: Sequence[tuple[Case, Ways]]) -> Iterator[Flaw]:
    fires = gardens.fires(rule.name)
    silent = gardens.but_not(gardens.possible, fires)
    if fires is gardens.nowhere:
        return  # a flaw of its own
    if not any(gardens.at(fires, ways) for case, ways in shown if _names(case, rule, "fired")):
        message = f"No scenario shows the rule '{rule.name}' firing."
        hint = f"Write one, such as the example, with expect: {{fired: [{rule.name}]}}."
        example = gardens.simplest(fires)
        assert example is not None
        case = gardens.case(f"The rule {rule.name} fires here", example)
        yield Flaw("no-firing-scenario", rule.name, rule.place, message, hint, (case,))
    if silent is not gardens.nowhere and not any(
        one_answer_away(gardens, fires, ways) for case, ways in shown if _names(case, rule, "not_fired", "open")
    ):
        yield _no_neighbour(gardens, rule, fires)


def _no_neighbour(gardens: Gardens, rule: Rule, fires: Diagram) -> Flaw:
    message = f"No scenario shows the rule '{rule.name}' just not firing, one answer away from it."
    hint = f"Write one, such as the example, with expect: {{not_fired: [{rule.name}]}}."
    case = gardens.case(f"The rule {rule.name} does not fire here, but for one answer", _neighbour(gardens, fires))
    return Flaw("no-neighbour-scenario", rule.name, rule.place, message, hint, (case,))


def _names(case: Case, rule: Rule, *lists: str) -> bool:
    return case.expected is not None and any(rule.name in (getattr(case.expected, key) or ()) for key in lists)


def one_answer_away(gardens: Gardens, fires: Diagram, ways: Ways) -> bool:
    """Whether a rule does not fire in a garden, but would with one other answer or with other frost dates."""
    if gardens.at(fires, ways):
        return False
    frosts = [frozenset(measure.name for measure in some.measures) for some in gardens.frosts]
    free = [*frosts, *(frozenset((name,)) for name in gardens.rulebook.signs)]
    return any(_can_fire(gardens, fires, {n: o for n, o in ways.items() if n not in names}) for names in free)


def _can_fire(gardens: Gardens, fires: Diagram, fixed: Ways) -> bool:
    """Whether some garden with these options makes the rule fire."""
    if isinstance(fires, Leaf):
        return bool(fires.value)
    option = fixed.get(gardens.rest.questions[fires.question])
    children = fires.children if option is None else (fires.children[option],)
    return any(_can_fire(gardens, child, fixed) for child in children)


def _neighbour(gardens: Gardens, fires: Diagram) -> dict[str, int]:
    """A silent garden one exact answer away from one where the rule fires; any silent one where there is none."""
    silent = gardens.but_not(gardens.possible, fires)
    firing = gardens.simplest(fires)
    assert firing is not None
    for exact in (True, False):
        for name in firing:
            others = gardens.alike({other: option for other, option in firing.items() if other != name})
            wanted = gardens.exact((name,)) if exact else silent
            beside = gardens.simplest(gardens.both(silent, wanted, others))
            if beside is not None:
                return beside
    garden = gardens.simplest(silent)
    assert garden is not None
    return garden


CHECK = Check("Every rule has a scenario where it fires, and one where it just does not.", find)
