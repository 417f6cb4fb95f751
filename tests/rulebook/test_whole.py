"""A small rulebook with every part of the grammar, and the model objects that must come of it."""

import hashlib
import shutil
from pathlib import Path

import pytest

from assistant.model.conditions import (
    ALWAYS,
    All,
    AnyOf,
    CantTell,
    Compare,
    CompareTo,
    Concluded,
    Condition,
    Could,
    Not,
    OneOf,
    Op,
)
from assistant.model.place import BadInput
from assistant.model.quantities import Kind
from assistant.model.readings import Span
from assistant.model.rules import AfterNights, How, InDays, OnGardenDate, Rulebook, Several, WhenReached
from assistant.model.signs import DaysSince, DaysUntil, Lookup
from assistant.rulebook import check_rulebook, read_rulebook

WHOLE = Path(__file__).parent / "whole"


@pytest.fixture(scope="module")
def book() -> Rulebook:
    return read_rulebook(str(WHOLE))


def test_the_heading_is_read(book: Rulebook) -> None:
    assert (book.name, book.title, book.version) == (
        "trial/small",
        "A small rulebook that uses every part of the grammar",
        "1.0",
    )
    assert book.about == "Invented, for tests only."
    assert book.several is Several.FIRST_WINS
    assert list(book.advice) == ["dig", "wait"]
    assert book.advice["dig"].steps == ("Fetch a fork.", "Dig.")


def test_signs_are_on_the_programs_own_scale(book: Rulebook) -> None:
    domains = {name: (sign.kind, sign.low, sign.high) for name, sign in book.signs.items()}
    assert domains == {
        "vines": (Kind.CHOICE, 0, 0),
        "variety": (Kind.CHOICE, 0, 0),
        "planted_on": (Kind.DATE, 0, 300),
        "nights": (Kind.TEMPERATURE, -20, 100),
        "crack": (Kind.LENGTH, 0, 5),
        "frost_in": (Kind.NUMBER, 0, 7),
        "cover": (Kind.CHOICE, 0, 0),
    }
    assert list(book.signs["vines"].choices) == ["green", "yellowing", "withered"]
    assert book.signs["vines"].usual == {"green": 3, "yellowing": 1}
    assert (book.signs["nights"].called, book.signs["vines"].called) == ("low of these nights", "")
    assert list(book.signs["cover"].choices) == ["yes", "no"]
    assert dict(book.signs["variety"].choices) == {"early_one": "Early One", "late-one": "Late One"}


def test_a_margin_of_temperature_is_a_difference_not_a_point_on_the_scale(book: Rulebook) -> None:
    assert book.signs["nights"].margin(50) == 1.8  # 1 °C of difference is 9/5 °F


def test_margins_that_are_not_written_are_the_usual_ones(book: Rulebook) -> None:
    assert book.signs["planted_on"].margin(700_000) == 7
    assert book.signs["crack"].margin(2) == 0.25
    assert book.signs["frost_in"].margin(5) == 0.5  # 10 % is written


def test_measures_and_tables_are_read(book: Rulebook) -> None:
    assert {name: measure.how for name, measure in book.measures.items()} == {
        "days_in_ground": DaysSince("planted_on"),
        "days_needed": Lookup("variety", "varieties", "days"),
        "days_to_frost": DaysUntil("first_frost.p10"),
    }
    assert book.measures["days_needed"].domain == Span(90, 120)  # the hull of its column
    assert book.tables["varieties"].column("days") == {"early_one": Span(90, 100), "late-one": Span(120, 120)}


@pytest.mark.parametrize(
    ("rule", "condition"),
    [
        ("old-enough", CompareTo("days_in_ground", Op.AT_LEAST, "days_needed")),
        (
            "too-young",
            All(
                (
                    CompareTo("days_in_ground", Op.BELOW, "days_needed"),
                    Not(OneOf("vines", frozenset({"withered"}))),
                )
            ),
        ),
        (
            "ripe-dig",
            AnyOf(
                (
                    Concluded("ripe", frozenset({"yes"})),
                    All(
                        (
                            OneOf("vines", frozenset({"yellowing", "withered"})),
                            Compare("crack", Op.ABOVE, 0.39),  # 1 cm
                        )
                    ),
                )
            ),
        ),
        (
            "frost-dig",
            All(
                (
                    Could(All((Compare("nights", Op.AT_LEAST, 32), Compare("nights", Op.AT_MOST, 36)))),
                    CantTell("planted_on"),
                    OneOf("cover", frozenset({"no"})),
                )
            ),
        ),
        ("otherwise-wait", Could(Concluded("ripe", frozenset({"no"})))),
        ("whatever", ALWAYS),
    ],
)
def test_conditions_mean_what_they_say(rule: str, condition: Condition, book: Rulebook) -> None:
    assert book.rule(rule).when == condition


def test_rules_keep_their_order_conclusions_days_and_sources(book: Rulebook) -> None:
    assert [(rule.concludes, rule.value) for rule in book.rules] == [
        ("ripe", "yes"), ("ripe", "no"), ("advice", "dig"), ("advice", "dig"), ("advice", "wait"), ("advice", "wait"),
    ]  # fmt: skip
    dig, wait = book.rule("ripe-dig"), book.rule("otherwise-wait")
    assert dig.act_by == (AfterNights("frost_in"), InDays(7), OnGardenDate("first_frost.p10", -7))
    assert wait.look_again == (WhenReached("days_in_ground", "days_needed"), InDays(14))
    assert dig.sources == ("R01", "common practice")
    assert dig.disputed == ("yellow",)
    assert str(dig.place) == f"{WHOLE / 'rules.yaml'}:15:3"


