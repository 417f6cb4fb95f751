"""`digday store`: the page, the plan, the JSON, the ledger, and that keeping needs no interview of its own."""

from __future__ import annotations

import io
import json
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from assistant.cases import read_case
from assistant.explain.log_svg import thinned
from assistant.model.readings import Origin

from .conftest import Digday

CASE = """\
case: The north bed in the cellar
rulebook: sweetpotato/keeping
on: 2032-01-15
signs: {spoilage: sound, cure: full, place: home}
"""
LEDGER = """\
date,lot,what,part,weight,temperature,humidity,note
2031-10-06,north,dug,,120 lb,,,
2031-10-06,north,dug,nicked,9 lb,,,
2031-10-17,north,weighed,,123 lb,,,after the cure
2031-10-17,north,stored,,,,,
2031-12-20,north,discarded,,2 lb,,,soft ends
2032-01-10,north,weighed,,105 lb,,,
"""


def hourly(*stretches: tuple[int, float, float]) -> str:
    """A logger's file that ends on the noon of the case's day: stretches of hours at a temperature and a humidity."""
    at = datetime(2032, 1, 15, 12) - timedelta(hours=sum(hours for hours, _, _ in stretches) - 1)
    lines = ["time,temperature_f,humidity"]
    for hours, temperature, humidity in stretches:
        for _ in range(hours):
            lines.append(f"{at:%Y-%m-%d %H:%M},{temperature},{humidity}")
            at += timedelta(hours=1)
    return "\n".join(lines) + "\n"


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """A case, a ledger and the log of a mild fortnight."""
    (tmp_path / "lot.yaml").write_text(CASE, encoding="utf-8")
    (tmp_path / "lots.csv").write_text(LEDGER, encoding="utf-8")
    (tmp_path / "log.csv").write_text(hourly((336, 58, 85)), encoding="utf-8")
    return tmp_path


def page(digday: Digday, *arguments: object) -> str:
    code, out, err = digday("store", *arguments)
    assert (code, err) == (0, "")
    return " ".join(out.split())


def data(digday: Digday, *arguments: object) -> dict[str, Any]:
    code, out, err = digday("store", "status", *arguments, "--json")
    assert (code, err) == (0, "")
    found: dict[str, Any] = json.loads(out)
    return found


def test_a_mild_log_and_a_sound_lot_are_left_be(digday: Digday, store: Path) -> None:
    found = data(digday, "lot.yaml", "--log", "log.csv")
    assert found["verdict"]["advice"] == "keep-on"
    assert found["place"] == {"low": 58.0, "usual": 58.0, "humidity": 85.0}
    assert found["cold"]["dose"] == {"low": 0, "likely": 0, "high": 0}
    assert found["signs"]["store_low"] == "58 F"
    assert found["log"]["hours"] == 336


# Mississippi State 2015 (read): three days at 50 °F.
@pytest.mark.parametrize(("hours", "advice", "harmed"), [(72, "use-chilled-first", True), (71, "keep-on", False)])
def test_the_published_cold_in_a_log_makes_a_chilled_lot(
    digday: Digday, store: Path, hours: int, advice: str, harmed: bool
) -> None:
    (store / "cold.csv").write_text(hourly((hours, 50, 85), (200, 58, 85)), encoding="utf-8")
    found = data(digday, "lot.yaml", "--log", "cold.csv")
    assert found["verdict"]["advice"] == advice
    assert (found["cold"]["harmed_on"] is not None) is harmed
    assert (found["loss_per_day"] is None) is harmed


def test_a_cold_place_is_warmed_and_its_weight_not_told(digday: Digday, store: Path) -> None:
    (store / "cold.csv").write_text(hourly((24, 48, 85)), encoding="utf-8")
    told = page(digday, "status", "lot.yaml", "--log", "cold.csv")
    assert "Warm the place, or move the roots" in told
    assert "The weight they lose is not told" in told
    assert "24 hours at 50 °F or below" in told
    assert "Disputed: How cold may the place get" in told


