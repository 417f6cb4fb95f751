"""`digday nextyear`: the plan as text, HTML and JSON, from histories, records and own dates, and what is refused."""

from __future__ import annotations

import io
import json
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from assistant.cases import read_case

from .conftest import Digday

CLEMSON = Path(__file__).parents[1] / "outside" / "data" / "clemson.csv"
OWN = ("--on", "2031-10-20", "--last-frost", "04-20", "05-05", "05-20", "--soil-warm", "05-25")


def told(digday: Digday, *arguments: object) -> dict[str, Any]:
    code, out, err = digday("nextyear", *arguments, "--json")
    assert (code, err) == (0, "")
    found: dict[str, Any] = json.loads(out)
    return found


def unwrapped(text: str) -> str:
    return " ".join(text.split())


@pytest.fixture
def bare_bed(tmp_path: Path) -> Path:
    """A bed dug in October with garlic at hand."""
    path = tmp_path / "bed.yaml"
    path.write_text(
        "case: My bed\nrulebook: sweetpotato/next-year\non: 2031-10-20\n"
        "signs: {bed: bare, garlic_ready: 'yes', weeks_to_planting: 30}\n"
    )
    return path


def test_the_json_has_the_keys_that_its_help_names(digday: Digday) -> None:
    plan = told(digday, *OWN, "--ground-freezes", "12-01", "--pounds", "100 lb", "--grew", "2031 sweet potatoes")
    assert list(plan) == [
        "verdict", "signs", "year", "beds", "bed", "ground_freezes", "takers", "planting", "slips",
    ]  # fmt: skip
    assert list(plan["beds"][0]) == ["bed", "ready", "rested", "not_before", "because"]
    assert set(plan["planting"]["later_freeze"]) == {"1", "2", "5", "10", "20", "30"}
    help_page = digday("nextyear", "--help")[1]
    keys = [*plan, *plan["beds"][0], *plan["planting"], *plan["slips"], *plan["ground_freezes"]]
    assert [key for key in keys if key not in help_page] == []


def test_black_rot_holds_a_bed_for_four_full_seasons(digday: Digday) -> None:
    plan = told(digday, *OWN, "--grew", "2031 sweet potatoes black-rot", "--grew", "2030 garlic")
    assert plan["beds"] == [
        {
            "bed": "the bed", "ready": False, "rested": 0, "not_before": 2036,
            "because": {"year": 2031, "crop": "sweet-potatoes", "disease": "black-rot"},
        }
    ]  # fmt: skip
    assert plan["verdict"]["advice"] == "choose-another-bed"
    assert (plan["signs"]["years_since"], plan["signs"]["disease"]) == ("0", "black-rot")


def test_the_bed_that_rested_longest_is_meant_unless_another_is_named(digday: Digday, tmp_path: Path) -> None:
    history = tmp_path / "beds.csv"
    rows = ("north,2031,sweet potatoes,", "south,2028,Sweetpotatoes,", "east,2026,sweet-potatoes,")
    history.write_text("\n".join(["bed,year,crop,disease", *rows]) + "\n")
    plan = told(digday, *OWN, "--history", history)
    assert {bed["bed"]: bed["ready"] for bed in plan["beds"]} == {"north": False, "south": True, "east": True}
    assert (plan["bed"], plan["signs"]["years_since"]) == ("east", "5")
    assert told(digday, *OWN, "--history", history, "--bed", "south")["signs"]["years_since"] == "3"


def test_a_history_may_have_its_columns_in_any_order_between_semicolons(digday: Digday, tmp_path: Path) -> None:
    (tmp_path / "beds.csv").write_text("crop;year\nsweet potatoes;2031\n", encoding="utf-8-sig")
    assert told(digday, *OWN, "--history", "beds.csv")["beds"][0]["not_before"] == 2035


def test_a_record_tells_the_dates_and_that_clemsons_ground_does_not_freeze(digday: Digday) -> None:
    plan = told(digday, "--on", "2031-10-20", "--weather", CLEMSON)
    planting, freezes = plan["planting"], plan["ground_freezes"]
    assert planting["last_freeze"] == "2032-04-04"  # the mean of 91 springs is day 93.5
    assert planting["plant_out"] == planting["soil_warm"] > planting["frost_is_past"]
    assert (freezes["on"], freezes["weeks"]) == (None, 30)
    assert 0 < freezes["frozen"] < freezes["winters"] / 2
    # Days from 30 April to the first freeze, which comes by day 290 in one year of ten and by 306 usually; within two.
    assert planting["season_days"] == pytest.approx({"p10": 290 - 118, "p50": 306 - 118}, abs=2)


