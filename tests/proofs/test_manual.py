"""Every page of the manual: its bad rulebook has just its flaw, shown by its examples, and its good one has none."""

import re
from pathlib import Path

import pytest

from assistant.cases import read_case, save_case
from assistant.model.case import Case
from assistant.model.derivation import Outcome, Verdict
from assistant.model.rules import ADVICE, Rulebook
from assistant.proofs import Flaw, codes, page, prove, proving
from assistant.proofs.manual import manual_folder
from assistant.rulebook import read_rulebook
from assistant.season import advise

WITH_RULEBOOKS = [code for code in codes() if code != "engine-differs"]


def rulebook_of(code: str, which: str) -> Rulebook:
    return read_rulebook(str(manual_folder() / code / which))


def only_flaw(code: str) -> Flaw:
    (flaw,) = prove(rulebook_of(code, "bad")).flaws
    return flaw


def verdicts(code: str, tmp_path: Path) -> list[Verdict]:
    """What `digday advise` makes of the examples, written as files and read again."""
    rulebook = rulebook_of(code, "bad")
    return [advise(rulebook, reread(case, code, tmp_path)) for case in only_flaw(code).examples]


def reread(case: Case, code: str, folder: Path) -> Case:
    path = folder / "example.yaml"
    save_case(case, path)
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace(case.rulebook, str(manual_folder() / code / "bad")), encoding="utf-8")
    return read_case(path)


@pytest.mark.parametrize("code", WITH_RULEBOOKS)
def test_the_bad_rulebook_has_just_the_flaw_of_its_page(code: str) -> None:
    flaw = only_flaw(code)
    assert flaw.code == code
    assert flaw.place.file.startswith(str(manual_folder() / code / "bad"))
    assert flaw.place.line
    assert flaw.hint


@pytest.mark.parametrize("code", WITH_RULEBOOKS)
def test_the_mended_rulebook_has_no_flaw(code: str) -> None:
    report = prove(rulebook_of(code, "good"))
    assert report.flaws == ()
    assert report.proved


@pytest.mark.parametrize("code", WITH_RULEBOOKS)
def test_the_lines_on_the_page_stand_in_its_rulebooks(code: str) -> None:
    shown = re.findall(r"```yaml\n(.*?)```", page(code), re.DOTALL)
    assert len(shown) == 2
    for lines, which in zip(shown, ("bad", "good"), strict=True):
        files = (manual_folder() / code / which).rglob("*.yaml")
        assert any(lines in path.read_text(encoding="utf-8") for path in files), which


def test_every_code_that_a_check_can_give_has_a_page() -> None:
    checks = Path(proving.__file__).parent.glob("*.py")
    texts = [path.read_text(encoding="utf-8") for path in checks if path.name not in ("manual.py", "answers.py")]
    given = {code for text in texts for code in re.findall(r'"([a-z]+(?:-[a-z]+)+)"', text)}
    assert given == set(codes())


def test_gardens_without_advice_are_shown_without_advice(tmp_path: Path) -> None:
    for code in ("no-advice", "no-advice-unsure"):
        found = verdicts(code, tmp_path)
        assert found
        assert all(verdict.advice is None and not verdict.derivation.conflicts for verdict in found)
    assert [verdict.outcome for verdict in verdicts("no-advice", tmp_path)] == [Outcome.NO_ADVICE]


def test_a_clash_is_shown_as_a_conflict(tmp_path: Path) -> None:
    for code, about, values in (("advice-clash", ADVICE, ("lift", "wait")), ("finding-clash", "ripe", ("yes", "no"))):
        (verdict,) = verdicts(code, tmp_path)
        assert [(item.about, item.values) for item in verdict.derivation.conflicts if item.about == about] == [
            (about, values)
        ]


def test_a_hidden_rule_fires_in_its_example_without_effect(tmp_path: Path) -> None:
    (verdict,) = verdicts("always-hidden", tmp_path)
    assert "rain-ahead" in verdict.derivation.fired
    assert verdict.advice == "lift"


def test_a_broken_direction_is_shown_by_a_pair_that_differs_in_its_sign_alone(tmp_path: Path) -> None:
    mild, pressing = only_flaw("direction-broken").examples
    assert {**mild.answers, "rain_in": None} == {**pressing.answers, "rain_in": None}
    assert mild.answers["rain_in"].reading.low > pressing.answers["rain_in"].reading.low  # type: ignore[union-attr]
    assert [verdict.advice for verdict in verdicts("direction-broken", tmp_path)] == ["lift", "leave"]


def test_the_scenario_examples_fire_and_just_do_not_fire_the_rule(tmp_path: Path) -> None:
    (firing,), (silent,) = (verdicts(code, tmp_path) for code in ("no-firing-scenario", "no-neighbour-scenario"))
    assert "tops-down" in firing.derivation.fired
    assert "tops-down" not in silent.derivation.fired
    assert silent.derivation.knowledge.readings != firing.derivation.knowledge.readings
