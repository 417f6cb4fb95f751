"""`digday advise --sheet`: the page for dig day, by the soil, the vines, the frost and the bed at hand."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from assistant.cases import read_case, rulebook_of
from assistant.explain.dig_sheet import TO_DIG
from assistant.rulebook import shipped_folder
from assistant.season import advise

from .conftest import Digday

SCENARIOS = shipped_folder("scenarios") / "when-to-dig"
CASES = sorted(SCENARIOS.glob("*.yaml"))


def scenario(name: str) -> Path:
    return next(path for path in CASES if path.stem.endswith(name))


def sections(digday: Digday, case: object, *more: str) -> dict[str, Any]:
    run = digday("advise", case, "--sheet", "--json", *more)
    assert (run.code, run.err) == (0, "")
    return {part["heading"]: part for part in json.loads(run.out)["sections"]}


@pytest.mark.parametrize("case", CASES[::7], ids=lambda path: path.stem)
def test_there_is_a_page_exactly_when_the_advice_is_to_dig(digday: Digday, case: Path) -> None:
    read = read_case(case)
    verdict = advise(rulebook_of(read), read)
    run = digday("advise", case, "--sheet")
    if verdict.advice in TO_DIG:
        assert run.code == 0
        assert run.out.startswith("Dig day: ")
    else:
        assert run.code == 1
        assert run.out == ""
        assert "There is no dig day to plan yet" in run.err


def test_the_page_has_the_work_in_its_order(digday: Digday) -> None:
    headings = list(sections(digday, scenario("test-dig-right")))
    assert headings[:7] == [
        "Before", "Tools", "Digging", "Sorting, and the weights", "Seed roots", "Vines and culls", "How much to expect"
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("case", "vines"),
    [
        ("black-vines", "Cut the vines off now, before anything else"),
        ("rot-in-the-sample", "Cut the vines off now, before anything else"),
        ("wet-soil-frost-tonight", "Leave the vines on until you dig"),
        ("test-dig-right", "Cut the vines off a few days before you dig while the weather is dry"),
    ],
)
def test_the_vines_go_when_frost_rain_and_time_allow(digday: Digday, case: str, vines: str) -> None:
    assert sections(digday, scenario(case))["Before"]["steps"][0].startswith(vines)


@pytest.mark.parametrize(
    ("soil", "tool"), [("workable", "spading fork"), ("wet", "not a spade"), ("standing-water", "no milky sap")]
)
def test_the_tools_are_those_for_the_soil(digday: Digday, tmp_path: Path, soil: str, tool: str) -> None:
    case = tmp_path / "bed.yaml"
    case.write_text(
        f"case: A bed\nrulebook: sweetpotato/when-to-dig\non: 2031-10-04\n"
        f"signs: {{roots: right, soil: {soil}, frost: light, frost_days_ago: 0}}\n"
    )
    tools = " ".join(sections(digday, case)["Tools"]["items"])
    assert tool in tools
    assert "If the soil is" not in tools


def test_where_nobody_knows_the_soil_each_has_its_tools(digday: Digday, tmp_path: Path) -> None:
    case = tmp_path / "bed.yaml"
    case.write_text("case: A bed\nrulebook: sweetpotato/when-to-dig\non: 2031-10-04\nsigns: {frost: light}\n")
    tools = " ".join(sections(digday, case)["Tools"]["items"])
    for soil in ("workable", "dust dry", "wet", "standing water"):
        assert f"If the soil is {soil}: " in tools


@pytest.mark.parametrize("case", ["rot-in-the-sample", "soil-47-use-first", "two-days-under-water", "hard-freeze"])
def test_no_seed_is_saved_from_a_bed_that_was_hurt(digday: Digday, case: str) -> None:
    (told,) = sections(digday, scenario(case))["Seed roots"]["items"]
    assert told.startswith("Save no seed roots from this bed: ")


def test_seed_is_saved_from_a_sound_bed(digday: Digday) -> None:
    assert "true to the kind" in sections(digday, scenario("test-dig-right"))["Seed roots"]["items"][0]


def test_nothing_spoiled_goes_to_animals(digday: Digday) -> None:
    culls = " ".join(sections(digday, scenario("test-dig-right"))["Vines and culls"]["items"])
    assert "Nothing mouldy, rotten, frosted or soured goes to any animal" in culls


def test_the_page_asks_for_the_size_of_the_bed_where_it_is_not_known(digday: Digday) -> None:
    (told,) = sections(digday, scenario("test-dig-right"))["How much to expect"]["says"]
    assert "say --spacing, such as 12 in, and --row-length" in told


def test_what_to_expect_is_by_the_test_dig_or_else_by_handbooks(digday: Digday) -> None:
    bed = ("--spacing", "12 in", "--row-length", "50 ft")
    dug = sections(digday, scenario("test-dig-right"), *bed)["How much to expect"]["says"]
    assert dug[0].startswith("50 plants, by the test dig.")
    usual = sections(digday, scenario("green-vines-mild-nights-right-size"), *bed)["How much to expect"]["says"]
    assert usual[0].startswith("50 plants, by what handbooks expect of a plant, who differ fivefold")
    assert "56 lb (25 to 130)" in usual[0]  # 50 plants of 0.5 to 2.5 lb, in two digits


def test_the_page_as_html_is_escaped_and_needs_nothing_beside_it(digday: Digday, tmp_path: Path) -> None:
    case = tmp_path / "bed.yaml"
    case.write_text("case: A <b>bed\nrulebook: sweetpotato/when-to-dig\non: 2031-10-04\nsigns: {frost: light}\n")
    out = digday("advise", case, "--sheet", "html").out
    assert "A &lt;b&gt;bed" in out
    assert "<b>" not in out
    assert "src=" not in out
    assert "href=" not in out


def test_no_line_of_the_page_is_wider_than_asked(digday: Digday, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "72")
    out = digday("advise", scenario("test-dig-right"), "--sheet").out
    assert max(map(len, out.splitlines())) <= 72
