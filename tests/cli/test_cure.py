"""`digday cure`: a log by hand and by a logger, what it says of the cure, and the page to hang up."""

from __future__ import annotations

import io
import json
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from assistant.cases import read_case
from assistant.rulebook import shipped_folder

from .conftest import Digday, Run

SCENARIOS = shipped_folder("scenarios") / "curing"
WARM_WEEK = "time,temperature (F),humidity (%)\n" + "".join(
    f"2031-10-{day:02d} {hour},84,88\n" for day in range(4, 11) for hour in ("08:00", "20:00")
)
SKINS = """\
case: The closet by the furnace
rulebook: sweetpotato/curing
on: 2031-10-10
signs: {rot_seen: "no", history: straight, sprouts: none, skin: holds, wounds: dry}
"""


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """A week at 84 °F and 88 percent, read twice a day."""
    path = tmp_path / "room.csv"
    path.write_text(WARM_WEEK, encoding="utf-8")
    return path


def told(run: Run) -> Any:  # noqa: ANN401  (any JSON value)
    assert (run.code, run.err) == (0, "")
    return json.loads(run.out)


def unwrapped(text: str) -> str:
    return " ".join(text.split())


def test_readings_written_down_one_by_one_make_a_log_and_move_the_progress(digday: Digday) -> None:
    quick = []
    for day in range(4, 9):
        run = digday("cure", "--log", "new.csv", "--add", "84 F 88 %", "--at", f"2031-10-{day:02d} 08:00", "--json")
        quick.append(told(run)["progress"]["quick"])
    assert quick == pytest.approx([0, 0.25, 0.5, 0.75, 1])
    assert Path("new.csv").read_text(encoding="utf-8").splitlines()[:2] == [
        "time,temperature (F),humidity (%)",
        "2031-10-04 08:00,84,88",
    ]


def test_a_reading_in_celsius_is_kept_in_fahrenheit(digday: Digday) -> None:
    run = digday("cure", "--log", "new.csv", "--add", "29 88", "--at", "2031-10-04 08:00", "--units", "metric")
    assert run.code == 0
    assert "84.2,88" in Path("new.csv").read_text(encoding="utf-8")


def test_the_json_has_its_keys(digday: Digday, log: Path) -> None:
    asked = ("--roots", "60 F", "--space", "6x8x7 ft", "--outside", "55 F 85 %")
    report = told(digday("cure", "--log", log, *asked, "--json"))
    assert set(report) == {"verdict", "progress", "left", "recipes", "air", "sweats", "water", "log"}
    assert report["progress"] == {
        "slow": pytest.approx(6.5 / 14), "quick": pytest.approx(6.5 / 4), "days": 6.5,
        "cold": 0, "disputed": 0, "hot": 0, "dry": 0, "unknown": 0,
    }  # fmt: skip
    assert report["left"] == {"fewest": 0, "most": pytest.approx(14 - 6.5)}
    assert report["sweats"] is True
    assert report["verdict"]["advice"] == "air-it"
    assert report["log"]["readings"] == 14
    assert {recipe["named"] for recipe in report["recipes"]} >= {"Texas A&M", "Michigan State, cool and covered"}


def test_the_water_for_a_closet_is_that_of_the_room_in_pounds(digday: Digday, log: Path) -> None:
    """336 cubic feet of air from 55 °F and 85 %, heated to 84 °F and brought to 88 %, by the library's own volumes."""
    import psychrolib

    report = told(digday("cure", "--log", log, "--space", "6x8x7 ft", "--outside", "55 F 85 %", "--json"))
    psychrolib.SetUnitSystem(psychrolib.IP)
    cold = psychrolib.GetHumRatioFromRelHum(55, 0.85, 14.695949)
    damp = psychrolib.GetHumRatioFromRelHum(84, 0.88, 14.695949)
    theirs = 336 * (
        damp / psychrolib.GetMoistAirVolume(84, damp, 14.695949)
        - cold / psychrolib.GetMoistAirVolume(84, cold, 14.695949)
    )
    assert report["water"]["once"] == pytest.approx(0, abs=1e-9)
    assert report["water"]["each_change"] == pytest.approx(theirs, rel=0.001)


def test_cold_roots_sweat_and_warm_ones_do_not(digday: Digday, log: Path) -> None:
    assert told(digday("cure", "--log", log, "--roots", "79 F", "--json"))["sweats"] is True
    warm = told(digday("cure", "--log", log, "--roots", "82 F", "--json"))
    assert warm["sweats"] is False
    assert warm["verdict"]["advice"] == "go-on"