def test_how_usual_ranges_are_is_read_in_order_and_on_the_sign_s_own_scale(book: Rulebook) -> None:
    assert book.signs["nights"].usual_spans == ((Span(-20, 36), 1.5), (Span(36, 100), 3))
    assert book.signs["planted_on"].usual_spans == ((Span(0, 90), 1), (Span(91, 300), 2))
    assert book.signs["vines"].usual_spans == book.signs["crack"].usual_spans == ()


def test_urgency_and_directions_are_read(book: Rulebook) -> None:
    assert {name: advice.urgency for name, advice in book.advice.items()} == {"dig": 5, "wait": 0}
    colder, yellower = book.directions.values()
    assert (colder.name, colder.sign, colder.order, colder.sources) == ("colder", "nights", ("lower",), ("R01",))
    assert yellower.order == ("green", "yellowing")
    assert str(yellower.place) == f"{WHOLE / 'rulebook.yaml'}:47:3"


def test_cautions_may_look_at_the_advice(book: Rulebook) -> None:
    assert book.cautions["fork"].when == Concluded("advice", frozenset({"dig"}))


def test_sources_and_disagreements_are_read(book: Rulebook) -> None:
    assert (book.sources["R01"].year, book.sources["R01"].grade, book.sources["R01"].how) == ("2009", "A", How.READ)
    assert book.sources["R02"].how is How.FROM_MEMORY
    assert [side.sources for side in book.disagreements["yellow"].sides] == [("R01",), ("common practice",)]


def test_the_digest_is_over_all_files_in_the_order_of_their_names(book: Rulebook) -> None:
    names = ("rulebook.yaml", "rules.yaml", "sources.yaml")
    assert book.digest == hashlib.sha256(b"".join((WHOLE / name).read_bytes() for name in names)).hexdigest()


def test_the_sources_of_the_folder_above_are_shared(tmp_path: Path, book: Rulebook) -> None:
    shutil.copytree(WHOLE, tmp_path / "crop" / "question")
    (tmp_path / "crop" / "question" / "sources.yaml").rename(tmp_path / "crop" / "sources.yaml")
    moved = read_rulebook(str(tmp_path / "crop" / "question"))
    assert moved.sources.keys() == book.sources.keys()
    assert moved.digest == book.digest


def test_a_relative_folder_stays_relative_in_places(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(WHOLE.parent)
    assert read_rulebook("whole").rules[0].place.file == str(Path("whole", "rules.yaml"))
    monkeypatch.chdir(WHOLE)
    assert read_rulebook(".").rules[0].place.file == "rules.yaml"


def test_a_changed_file_changes_the_advice_and_the_digest(tmp_path: Path, book: Rulebook) -> None:
    folder = tmp_path / "mine"
    shutil.copytree(WHOLE, folder)
    rules = folder / "rules.yaml"
    rules.write_text(rules.read_text().replace("then: {advice: wait}", "then: {advice: dig}"))
    assert read_rulebook(str(folder)).rule("whatever").value == "dig"
    assert read_rulebook(str(folder)).digest != book.digest


def test_files_of_two_problems_are_told_in_the_order_of_their_places(tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    shutil.copytree(WHOLE, folder)
    for name, old, new in (
        ("rules.yaml", "sources: [R02]", "sources: [R09]"),
        ("rulebook.yaml", "effort: stoop", "effort: stop"),
    ):
        (folder / name).write_text((folder / name).read_text().replace(old, new))
    places = [(Path(problem.place.file).name, problem.code) for problem in check_rulebook(str(folder))]
    assert places == [("rulebook.yaml", "bad-value"), *[("rules.yaml", "unknown-source")] * 3]


def test_a_rulebook_with_a_problem_is_never_handed_out(tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    shutil.copytree(WHOLE, folder)
    (folder / "rules.yaml").write_text((folder / "rules.yaml").read_text().replace("crack: {above", "crak: {above"))
    with pytest.raises(BadInput, match=r"rules\.yaml:17:71: No sign, measure or finding is called 'crak'"):
        read_rulebook(str(folder))


STAND_INS = ("", "null", "12", "[]", "{}", "[a, b]", "{a: b}", "text", "can't tell", "always", "36 F", "5..0", '""')


@pytest.mark.parametrize("name", ["rulebook.yaml", "rules.yaml", "sources.yaml"])
def test_no_line_left_out_and_no_value_replaced_ends_in_anything_but_problems_with_a_hint(
    name: str, tmp_path: Path
) -> None:
    folder = tmp_path / "mine"
    shutil.copytree(WHOLE, folder)
    lines = (WHOLE / name).read_text().splitlines()
    for number, line in enumerate(lines):
        key = line.partition(": ")[0]
        for changed in (None, *(f"{key}: {value}" for value in STAND_INS)):
            kept = [*lines[:number], *([] if changed is None else [changed]), *lines[number + 1 :]]
            (folder / name).write_text("\n".join(kept))
            problems = check_rulebook(str(folder))
            assert [problem for problem in problems if not problem.hint] == []
            assert all(problem.excerpt or not problem.place.line for problem in problems)