def test_a_few_cold_hours_in_a_mild_week_are_enough_to_tell_no_weight(digday: Digday, store: Path) -> None:
    (store / "dip.csv").write_text(hourly((100, 58, 85), (3, 48, 85), (40, 58, 85)), encoding="utf-8")
    assert data(digday, "lot.yaml", "--log", "dip.csv")["loss_per_day"] is None
    assert data(digday, "lot.yaml", "--log", "log.csv")["loss_per_day"]["likely"] == pytest.approx(0.0005, rel=0.01)


def test_nicked_roots_keep_no_longer_than_uncured_ones(digday: Digday, store: Path) -> None:
    nicked, sound = data(digday, "lot.yaml", "--ledger", "lots.csv", "--use", "6 lb")["plan"]["turns"]
    assert (nicked["keeps_from"], nicked["keeps_to"]) == ("2031-12-16", "2032-03-15")  # 60 and 150 days
    assert (sound["keeps_from"], sound["keeps_to"]) == ("2032-02-14", "2032-04-14")  # 120 and 180 days


def test_what_the_grower_says_stands_above_the_log(digday: Digday, store: Path) -> None:
    (store / "lot.yaml").write_text(CASE.replace("home}", "home, store_low: 45 F}"), encoding="utf-8")
    found = data(digday, "lot.yaml", "--log", "log.csv")
    assert (found["signs"]["store_low"], found["verdict"]["advice"]) == ("45 F", "warm-it")


def test_a_log_that_ended_long_ago_tells_of_the_cold_and_not_of_today(digday: Digday, store: Path) -> None:
    found = data(digday, "lot.yaml", "--log", "log.csv", "--on", "2032-01-19")
    assert found["place"] is None
    assert "store_low" not in found["signs"]
    assert found["signs"]["chill_dose"] == "0"


def test_cold_before_the_roots_came_in_does_not_count(digday: Digday, store: Path) -> None:
    (store / "cold.csv").write_text(hourly((100, 40, 85), (100, 58, 85)), encoding="utf-8")
    (store / "lot.yaml").write_text(CASE.replace("home}", "home, stored_on: 2032-01-13}"), encoding="utf-8")
    assert data(digday, "lot.yaml", "--log", "cold.csv")["cold"]["dose"]["high"] == 0


def test_a_freeze_since_the_last_look_is_sorted_out_and_one_before_it_was(digday: Digday, store: Path) -> None:
    (store / "ice.csv").write_text(hourly((48, 57, 85), (3, 29, 85), (40, 57, 85)), encoding="utf-8")
    assert data(digday, "lot.yaml", "--log", "ice.csv")["verdict"]["advice"] == "sort-what-froze"
    (store / "lots.csv").write_text(LEDGER + "2032-01-15,north,looked,,,,,\n", encoding="utf-8")
    found = data(digday, "lot.yaml", "--log", "ice.csv", "--ledger", "lots.csv")
    assert found["signs"]["froze"] == "no"
    assert found["cold"]["freezing_hours"] == 3


def test_what_is_written_for_later_days_does_not_count_yet(digday: Digday, store: Path) -> None:
    assert data(digday, "--ledger", "lots.csv", "--on", "2031-12-01")["lots"][0]["left"] == 123


def test_every_pound_of_the_ledger_is_in_the_json(digday: Digday, store: Path) -> None:
    lot = data(digday, "--ledger", "lots.csv", "--on", "2032-01-15")["lots"][0]
    assert lot["dug"] == 129 == pytest.approx(sum(lot["out"].values()) + lot["shrunk"] + lot["left"])
    assert lot["left"] == 105 > lot["now"]["high"] - 1e-9
    assert sum(lot["parts"].values()) == pytest.approx(105)