def test_a_record_too_short_for_dates_says_so(digday: Digday) -> None:
    page = unwrapped(digday("nextyear", "--on", "2031-10-20", "--weather", CLEMSON.with_name("lincoln.csv"))[1])
    assert "The last freeze is not known; the record has fewer than 5 such seasons; give --last-frost." in page
    assert "give --weather or --last-frost" in unwrapped(digday("nextyear", "--on", "2031-10-20")[1])


def test_own_dates_stand_above_the_record(digday: Digday) -> None:
    plan = told(digday, *OWN, "--weather", CLEMSON, "--ground-freezes", "12-01")
    assert (plan["planting"]["last_freeze"], plan["planting"]["plant_out"]) == ("2032-05-05", "2032-05-25")
    assert plan["ground_freezes"] == {"on": "2031-12-01", "weeks": 6, "winters": None, "frozen": None}


def test_what_the_grower_said_stands_above_what_is_reckoned(digday: Digday, bare_bed: Path) -> None:
    plan = told(digday, bare_bed, *OWN[2:], "--ground-freezes", "12-01")
    assert plan["verdict"]["advice"] == "plant-garlic"
    assert (plan["signs"]["weeks_to_planting"], plan["signs"]["weeks_to_freeze"]) == ("30", "6")


def test_a_southern_garden_plans_for_the_dig_of_the_next_year(digday: Digday) -> None:
    dates = ("--last-frost", "08-20", "09-05", "09-20", "--soil-warm", "11-05")
    plan = told(digday, "--on", "2032-04-30", *dates, "--grew", "2032 sweet potatoes scurf")
    assert (plan["year"], plan["planting"]["plant_out"]) == (2033, "2032-11-05")
    assert (plan["beds"][0]["rested"], plan["signs"]["disease"]) == (0, "scurf")


def test_the_same_pounds_in_kilograms_plan_the_same_row(digday: Digday) -> None:
    pounds = told(digday, *OWN, "--pounds", "220.462 lb", "--spacing", "10 in", "--yield", "1..2")
    kilograms = told(
        digday, *OWN, "--units", "metric", "--pounds", "100", "--spacing", "25.4", "--yield", "1.488164..2.976328"
    )
    for name in ("row_feet", "slips", "boxes"):
        assert kilograms["slips"][name] == pytest.approx(pounds["slips"][name], rel=0.002)


def test_the_page_in_metric_units_has_no_pounds_of_its_own(digday: Digday) -> None:
    page = unwrapped(digday("nextyear", *OWN, "--units", "metric", "--pounds", "50", "--fertilizer", "5")[1])
    assert "For 50 kg to be eaten, 3 months in store on the average, plants 30 cm apart." in page
    assert " row 18 m " in page or " m " in page.partition("what low likely high")[2]
    assert "of a fertilizer with 5 % nitrogen" in page


def test_the_page_names_the_sources_of_its_figures_and_how_they_are_known(digday: Digday) -> None:
    page = unwrapped(digday("nextyear", *OWN, "--pounds", "100", "--ground-freezes", "12-01")[1])
    listed = page.partition("Sources")[2]
    assert "R93: Browning, sweet potatoes in the garden, Nebraska Extension, 2020 (read)" in listed
    assert "M-COVERS" in listed
    assert "(from memory)" in listed
    assert "R93" not in unwrapped(digday("nextyear", *OWN)[1])


def test_the_page_leads_with_what_comes_first_and_lists_the_rest(digday: Digday, bare_bed: Path) -> None:
    page = unwrapped(digday("nextyear", bare_bed, *OWN[2:], "--ground-freezes", "12-01")[1])
    assert "First: Plant garlic in the empty bed; act by Monday 27 October" in page
    assert "Then: Choose another bed for next year's sweet potatoes." in page
    assert "garlic now 6 October to 17 November" in page
    assert "When is garlic planted? Taken here:" in page


