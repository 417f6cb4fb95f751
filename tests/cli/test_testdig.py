"""`digday testdig`: the page, the JSON that other programs read, and what is refused."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from .conftest import Digday

HILLS = ("--hill", "2.1 1.2 3.0", "--hill", "2.4 2.2")


def data_of(digday: Digday, *arguments: object) -> dict[str, Any]:
    code, out, err = digday("testdig", *arguments, "--json")
    assert (code, err) == (0, "")
    found: dict[str, Any] = json.loads(out)
    return found


# The keys of the contract with their types; more may be there.
def test_the_json_has_every_key_of_the_contract(digday: Digday) -> None:
    data = data_of(digday, *HILLS)
    assert (data["hills"], data["roots"], data["confidence"]) == (2, 5, 0.9)
    assert set(data["share"]) == {"low", "likely", "high"}
    assert 0 < data["share"]["low"] < data["share"]["likely"] == 0.8 < data["share"]["high"] < 1
    assert set(data["per_plant"]) == {"low", "likely", "high", "unit"}
    assert data["per_plant"]["unit"] == "lb"
    assert data["grades"]["us-no-1"] == 4
    assert sum(data["grades"].values()) == 5
    assert data["stop"] is False
    assert data["more_hills"] >= 1


def test_it_stops_when_enough_is_known(digday: Digday) -> None:
    data = data_of(digday, "--hill", "2 2.1 2.2 2.3 2.4", "--hill", "2 2.1 2.2 2.3 2.4")
    assert (data["stop"], data["more_hills"], data["answer"]) == (True, 0, "most")


def test_typed_and_written_hills_say_the_same(digday: Digday, tmp_path: Path) -> None:
    (tmp_path / "dig.csv").write_text("hill,diameter\n1,2.1\n1,1.2\n1,3.0\n2,2.4\n2,2.2\n", encoding="utf-8")
    assert data_of(digday, "dig.csv") == data_of(digday, *HILLS)


def test_inches_and_centimetres_say_the_same(digday: Digday) -> None:
    us = data_of(digday, "--hill", "2 1 3", "--wanted", "1.75..3.5")
    metric = data_of(digday, "--hill", "5.08 2.54 7.62", "--wanted", "4.445..8.89", "--units", "metric")
    assert (us["share"], us["grades"]) == (metric["share"], metric["grades"])
    assert metric["per_plant"]["unit"] == "kg"
    assert metric["per_plant"]["likely"] == pytest.approx(us["per_plant"]["likely"] * 0.45359, abs=0.001)


def test_the_wanted_size_is_the_growers(digday: Digday) -> None:
    assert data_of(digday, *HILLS, "--wanted", "1..2")["share"]["likely"] == 0.2


def test_it_tells_how_many_hills_a_wanted_precision_takes(digday: Digday) -> None:
    near, nearer = (data_of(digday, *HILLS, "--within", points)["hills_needed"]["share"] for points in (20, 10))
    assert nearer == pytest.approx(4 * near, abs=4)  # half the error takes four times the hills


def test_counts_by_class_say_nothing_of_weight(digday: Digday) -> None:
    data = data_of(digday, "--hill", "small:3 right:5 big:1", "--hill", "right:4")
    assert (data["roots"], data["per_plant"], data["grades"]) == (13, None, {})


def test_a_bed_is_told_a_foot_of_row_at_a_time(digday: Digday) -> None:
    data = data_of(digday, "--hill", "1 lb", "--spacing", "8", "--row-width", "3 ft", "--row-length", "100")
    assert data["bed"]["per_row_foot"]["likely"] == 1.5
    assert data["bed"]["whole"]["likely"] == 150
    assert data["bed"]["bushels_per_acre"]["50 lb"]["likely"] == 435.6  # 15 lb in 10 ft at 36 in
    assert data["bed"]["bushels_per_acre"]["55 lb"]["likely"] == 396.0


def test_two_digs_tell_growth_or_that_they_cannot(digday: Digday) -> None:
    before, after = ("1.1 1 1.2", "1 .9 1.1", "1.2 1"), ("1.7 1.6 1.8", "1.5 1.6 1.7", "1.6 1.7")
    earlier = [part for hill in before for part in ("--earlier-hill", hill)]
    later = [part for hill in after for part in ("--hill", hill)]
    growth = data_of(digday, *later, *earlier, "--days", "21")["growth"]
    assert 0 < growth["per_day"]["low"] < growth["per_day"]["likely"]
    assert growth["days_to_size"]["low"] <= growth["days_to_size"]["high"]
    assert "may be 1¾ in across already" in digday("testdig", *later, *earlier, "--days", "21")[1]
    same = [part for hill in before for part in ("--hill", hill)]
    assert data_of(digday, *same, *earlier, "--days", "21")["growth"]["days_to_size"] is None
    assert "Cannot tell" in digday("testdig", *same, *earlier, "--days", "21")[1]


def test_the_page_shows_sizes_share_and_what_to_do(digday: Digday) -> None:
    code, out, err = digday("testdig", *HILLS, "--spacing", "12", "--row-width", "36", "--row-length", "50")
    assert (code, err) == (0, "")
    assert "2 to 2¼ ┃ ████████" in out
    assert "At the wanted size: 80 % (" in out
    assert "Dig another hill" in out
    assert "bushels of 50 lb or" in out
    assert "Disputed" in out


@pytest.mark.parametrize("columns", [80, 60, 40])
def test_the_page_fits_its_width(digday: Digday, monkeypatch: pytest.MonkeyPatch, columns: int) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    _, out, _ = digday("testdig", *HILLS, "--spacing", "12")
    assert max(map(len, out.splitlines())) <= columns


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((), "there are no hills"),
        (("--hill", ""), "no hill has a root"),
        (("--hill", "2 x"), "--hill:1:3: 'x' is no root"),
        (("--hill", "2", "--hill", "2 99"), "--hill:2:3:"),
        (("none.csv",), "none.csv: There is no such file"),
        ((*HILLS, "--wanted", "3..2"), "no range of diameters"),
        ((*HILLS, "--days", "7"), "growth takes an earlier dig"),
        ((*HILLS, "--earlier-hill", "1"), "growth takes an earlier dig"),
        ((*HILLS, "--earlier-hill", "small:3", "--days", "7"), "measured or weighed in both"),
        ((*HILLS, "--row-width", "36"), "add --spacing"),
        ((*HILLS, "--within", "0"), "1 to 50"),
        ((*HILLS, "--spacing", "0"), "no distance in a bed"),
    ],
)
def test_bad_input_ends_with_2_and_a_sentence(digday: Digday, arguments: tuple[str, ...], words: str) -> None:
    code, out, err = digday("testdig", *arguments)
    assert (code, out) == (2, "")
    assert words in err
    assert "Traceback" not in err


def test_a_bad_row_is_told_with_its_place_and_nothing_is_printed(digday: Digday, tmp_path: Path) -> None:
    (tmp_path / "dig.csv").write_text("hill,diameter\n1,2.1\n1,wide\n", encoding="utf-8")
    code, out, err = digday("testdig", "dig.csv")
    assert (code, out) == (2, "")
    assert "dig.csv:3:3: diameter: 'wide' is not a value here" in err
