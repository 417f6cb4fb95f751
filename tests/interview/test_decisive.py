"""What decided and what would change the advice, held against trying everything."""

from itertools import combinations, product
from random import Random

import pytest
from interview.gardens_of_options import small_rulebook, unasked
from random_rulebooks import domains

from assistant.interview.decisive import fewest_departures, single_changes, smallest_deciding
from assistant.interview.remainder import Remainder, ending_of, remainder


def a_garden(seed: int) -> tuple[Remainder, dict[str, int]]:
    rulebook = small_rulebook(seed)
    rest = remainder(rulebook, unasked(rulebook), domains(rulebook))
    random = Random(seed)
    return rest, {name: random.randrange(len(rest.options[name].all)) for name in rest.questions}


def forces(rest: Remainder, actual: dict[str, int], some: tuple[str, ...]) -> bool:
    """Whether these answers alone come to one ending, trying every option of all the others."""
    now = ending_of(rest.after(rest.root, actual))
    others = [name for name in rest.questions if name not in some]
    return all(
        ending_of(rest.after(rest.root, {**actual, **dict(zip(others, options, strict=True))})) == now
        for options in product(*(range(len(rest.options[name].all)) for name in others))
    )


@pytest.mark.parametrize("seed", range(150))
def test_no_smaller_set_of_answers_forces_the_advice(seed: int) -> None:
    rest, actual = a_garden(seed)
    found = smallest_deciding(rest, actual, frozenset(actual))
    assert forces(rest, actual, found)
    for size in range(len(found)):
        assert not any(forces(rest, actual, some) for some in combinations(rest.questions, size))


@pytest.mark.parametrize("seed", range(150))
def test_the_fewest_changes_together_are_the_fewest(seed: int) -> None:
    rest, actual = a_garden(seed)
    now = ending_of(rest.after(rest.root, actual))
    found = fewest_departures(rest, rest.root, actual, now, rest.questions)
    fewest = min(
        (
            sum(option != actual[name] for name, option in zip(rest.questions, options, strict=True))
            for options in product(*(range(len(rest.options[name].all)) for name in rest.questions))
            if ending_of(rest.after(rest.root, dict(zip(rest.questions, options, strict=True)))) != now
        ),
        default=None,
    )
    assert (None if found is None else len(found)) == fewest
    if found is not None:
        assert ending_of(rest.after(rest.root, {**actual, **found})) != now


@pytest.mark.parametrize("seed", range(100))
def test_single_changes_are_all_the_options_that_alone_change_the_advice(seed: int) -> None:
    rest, actual = a_garden(seed)
    now = ending_of(rest.after(rest.root, actual))
    tried = {
        (name, option)
        for name in rest.questions
        for option in range(len(rest.options[name].all))
        if ending_of(rest.after(rest.root, {**actual, name: option})) != now
    }
    assert {(name, option) for name, option, _ in single_changes(rest, actual)} == tried


@pytest.mark.parametrize("seed", range(100))
def test_only_answers_that_were_given_can_decide(seed: int) -> None:
    rest, actual = a_garden(seed)
    answered = rest.questions[1:]
    actual["number"] = rest.option_for("number", domains(small_rulebook(seed))["number"])
    found = smallest_deciding(rest, actual, frozenset(answered))
    deciding = [
        some for size in range(len(answered) + 1) for some in combinations(answered, size) if forces(rest, actual, some)
    ]
    assert len(found) == (len(deciding[0]) if deciding else 0)
    assert not deciding or forces(rest, actual, found)