def test_what_the_grower_says_stands_above_the_log(digday: Digday, log: Path, tmp_path: Path) -> None:
    case = tmp_path / "closet.yaml"
    case.write_text(SKINS, encoding="utf-8")
    assert told(digday("cure", case, "--log", log, "--json"))["verdict"]["advice"] == "stop-and-move"
    case.write_text(SKINS.replace("skin: holds", "skin: holds, dew: seen, progress: 30"), encoding="utf-8")
    assert told(digday("cure", case, "--log", log, "--json"))["verdict"]["advice"] == "air-it"


def test_the_page_shows_the_range_the_recipes_and_the_log(digday: Digday, log: Path) -> None:
    run = digday("cure", "--log", log)
    text = unwrapped(run.out)
    assert "The cure is 46 to 162 % done, from the slowest to the quickest handbook." in text
    assert "it is done now by the quickest and on 18 October by the slowest." in text
    assert "46 % Texas A&M: 80 to 90 °F, 85 to 90 %, 14 days" in text
    assert "Warmth, °F (· 80 to 90 wanted, ░ outside)" in text
    assert max(map(len, run.out.splitlines())) <= 80


def test_disputed_days_are_told_and_not_averaged(digday: Digday, tmp_path: Path) -> None:
    (tmp_path / "cool.csv").write_text(WARM_WEEK.replace(",84,", ",67,"), encoding="utf-8")
    report = told(digday("cure", "--log", "cool.csv", "--json"))
    assert report["progress"]["slow"] == 0
    assert report["progress"]["quick"] == pytest.approx(6.5 / 14)
    assert report["progress"]["disputed"] == 6.5
    assert report["left"]["most"] is None
    text = unwrapped(digday("cure", "--log", "cool.csv").out)
    assert "6.5 days between 60 and 70 °F (16 and 21 °C)" in text
    assert "never by the slowest" in text


def test_a_case_without_a_log_is_taken_to_have_been_so_all_along(digday: Digday) -> None:
    case = SCENARIOS / "01-all-well-day-three.yaml"
    report = told(digday("cure", case, "--json"))
    assert report["progress"]["quick"] == pytest.approx(3 / 4)
    assert report["progress"]["slow"] == pytest.approx(3 / 14)
    assert report["log"] is None
    assert report["verdict"]["advice"] == "go-on"


@pytest.mark.parametrize(
    ("air", "plan"),
    [
        ("84 F, humidity: 88", "84 °F and 88 % a cure takes 4 days by the quickest handbook, and 14 by the slowest."),
        ("67 F, humidity: 88", "a cure takes 14 days by the quickest handbook, and is never done by the slowest."),
        ("50 F, humidity: 88", "At 50 °F and 88 % no handbook calls anything healed"),
        ("80..85 F, humidity: 85..90", "such air a cure takes 4 days by the quickest handbook, and 14 by the slowest."),
    ],
)
def test_before_it_begins_the_plan_says_how_long_it_takes(digday: Digday, tmp_path: Path, air: str, plan: str) -> None:
    case = tmp_path / "plan.yaml"
    heading = "case: A plan\nrulebook: sweetpotato/curing\non: 2031-10-10\n"
    case.write_text(f"{heading}signs: {{room_temperature: {air}}}\n", encoding="utf-8")
    assert plan in unwrapped(digday("cure", case).out)
    assert plan in unwrapped(digday("cure", case, "--sheet").out)


@pytest.mark.parametrize("case", sorted(SCENARIOS.glob("*.yaml")), ids=lambda path: path.stem)
def test_without_a_log_the_advice_is_that_of_advise(digday: Digday, case: Path) -> None:
    expected = read_case(case).expected
    assert expected is not None
    assert told(digday("cure", case, "--json"))["verdict"]["advice"] == expected.advice