def test_too_slow_a_rate_says_how_much_is_too_much(digday: Digday, store: Path) -> None:
    slow = data(digday, "lot.yaml", "--ledger", "lots.csv", "--use", "1 lb")
    assert slow["signs"]["using"] == "too-slow"
    assert slow["verdict"]["advice"] == "use-faster"
    assert slow["plan"]["too_much"]["by_last"] == pytest.approx(105 - 90 / 7, rel=0.1)
    finish = slow["plan"]["per_week_to_finish"]["by_first"]
    quick = data(digday, "lot.yaml", "--ledger", "lots.csv", "--use", f"{finish * 1.01} lb", "--until", "2032-04-01")
    assert quick["signs"]["using"] == "in-time"
    assert quick["plan"]["too_much"] == {"by_first": 0, "by_last": 0}
    assert quick["plan"]["too_little"] > 0


def test_the_nicked_ones_are_eaten_first(digday: Digday, store: Path) -> None:
    turns = data(digday, "lot.yaml", "--ledger", "lots.csv", "--use", "6 lb")["plan"]["turns"]
    assert [turn["part"] for turn in turns] == ["nicked", "sound"]
    assert turns[0]["begins"] == "2032-01-15" < turns[1]["begins"] == turns[0]["gone"]


def test_chilled_roots_come_before_sound_lots_and_keep_fifty_two_days(digday: Digday, store: Path) -> None:
    (store / "cold.csv").write_text(hourly((72, 50, 85), (60, 58, 85)), encoding="utf-8")
    turns = data(digday, "lot.yaml", "--ledger", "lots.csv", "--log", "cold.csv", "--use", "6 lb")["plan"]["turns"]
    assert [turn["part"] for turn in turns] == ["nicked", "chilled"]
    assert turns[1]["keeps_to"] == "2032-03-05"  # 52 days after 13 January


def test_pounds_and_kilograms_tell_the_same(digday: Digday, store: Path) -> None:
    us = data(digday, "lot.yaml", "--ledger", "lots.csv", "--use", "3 lb")
    metric = data(digday, "lot.yaml", "--ledger", "lots.csv", "--use", "3 lb", "--units", "metric")
    assert (us["unit"], metric["unit"]) == ("lb", "kg")
    assert metric["lots"][0]["left"] == pytest.approx(us["lots"][0]["left"] * 0.45359, abs=0.001)
    assert metric["plan"]["gone"] == us["plan"]["gone"]


def test_the_page_draws_the_log_against_its_limits(digday: Digday, store: Path) -> None:
    told = page(digday, "status", "lot.yaml", "--log", "log.csv")
    assert "Warmth, °F (· 55 to 60 wanted" in told
    assert "Damp, % (· 75 to 95 wanted" in told


def test_without_a_log_the_ledgers_own_readings_are_used(digday: Digday, store: Path) -> None:
    (store / "lots.csv").write_text(LEDGER + "2032-01-14,north,looked,,,66 F,70,\n", encoding="utf-8")
    found = data(digday, "lot.yaml", "--ledger", "lots.csv")
    assert found["place"] == {"low": None, "usual": 66.0, "humidity": 70.0}
    assert found["verdict"]["advice"] == "cool-it"
    assert "store_low" not in found["signs"]


def test_the_plan_tells_what_spoils_and_leaves_blanks(digday: Digday, store: Path) -> None:
    told = page(digday, "plan", "lot.yaml", "--ledger", "lots.csv", "--use", "3 lb")
    for words in ("What to eat first", "When to look", "Never feed it to livestock", "root out whole", "______"):
        assert words in told
    assert digday("store", "plan", "lot.yaml", "--html", "plan.html")[0] == 0
    html = (store / "plan.html").read_text(encoding="utf-8")
    assert html.startswith("<!DOCTYPE html>")
    assert "Never feed it to livestock" in html