class Reader(HTMLParser):
    """Counts open and closed tags, and what would be fetched."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.fetched: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in ("meta", "br"):
            self.open.append(tag)
        self.fetched += [value or "" for name, value in attrs if name in ("src", "href")]

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_the_printout_is_one_sound_page_that_fetches_nothing(digday: Digday, bare_bed: Path) -> None:
    code, out, _ = digday("nextyear", bare_bed, *OWN[2:], "--html", "plan.html", "--grew", "2031 <b>potatoes</b>")
    assert (code, out) == (0, "The page is in plan.html.\n")
    page, reader = Path("plan.html").read_text(encoding="utf-8"), Reader()
    reader.feed(page)
    assert (reader.open, reader.fetched) == ([], [])
    assert "<b>" not in page
    assert "Plant garlic" in page or "Mulch the bed" in page


def test_a_saved_case_holds_what_was_reckoned_and_the_interview_goes_on_from_it(
    digday: Digday, bare_bed: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    digday("nextyear", bare_bed, *OWN[2:], "--ground-freezes", "12-01", "--save", "planned.yaml")
    saved = read_case(Path("planned.yaml"))
    assert {name: known.written for name, known in saved.answers.items()} == {
        "weeks_to_planting": "30", "weeks_to_freeze": "6", "bed": "bare", "garlic_ready": "yes",
    }  # fmt: skip
    monkeypatch.setattr("sys.stdin", io.StringIO("none\n"))
    code, out, _ = digday("visit", "--plain", "--case", "planned.yaml")
    assert code == 0
    assert "Where do next year's slips come from?" in unwrapped(out)
    assert "Plant garlic in the empty bed" in unwrapped(out)


def test_the_whole_interview_works_from_nothing(digday: Digday, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("can't tell\n" * 40))
    code, out, err = digday("visit", "--plain", "--rulebook", "sweetpotato/next-year", "--on", "2031-12-01")
    assert (code, err) == (0, "")
    assert "Choose another bed" in unwrapped(out)


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("--grew", "2031 sweet potatoes blackrot"), "'blackrot' is no disease here; did you mean black-rot"),
        (("--grew", "31 garlic"), "'31' is no year"),
        (("--bed", "east"), "the history has no bed 'east'; it has none."),
        (("--pounds", "plenty"), "'plenty' is no weight"),
        (("--months", "13"), "--months 13 is no number from 0 to 12."),
        (("--fertilizer", "0"), "--fertilizer 0 is no number from 0.1 to 100."),
        (("--yield", "2..1"), "--yield 2..1 runs backwards"),
        (("--soil-warm", "02-30"), "--soil-warm: '02-30' is no day of the year"),
        (("--ground-freezes", "soon"), "--ground-freezes: 'soon' is no day of the year"),
        (("--last-frost", "05-20", "05-05", "04-20"), "must follow one another"),
        (("--on", "2031-02-30"), "there is no day 2031-02-30"),
        (("--on", "8999-12-31"), "8999-12-31 is out of this plan's calendar"),
        (("--on", "2031-10-20", "--grew", "2040 garlic"), "the next dig is that of 2032; check the years"),
        (("--yield", "1.."), "'' is no weight"),
    ],
)
def test_what_cannot_be_used_is_refused_in_a_plain_sentence(
    digday: Digday, arguments: tuple[str, ...], sentence: str
) -> None:
    code, out, err = digday("nextyear", *arguments)
    assert (code, out) == (2, "")
    assert sentence in err
    assert "Traceback" not in err


@pytest.mark.parametrize(
    ("text", "place", "sentence"),
    [
        ("year,crop,disease\n2031,sweet potatoes,scruf\n", "beds.csv:2:1", "did you mean scurf"),
        ("year,crops\n2031,garlic\n", "beds.csv:1:1", "'crops' is no column"),
        ("crop\ngarlic\n", "beds.csv:1:1", "it needs year and crop"),
        ("year,crop\n2031,\n", "beds.csv:2:1", "2031 has no crop"),
        (
            'year,crop,disease\n2031,"sweet potatoes,wilt\n2030,garlic,\n',
            "beds.csv:2:1",
            "quotes of this line do not match",
        ),
        ("", "beds.csv", "The file holds nothing."),
    ],
)
def test_a_bad_history_is_refused_with_its_place(
    digday: Digday, tmp_path: Path, text: str, place: str, sentence: str
) -> None:
    (tmp_path / "beds.csv").write_text(text)
    code, out, err = digday("nextyear", "--history", "beds.csv")
    assert (code, out) == (2, "")
    assert place in err
    assert sentence in unwrapped(err)


def test_a_case_of_another_rulebook_is_refused(digday: Digday, case_file: Path) -> None:
    code, _, err = digday("nextyear", case_file)
    assert code == 2
    assert "nextyear takes one of sweetpotato/next-year" in err