class Tags(HTMLParser):
    """The tags of a page, with those left open."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append(tag)
        if tag not in ("meta", "rect", "polyline"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag not in ("rect", "polyline"):
            assert self.open.pop() == tag


def test_the_page_to_hang_up_is_whole_html_with_the_log_drawn(digday: Digday, log: Path, tmp_path: Path) -> None:
    case = tmp_path / "closet.yaml"
    case.write_text(SKINS.replace("The closet by", "The <closet> & by"), encoding="utf-8")
    run = digday("cure", case, "--log", log, "--sheet", "html")
    tags = Tags()
    tags.feed(run.out)
    assert tags.open == []
    assert tags.seen.count("svg") == 2
    assert "The &lt;closet&gt; &amp; by the furnace" in run.out
    assert "http" not in run.out.replace("http://www.w3.org/2000/svg", "")


def test_the_page_to_hang_up_as_text_and_data_says_the_same(digday: Digday, log: Path) -> None:
    text = unwrapped(digday("cure", "--log", log, "--sheet").out)
    data = told(digday("cure", "--log", log, "--sheet", "--json"))
    for part in data["sections"]:
        assert part["heading"] in text
        for sentence in (*part["says"], *part["steps"], *part["items"]):
            assert unwrapped(sentence) in text
    assert "Done when" in text
    assert "10 Oct ______" in text


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ([], "name a CASE, or a log with --log FILE."),
        (["--add", "84 88"], "name a CASE, or a log"),
        (["--log", "none.csv"], "none.csv: no such file"),
        (["--log", "room.csv", "--add", "warm"], "'warm' is no reading"),
        (["--log", "room.csv", "--add", "84 F 130 %"], "'130' is no humidity"),
        (["--log", "room.csv", "--add", "500 F"], "is no temperature of a room"),
        (["--log", "room.csv", "--add", "84 88", "--at", "noon"], "--at noon is no time"),
        (["--log", "room.csv", "--at", "2031-10-04 08:00"], "--at is the time of a reading"),
        (["--log", "room.csv", "--roots", "cold"], "'cold' is not a value"),
        (["--log", "room.csv", "--space", "big"], "'big' is no size of a room"),
        (["--log", "room.csv", "--space", "10 ft"], "'10 ft' is no size of a room"),
        (["--log", "room.csv", "--outside", "55 85"], "--outside needs to know how large the place is"),
        (["--log", "room.csv", "--space", "9 m3", "--outside", "55 F"], "has no humidity"),
    ],
)
def test_what_cannot_be_used_is_said_in_a_sentence(digday: Digday, log: Path, arguments: list[str], says: str) -> None:
    before = log.read_text(encoding="utf-8")
    run = digday("cure", *arguments)
    assert run.code == 2
    assert says in run.err
    assert run.out == ""
    assert log.read_text(encoding="utf-8") == before


def test_nothing_is_written_down_when_something_else_cannot_be_used(digday: Digday, log: Path) -> None:
    before = log.read_text(encoding="utf-8")
    assert digday("cure", "--log", log, "--add", "84 F 88 %", "--space", "big").code == 2
    assert digday("cure", "none.yaml", "--log", log, "--add", "84 F 88 %").code == 2
    assert log.read_text(encoding="utf-8") == before


def test_a_log_that_goes_on_after_the_day_of_the_case_sets_the_day(digday: Digday, log: Path, tmp_path: Path) -> None:
    case = tmp_path / "closet.yaml"
    case.write_text(SKINS.replace("2031-10-10", "2031-10-04"), encoding="utf-8")
    assert told(digday("cure", case, "--log", log, "--json"))["verdict"]["on"] == "2031-10-10"


def test_a_log_that_ended_before_says_how_old_it_is(digday: Digday, log: Path, tmp_path: Path) -> None:
    case = tmp_path / "closet.yaml"
    text = SKINS.replace("2031-10-10", "2032-03-01").replace(", skin: holds, wounds: dry", "")
    case.write_text(text, encoding="utf-8")
    assert "The last reading is 143 days old" in unwrapped(digday("cure", case, "--log", log).out)
    report = told(digday("cure", case, "--log", log, "--json"))
    assert report["air"] is None
    assert report["progress"]["slow"] == pytest.approx(6.5 / 14)
    assert report["progress"]["unknown"] == 143
    assert report["verdict"]["advice"] == "measure-first"


def test_a_reading_of_yesterday_still_tells_of_today(digday: Digday, log: Path, tmp_path: Path) -> None:
    case = tmp_path / "closet.yaml"
    for day, air in (("2031-10-11", True), ("2031-10-12", False)):
        case.write_text(SKINS.replace("2031-10-10", day), encoding="utf-8")
        assert bool(told(digday("cure", case, "--log", log, "--json"))["air"]) is air


def test_a_case_of_another_question_is_refused(digday: Digday, case_file: Path) -> None:
    run = digday("cure", case_file)
    assert run.code == 2
    assert "is a case of sweetpotato/when-to-dig; name one of sweetpotato/curing." in run.err


def test_a_visit_asks_by_the_curing_rules_and_why_tells_them(digday: Digday, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("yes\nquit\n"))
    run = digday("visit", "--plain", "--rulebook", "sweetpotato/curing", "--save", "c.yaml", "--on", "2031-10-10")
    assert "Take out the spoiled roots, then go on" in unwrapped(run.out)
    assert "Rot feeds on warmth" in unwrapped(digday("advise", "c.yaml").out)
    assert "rot-found" in digday("why", "c.yaml").out
    assert "cure-under-way" in digday("why", "c.yaml", "--not", "go-on").out