def test_a_saved_case_holds_what_was_told_and_why_explains_it(digday: Digday, store: Path) -> None:
    page(digday, "status", "lot.yaml", "--log", "log.csv", "--ledger", "lots.csv", "--save", "full.yaml")
    case = read_case(store / "full.yaml")
    assert case.answers["stored_on"].written == "2031-10-17"
    assert case.answers["looked_days_ago"].written == "5"
    code, out, _ = digday("why", "full.yaml")
    assert code == 0
    assert "store" in out


def test_a_ledger_is_begun_added_to_and_told(digday: Digday, tmp_path: Path) -> None:
    assert digday("store", "note", "new.csv", "dug", "40 lb", "--lot", "south", "--on", "2031-10-06")[0] == 0
    note = digday("store", "note", "new.csv", "weighed", "38 lb", "--on", "2031-10-17", "--note", "cured")
    assert note[1] == "south: weighed on 17 October 2031; 38 lb left, 2 lb shrunk.\n"
    assert digday("store", "note", "new.csv", "used", "3 lb", "--on", "2032-01-01")[0] == 0
    assert "3 lb eaten; 35 lb left" in page(digday, "story", "new.csv")
    story = json.loads(digday("store", "story", "new.csv", "--json")[1])["lots"][0]
    assert story["fates"] == {"eaten": 3, "dried away": 2, "left": 35}
    assert [stage["left"] for stage in story["stages"]] == [40, 38, 35]


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("status",), "name a CASE of sweetpotato/keeping"),
        ((), "say what to do"),
        (("status", "lot.yaml", "--use", "some"), "--use: 'some' is no weight"),
        (("status", "lot.yaml", "--until", "2031-12-01"), "--until 2031-12-01 has passed"),
        (("status", "lot.yaml", "--on", "soon"), "--on: 'soon' is not a date"),
        (("note", "two.csv", "used", "1 lb"), "name the lot with --lot"),
        (("story", "lots.csv", "--lot", "west"), "the ledger has no lot 'west'; it has north"),
        (("status", "other.yaml"), "store takes one of sweetpotato/keeping"),
        (("note", "lots.csv", "used", "200 lb", "--on", "2032-01-12"), "200 lb went out of the lot north"),
    ],
)
def test_what_cannot_be_done_is_told_in_a_sentence(
    digday: Digday, store: Path, arguments: tuple[str, ...], told: str
) -> None:
    (store / "two.csv").write_text(LEDGER + "2031-10-07,south,dug,,5 lb,,,\n", encoding="utf-8")
    (store / "other.yaml").write_text("case: A\nrulebook: sweetpotato/when-to-dig\non: 2031-10-04\n", encoding="utf-8")
    code, out, err = digday("store", *arguments)
    assert (code, out) == (2, "")
    assert told in " ".join(err.split())


def test_the_interview_and_the_verdict_need_no_code_of_their_own(
    digday: Digday, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("?\n" * 30))
    visit = ("visit", "--plain", "--rulebook", "sweetpotato/keeping", "--on", "2032-01-15", "--save", "lot.yaml")
    code, out, _ = digday(*visit)
    assert code == 0
    assert "Look through the lot" in out
    case = read_case(tmp_path / "lot.yaml")
    assert {known.origin for known in case.answers.values()} == {Origin.CANT_TELL}
    assert "Look through the lot" in digday("advise", "lot.yaml")[1]
    assert digday("why", "lot.yaml", "--not", "keep-on")[0] == 0


def test_a_long_log_is_drawn_with_its_lowest_and_highest_readings() -> None:
    start = datetime(2031, 11, 1)
    points = [(start + timedelta(minutes=10 * at), 58 + at % 7 / 10) for at in range(20_000)]
    points[12_345] = (points[12_345][0], 31.0)
    few = thinned(points)
    assert len(few) <= 600
    assert points[12_345] in few
    assert max(value for _, value in few) == max(value for _, value in points)
    assert list(few) == sorted(few)
    assert thinned(points[:500]) == tuple(points[:500])
