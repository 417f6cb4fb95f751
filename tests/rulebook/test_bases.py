"""A rulebook that builds on another is that one, but for what it changes, silences and adds."""

import hashlib
import os
from pathlib import Path

import pytest

from assistant.model.conditions import Compare, Op
from assistant.model.place import BadInput
from assistant.model.readings import Span
from assistant.model.rules import Rulebook
from assistant.rulebook import check_rulebook, read_rulebook, shipped_folder

BASE = shipped_folder("rulebooks") / "sweetpotato" / "when-to-dig"
HEADING = """\
rulebook: trial/{name}
title: A variant
version: "1.0"
format: 1
about: Invented, for tests only.
builds_on: {base}
"""
SOURCES = "sources: {OWN: {title: The neighbour, year: 2031, how: read}}\n"
CHANGES = """\
changes:
  rules:
    late-season: {when: {days_to_first_frost: {at_most: 21}}, because: Autumn comes fast., sources: [R26]}
  signs:
    soil_temperature: {look: Ask the station., range: 30..90 F, because: It has one., sources: common practice}
  tables:
    varieties:
      beauregard: {days: 95..115, because: Cool summers., sources: [R26, OWN]}
      radiance: {named: Radiance, days: 90..100, because: Bred here., sources: [R28]}
silences:
  rain-coming: {because: It rains all autumn., sources: [OWN]}
rules:
  never-too-big:
    says: Roots here are never too big.
    when: {size: too-big, season: late}
    then: {advice: dig-now}
    sources: [OWN]
"""


def write(folder: Path, text: str, sources: str = "") -> str:
    folder.mkdir(parents=True)
    (folder / "rulebook.yaml").write_text(text)
    if sources:
        (folder / "sources.yaml").write_text(sources)
    return str(folder)


@pytest.fixture
def below() -> Rulebook:
    return read_rulebook("sweetpotato/when-to-dig")


@pytest.fixture
def variant(tmp_path: Path) -> Rulebook:
    heading = HEADING.format(name="mine", base="sweetpotato/when-to-dig")
    return read_rulebook(write(tmp_path / "mine", heading + CHANGES, SOURCES))


def test_a_variant_has_its_own_heading_and_names_what_it_builds_on(variant: Rulebook) -> None:
    assert (variant.name, variant.title, variant.builds_on) == ("trial/mine", "A variant", "sweetpotato/when-to-dig")


def test_a_changed_rule_keeps_all_but_what_is_changed(variant: Rulebook, below: Rulebook) -> None:
    rule, old = variant.rule("late-season"), below.rule("late-season")
    assert rule.when == Compare("days_to_first_frost", Op.AT_MOST, 21)
    assert (rule.says, rule.concludes, rule.value) == (old.says, old.concludes, old.value)
    assert (rule.because, rule.sources, old.because) == ("Autumn comes fast.", ("R26",), "")
    assert Path(rule.place.file).name == "rulebook.yaml"
    assert rule.place.line == 9


def test_the_order_of_the_rules_is_that_of_the_rulebook_below_with_the_new_ones_last(
    variant: Rulebook, below: Rulebook
) -> None:
    kept = [rule.name for rule in below.rules if rule.name != "rain-coming"]
    assert [rule.name for rule in variant.rules] == [*kept, "never-too-big"]


def test_what_is_not_changed_stays_in_its_own_file(variant: Rulebook, below: Rulebook) -> None:
    assert variant.rule("frost-ahead").place == below.rule("frost-ahead").place
    assert variant.advice == below.advice
    assert variant.cautions.keys() == below.cautions.keys()


def test_a_silenced_rule_is_gone_but_remembered(variant: Rulebook) -> None:
    silenced = variant.silenced["rain-coming"]
    assert (silenced.because, silenced.sources, silenced.place.line) == ("It rains all autumn.", ("OWN",), 17)
    with pytest.raises(KeyError):
        variant.rule("rain-coming")


def test_a_sign_is_changed_in_the_keys_given(variant: Rulebook, below: Rulebook) -> None:
    sign, old = variant.signs["soil_temperature"], below.signs["soil_temperature"]
    assert (sign.look, sign.low, sign.high) == ("Ask the station.", 30, 90)
    assert (sign.ask, sign.effort, sign.about, sign.kind) == (old.ask, old.effort, old.about, old.kind)
    assert (sign.because, old.because) == ("It has one.", "")


def test_rows_of_a_table_are_changed_and_added(variant: Rulebook, below: Rulebook) -> None:
    rows = variant.tables["varieties"].rows
    assert rows["beauregard"].values == {"days": Span(95, 115)}
    assert rows["beauregard"].named == "Beauregard"
    assert [row.because for row in rows.values() if row.because] == ["Cool summers.", "Bred here."]
    assert [*rows] == [*below.tables["varieties"].rows, "radiance"]
    assert [*variant.signs["variety"].choices] == [*rows]


def test_the_digest_is_over_the_files_below_and_then_its_own(variant: Rulebook, below: Rulebook) -> None:
    own = (HEADING.format(name="mine", base="sweetpotato/when-to-dig") + CHANGES + SOURCES).encode()
    assert variant.digest == hashlib.sha256(b"".join(below.raw) + own).hexdigest()


