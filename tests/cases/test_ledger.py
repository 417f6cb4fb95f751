"""A ledger as growers write it: what is taken, what is refused at its line, and adding to it."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.cases.ledger import HEADER, add_entry, pounds_of, read_accounts, read_ledger
from assistant.model.place import BadInput
from assistant.model.quantities import NotAValue, Units

SOUND = f"""{HEADER}
2031-10-06,north,dug,,120 lb,,,"dry day, late"
2031-10-17,north,stored,,,57 F,86,
2031-11-05,north,used,,6,,,
2031-12-01,north,looked,,,13 C,84 %,
"""


@pytest.fixture
def ledger(tmp_path: Path) -> Path:
    path = tmp_path / "lots.csv"
    path.write_text(SOUND, encoding="utf-8")
    return path


def refusal(path: Path, text: str) -> str:
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput) as refused:
        read_accounts(path, Units.US)
    return str(refused.value).replace(str(path), path.name)


def test_every_cell_is_read_in_its_unit(ledger: Path) -> None:
    dug, stored, used, looked = read_ledger(ledger, Units.US)
    assert (dug.pounds, dug.note, dug.place.line) == (120, "dry day, late", 2)
    assert (stored.temperature, stored.humidity) == (57, 86)
    assert used.pounds == 6
    assert (looked.temperature, looked.humidity) == (55.4, 84)


def test_columns_may_stand_in_any_order_and_be_left_out(ledger: Path) -> None:
    ledger.write_text("What, Lot, Date, Weight\nDug, north, 2031-10-06, 5 kg\n", encoding="utf-8")
    assert read_accounts(ledger, Units.US)["north"].left == pytest.approx(11.023, abs=0.001)


@pytest.mark.parametrize(
    ("text", "pounds"), [("12", 12), ("12 lb", 12), ("8 oz", 0.5), ("1 1/2 lb", 1.5), ("5 kg", 11.0231)]
)
def test_weights_in_every_unit(text: str, pounds: float) -> None:
    assert pounds_of(text, Units.US) == pytest.approx(pounds, abs=1e-4)
    assert pounds_of("1", Units.METRIC) == pytest.approx(2.20462, abs=1e-5)


@pytest.mark.parametrize("text", ["", "much", "-3 lb", "0", "3 stone", "1e9 lb", "2000000"])
def test_what_is_no_weight_is_refused(text: str) -> None:
    with pytest.raises(NotAValue, match="write one such as 12 lb"):
        pounds_of(text, Units.US)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("2031-11-31,north,used,,1 lb,,,", "there is no day 2031-11-31"),
        ("2031-11-30,north,eaten,,1 lb,,,", "'eaten' is nothing that happens to a lot"),
        ("2031-11-30,north,used,rotten,1 lb,,,", "'rotten' is no part of a lot"),
        ("2031-11-30,north,apart,,1 lb,,,", "'' is no part of a lot"),
        ("2031-11-30,north,used,,,,,", "'used' takes a weight"),
        ("2031-11-30,north,looked,,,warm,,", "'warm' is not a value"),
        ("2031-11-30,north,looked,,,,120,", "'120' is no humidity"),
        ("2031-11-30,,looked,,,,,", "this line has no lot"),
        ("2031-11-30,north,looked,,,,,soft, and wet", "more cells than the header"),
    ],
)
def test_a_bad_line_is_told_at_its_place(ledger: Path, line: str, told: str) -> None:
    assert refusal(ledger, SOUND + line + "\n").startswith("lots.csv:6:1: ")
    assert told in refusal(ledger, SOUND + line + "\n")


def test_all_bad_lines_are_told_at_once(ledger: Path) -> None:
    assert refusal(ledger, SOUND + "x,north,used,,1,,,\n2031-11-30,north,used,,many,,,\n").count("lots.csv:") == 2


@pytest.mark.parametrize(
    ("header", "told"), [("date,lot", "The header has no what"), (HEADER + ",colour", "no column 'colour'")]
)
def test_a_header_that_is_none_of_a_ledger_is_refused(ledger: Path, header: str, told: str) -> None:
    assert told in refusal(ledger, header + "\n")


def test_a_cell_without_end_is_refused(ledger: Path) -> None:
    assert "This is no CSV" in refusal(ledger, SOUND + '2031-11-30,north,looked,,,,,"' + "x" * 200_000)


def test_what_does_not_add_up_is_told_at_its_line(ledger: Path) -> None:
    told = refusal(ledger, SOUND + "2031-12-05,north,used,,200 lb,,,\n")
    assert told.startswith("lots.csv:6:1: 200 lb went out of the lot north where 114.0 lb were left.")
    assert "roots do not grow in store" in refusal(ledger, SOUND + "2031-12-05,north,weighed,,118 lb,,,\n")


def test_a_new_entry_goes_to_the_end_and_all_else_stays(ledger: Path) -> None:
    account = add_entry(ledger, {"date": "2031-12-24", "lot": "north", "what": "used", "weight": "4 lb"}, Units.US)
    assert account.left == 110
    assert ledger.read_text(encoding="utf-8") == SOUND + "2031-12-24,north,used,,4 lb,,,\n"


def test_an_entry_that_does_not_add_up_is_not_written(ledger: Path) -> None:
    for cells in ({"what": "used", "weight": "115 lb"}, {"what": "eaten", "weight": "1 lb"}, {"what": "used"}):
        with pytest.raises((BadInput, NotAValue)):
            add_entry(ledger, {"date": "2031-12-24", "lot": "north", **cells}, Units.US)
    assert ledger.read_text(encoding="utf-8") == SOUND


def test_a_ledger_begins_with_a_digging(tmp_path: Path) -> None:
    path = tmp_path / "new.csv"
    with pytest.raises(BadInput, match="had been dug by"):
        add_entry(path, {"date": "2031-12-24", "lot": "north", "what": "used", "weight": "4 lb"}, Units.US)
    assert not path.exists()
    add_entry(path, {"date": "2031-10-06", "lot": "north", "what": "dug", "weight": "40 lb", "note": "a, b"}, Units.US)
    assert path.read_text(encoding="utf-8") == f'{HEADER}\n2031-10-06,north,dug,,40 lb,,,"a, b"\n'


def test_a_ledger_that_does_not_end_its_last_line_is_added_to_on_a_new_one(ledger: Path) -> None:
    ledger.write_text(SOUND.rstrip("\n"), encoding="utf-8")
    add_entry(ledger, {"date": "2031-12-24", "lot": "north", "what": "looked"}, Units.US)
    assert ledger.read_text(encoding="utf-8") == SOUND + "2031-12-24,north,looked,,,,,\n"
