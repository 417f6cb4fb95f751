"""Where a rulebook is too large to hold, the interview asks no less than matters, and is exact once it can be."""

from random import Random

import pytest
from interview.gardens_of_options import every_garden, small_rulebook, unasked
from random_rulebooks import Maker, domains, with_measures

from assistant.interview import diagrams, remainder
from assistant.interview.course import Course
from assistant.model.readings import Known, Origin, one_of
from assistant.model.rules import Rulebook


def half_known(rulebook: Rulebook, maker: Maker) -> dict[str, Known]:
    readings = maker.readings(rulebook)
    whole = domains(rulebook)
    open_signs = {name for name in rulebook.signs if maker.random.random() < 0.5}
    signs = {name: whole[name] if name in open_signs else readings[name] for name in rulebook.signs}
    return {
        name: Known(reading, Origin.NOT_ASKED if name in open_signs else Origin.ANSWERED)
        for name, reading in with_measures(rulebook, signs).items()
    }


@pytest.fixture
def nothing_whole_is_held(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whole rulebooks are too large, what is left of them is not."""

    class Refusing(remainder._Builder):
        def build(self) -> remainder.Remainder:
            if self.diagrams.most_nodes == diagrams.MOST_NODES:
                raise diagrams.TooLarge("too large for this test")
            return super().build()

    remainder._kept.cache_clear()
    monkeypatch.setattr(remainder, "_Builder", Refusing)


@pytest.mark.parametrize("seed", range(60))
def test_what_is_left_is_the_same_by_way_of_the_whole_or_of_the_answers(
    seed: int, request: pytest.FixtureRequest
) -> None:
    maker = Maker(Random(seed))
    rulebook = maker.rulebook()
    known = half_known(rulebook, maker)
    by_the_whole = Course(rulebook, known, domains(rulebook)).left
    request.getfixturevalue("nothing_whole_is_held")
    assert Course(rulebook, known, domains(rulebook)).left == by_the_whole


@pytest.mark.parametrize("seed", range(30))
def test_too_large_a_rulebook_is_asked_too_much_and_never_too_little(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    rulebook = small_rulebook(seed)
    exact = Course(rulebook, unasked(rulebook), domains(rulebook)).left
    remainder._kept.cache_clear()
    monkeypatch.setattr(remainder, "MOST_NODES", 0)
    monkeypatch.setattr(remainder, "MOST_NODES_AT_A_QUESTION", 0)
    course = Course(rulebook, unasked(rulebook), domains(rulebook))
    assert course.rest is None or len({ending for _, ending in every_garden(rulebook)}) == 1
    assert set(exact) <= set(course.left)
    remainder._kept.cache_clear()


def test_when_many_visits_have_filled_what_is_kept_it_is_made_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    rulebook = next(small_rulebook(seed) for seed in range(99) if questions_of(small_rulebook(seed)) == 3)
    known = unasked(rulebook)
    whole = remainder.whole_remainder(rulebook, known, domains(rulebook))
    monkeypatch.setattr(whole.diagrams, "most_nodes", len(whole.diagrams.nodes))
    for name in rulebook.signs:
        for option in whole.options[name].all:
            answered = {**known, name: Known(option.reading, Origin.ANSWERED)}
            assert name not in remainder.remainder(rulebook, answered, domains(rulebook)).open
    assert remainder.whole_remainder(rulebook, known, domains(rulebook)) is not whole


def questions_of(rulebook: Rulebook) -> int:
    return len(Course(rulebook, unasked(rulebook), domains(rulebook)).left)


def test_what_does_not_fit_even_when_made_anew_is_too_large(monkeypatch: pytest.MonkeyPatch) -> None:
    rulebook = next(small_rulebook(seed) for seed in range(99) if questions_of(small_rulebook(seed)) == 3)
    known = {**unasked(rulebook), "leaf": Known(one_of("green"), Origin.ANSWERED)}
    monkeypatch.setattr(diagrams.Diagrams, "restrict", _too_large)
    with pytest.raises(diagrams.TooLarge):
        remainder.remainder(rulebook, known, domains(rulebook))
    assert Course(rulebook, known, domains(rulebook)).left


def _too_large(*_: object) -> None:
    raise diagrams.TooLarge("too large for this test")