def test_sources_that_all_share_are_read_once(tmp_path: Path, below: Rulebook) -> None:
    (tmp_path / "below").symlink_to(BASE, target_is_directory=True)
    (tmp_path / "sources.yaml").symlink_to(BASE.parent / "sources.yaml")
    write(tmp_path / "first", HEADING.format(name="first", base="../below"))
    variant = read_rulebook(write(tmp_path / "second", HEADING.format(name="second", base="../first")))
    assert variant.sources.keys() == below.sources.keys()
    assert len(variant.raw) == len(below.raw) + 2


def test_a_link_to_nowhere_below_is_a_problem_as_any_other(tmp_path: Path) -> None:
    write(tmp_path / "first", HEADING.format(name="first", base="sweetpotato/when-to-dig"))
    (tmp_path / "first" / "more.yaml").symlink_to(tmp_path / "nowhere")
    problems = check_rulebook(write(tmp_path / "second", HEADING.format(name="second", base="../first")))
    assert [problem.code for problem in problems] == ["no-file"]


def test_a_variant_may_build_on_a_variant_and_the_last_word_counts(tmp_path: Path) -> None:
    write(tmp_path / "first", HEADING.format(name="first", base="sweetpotato/when-to-dig") + CHANGES, SOURCES)
    again = "{late-season: {says: Frost is near., because: Said again., sources: [OWN]}}"
    top = HEADING.format(name="second", base="../first") + f"changes:\n  rules: {again}\n"
    book = read_rulebook(write(tmp_path / "second", top))
    rule = book.rule("late-season")
    assert (rule.says, rule.because, book.builds_on) == ("Frost is near.", "Said again.", "trial/first")
    assert rule.when == Compare("days_to_first_frost", Op.AT_MOST, 21)
    assert [*book.silenced] == ["rain-coming"]


def test_a_rule_silenced_below_cannot_be_changed_above(tmp_path: Path) -> None:
    write(tmp_path / "first", HEADING.format(name="first", base="sweetpotato/when-to-dig") + CHANGES, SOURCES)
    again = "changes:\n  rules: {rain-coming: {says: Rain., because: It rains., sources: [OWN]}}\n"
    problems = check_rulebook(write(tmp_path / "second", HEADING.format(name="second", base="../first") + again))
    assert [(problem.code, problem.place.line) for problem in problems] == [("duplicate-name", 8)]
    assert "silenced already" in problems[0].message


def test_a_path_is_taken_from_the_folder_of_the_rulebook_that_names_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(tmp_path / "first", HEADING.format(name="first", base="sweetpotato/when-to-dig"))
    write(tmp_path / "second", HEADING.format(name="second", base="../first"))
    for here, name in ((tmp_path, "second"), (tmp_path / "second", "."), (tmp_path / "first", "../second")):
        monkeypatch.chdir(here)
        assert read_rulebook(name).builds_on == "trial/first"


@pytest.mark.parametrize(("height", "codes"), [(8, []), (9, ["too-deep"])])
def test_eight_rulebooks_may_stand_on_each_other(height: int, codes: list[str], tmp_path: Path) -> None:
    write(tmp_path / "1", HEADING.format(name="1", base="sweetpotato/when-to-dig"))
    for number in range(2, height):
        write(tmp_path / str(number), HEADING.format(name=number, base=f"../{number - 1}"))
    assert [problem.code for problem in check_rulebook(str(tmp_path / str(height - 1)))] == codes


def test_only_the_problems_below_are_told_where_there_are_any(tmp_path: Path) -> None:
    write(tmp_path / "first", HEADING.format(name="first", base="sweetpotato/when-to-dig") + "rule: {}\n")
    above = HEADING.format(name="second", base="../first") + "cautions: {}\nsilences: {nothing: {}}\n"
    problems = check_rulebook(write(tmp_path / "second", above))
    assert problems == check_rulebook(str(tmp_path / "first"))
    assert [problem.code for problem in problems] == ["unknown-key"]


def test_a_file_that_cannot_be_read_below_is_the_only_problem(tmp_path: Path) -> None:
    write(tmp_path / "first", "rulebook: [\n")
    above = HEADING.format(name="second", base="../first") + "silences: {nothing: {because: So., sources: [R01]}}\n"
    with pytest.raises(BadInput) as refusal:
        read_rulebook(write(tmp_path / "second", above))
    assert [problem.code for problem in refusal.value.problems] == ["not-yaml"]


def test_a_pipe_or_a_huge_file_below_is_refused_as_any_other(tmp_path: Path) -> None:
    write(tmp_path / "first", "x: y\n")
    os.mkfifo(tmp_path / "first" / "pipe.yaml")
    (tmp_path / "first" / "big.yaml").write_text("#" * 1_000_001)
    problems = check_rulebook(write(tmp_path / "second", HEADING.format(name="second", base="../first")))
    assert {problem.code for problem in problems} >= {"not-a-file", "too-big"}
