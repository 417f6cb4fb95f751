"""Pages printed from the notebook: all that it holds of what is due, in text of 80 columns and in HTML."""

from __future__ import annotations

from datetime import date, timedelta
from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.cli.output import wrapped
from assistant.cli.sheet_text import sheet_lines
from assistant.explain.sheet import Section, Sheet, Table
from assistant.explain.sheet_html import sheet_html
from assistant.garden import demo
from assistant.garden.entries.digs import record_dig
from assistant.garden.standing.accounts import Left
from assistant.garden.standing.overview import beds_now
from assistant.garden.standing.stages import BedNow
from assistant.garden.telling.sheets import bed_sheet, due_words, garden_sheet, save_sheet
from assistant.garden.telling.stage_sheets import layout_of
from assistant.model.notebook import AirRow, BedRow, GardenRow, PlantingRow, StayRow
from assistant.model.place import BadInput
from assistant.model.quantities import NotAValue
from assistant.notebook import Notebook

ON = demo.TODAY
VOID = {"meta", "line", "rect", "polyline"}


class Reader(HTMLParser):
    """Reads a page as a browser would: its texts by the tag they stand in, and whether every tag is closed."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.texts: dict[str, list[str]] = {}
        self.feed(page)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert not {name for name, _ in attrs} & {"src", "href"}
        if tag not in VOID:
            self.open.append(tag)
            self.texts.setdefault(tag, []).append("")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert tag in VOID

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open:
            self.texts[self.open[-1]][-1] += data


def bed(notebook: Notebook, name: str) -> BedNow:
    return next(now for now in beds_now(notebook, ON) if now.bed.name == name)


def text_of(sheet: Sheet) -> list[str]:
    return [line for paragraph in sheet_lines(sheet) for line in wrapped(paragraph, 80).split("\n")]


def rows_of(sheet: Sheet) -> list[tuple[str, ...]]:
    return [row for part in sheet.sections[:-1] if part.table for row in part.table.rows]


def test_every_need_of_every_bed_is_on_the_page_the_most_pressing_first(notebook: Notebook) -> None:
    beds = beds_now(notebook, ON)
    sheet = garden_sheet("Otter Bend", beds, ON)
    needs = sorted((need.pressing(ON), now.bed.name, need) for now in beds for need in now.needs)
    told = [(name, need.stage.value, need.words, due_words(need.by, ON), "") for _, name, need in needs]
    assert rows_of(sheet) == told
    assert {row[0] for row in rows_of(sheet)} == {row.name for row in notebook.all(BedRow)}
    assert [part.heading for part in sheet.sections] == ["Today", "This week", "At rest", "Seen on the way"]


def test_the_page_in_html_has_the_same_rows_and_room_to_write(notebook: Notebook) -> None:
    sheet = garden_sheet("Otter <b>end", beds_now(notebook, ON), ON)
    read = Reader(sheet_html(sheet))
    cells = read.texts["td"]
    rows = [row for part in sheet.sections if part.table for row in part.table.rows]
    assert cells == [cell for row in rows for cell in row]
    assert read.texts["h1"] == ["Otter <b>end: what each bed needs"]
    assert read.texts["h2"] == ["Today", "This week", "At rest", "Seen on the way"]
    assert cells.count("") == 8 + 15


def test_the_page_as_text_keeps_to_80_columns_whatever_beds_are_called(notebook: Notebook) -> None:
    for row in notebook.all(BedRow):
        notebook.change(row._replace(name=f"{row.name} {'of the old orchard ' * 3}"[:60].strip()))
    lines = text_of(garden_sheet("Otter Bend", beds_now(notebook, ON), ON))
    assert max(map(len, lines)) <= 80
    assert sum("____________" in line for line in lines) >= 8


@given(
    st.lists(st.lists(st.text("abc de", max_size=40), min_size=4, max_size=4), min_size=1, max_size=6),
    st.integers(60, 100),
)
def test_a_table_as_text_loses_no_letter_and_keeps_to_the_page(rows: list[list[str]], columns: int) -> None:
    table = Table(("1", "2", "3", "4"), tuple(tuple(row) for row in rows))
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("COLUMNS", str(columns))
        lines = text_of(Sheet("Title", "below", (Section("Part", table=table),)))[5:]
    assert max(map(len, lines)) <= columns
    told = sorted(letter for line in lines for letter in line if letter in "abcde")
    assert told == sorted(letter for row in rows for cell in row for letter in cell if letter != " ")


@pytest.mark.parametrize(
    ("by", "words"),
    [
        (None, "no day"),
        (date(2031, 10, 6), "Mon 6 Oct"),
        (date(2031, 10, 4), "Sat 4 Oct"),
        (date(2031, 9, 24), "since Wed 24 Sep"),
        (date(2032, 1, 2), "Fri 2 Jan 2032"),
    ],
)
def test_days_are_written_so_that_they_hold_tomorrow_too(by: date | None, words: str) -> None:
    assert due_words(by, ON) == words


@pytest.mark.parametrize(
    ("name", "title", "holds"),
    [
        ("River bed", "Dig day: River bed", "Leave the vines on until you dig"),
        ("Gate bed", "Curing: Gate bed 2031", "At 83 °F and 86 %"),
        ("Well bed", "Plan for the store: Well bed 2031", "7 October 2031: both ends of every root"),
    ],
)
def test_a_bed_has_the_page_of_its_stage_by_what_the_notebook_holds(
    notebook: Notebook, name: str, title: str, holds: str
) -> None:
    sheet = bed_sheet(notebook, bed(notebook, name), ON)
    lines = text_of(sheet)
    assert lines[0] == title
    assert holds in " ".join(lines)
    assert max(map(len, lines)) <= 80
    read = Reader(sheet_html(sheet))
    assert read.texts["h1"] == [title]
    assert holds in " ".join(text for texts in read.texts.values() for text in texts)


@pytest.mark.parametrize("name", ["New ground", "Old bed"])
def test_a_bed_that_grows_or_rests_has_no_page(notebook: Notebook, name: str) -> None:
    with pytest.raises(NotAValue, match=f"{name} has no page while it is"):
        bed_sheet(notebook, bed(notebook, name), ON)


def test_the_crates_are_told_once_the_size_of_the_bed_is(notebook: Notebook) -> None:
    now = bed(notebook, "River bed")
    assert now.planting is not None
    assert any("Not known without the size of the bed" in line for line in text_of(bed_sheet(notebook, now, ON)))
    notebook.change(now.bed._replace(length=600.0))
    notebook.change(now.planting._replace(slips=50))
    told = " ".join(text_of(bed_sheet(notebook, bed(notebook, "River bed"), ON)))
    assert "50 plants, by the test dig" in told
    assert "Crates filled by half" in told


@pytest.mark.parametrize(
    ("length", "slips", "spacing", "left", "found"),
    [
        (600.0, 50, None, None, (12.0, None, 50.0)),
        (600.0, 50, 10.0, None, (10.0, None, 50.0)),
        (None, None, 10.0, None, (10.0, None, None)),
        (600.0, None, None, None, None),
        (None, 50, None, None, None),
        (600.0, 50, None, Left(240.0, 20, False), (12.0, None, 20.0)),
        (600.0, 50, None, Left(None, 10, False), (12.0, None, 10.0)),
        (600.0, 50, None, Left(240.0, None, True), None),
    ],
)
def test_the_layout_is_by_the_slips_in_what_is_left_of_the_rows(
    length: float | None,
    slips: int | None,
    spacing: float | None,
    left: Left | None,
    found: tuple[float | None, ...] | None,
) -> None:
    planting = PlantingRow(1, ON, ON, slips=slips, spacing=spacing)
    assert layout_of(BedRow(1, "Bed", length), planting, left) == found


def test_of_a_bed_dug_in_part_the_rest_is_planned(notebook: Notebook) -> None:
    now = bed(notebook, "River bed")
    assert now.planting is not None
    notebook.change(now.bed._replace(length=600.0))
    notebook.change(now.planting._replace(slips=50))
    record_dig(notebook, bed(notebook, "River bed"), "20 ft, 30 lb", ON)
    assert "30 plants, by the test dig" in " ".join(text_of(bed_sheet(notebook, bed(notebook, "River bed"), ON)))
    record_dig(notebook, bed(notebook, "River bed"), "part", ON)
    told = " ".join(" ".join(text_of(bed_sheet(notebook, bed(notebook, "River bed"), ON))).split())
    assert "a part of it was dug that nobody measured" in told


def test_beds_of_several_gardens_are_told_with_their_garden(notebook: Notebook) -> None:
    hill = notebook.add(GardenRow("Hill"))
    notebook.add(BedRow(hill.id, "River bed"))
    names = {row[0] for row in rows_of(garden_sheet("All gardens", beds_now(notebook, ON), ON))}
    assert {"Otter Bend/River bed", "Hill/River bed"} <= names
    (only,) = rows_of(garden_sheet("Hill", beds_now(notebook, ON, hill.id), ON))
    assert only[0] == "River bed"


def test_a_cure_without_a_reading_and_a_store_of_unknown_weight_have_pages(notebook: Notebook) -> None:
    for row in notebook.all(AirRow):
        notebook.remove(row)
    assert "Readings, at the height of the roots" in text_of(bed_sheet(notebook, bed(notebook, "Gate bed"), ON))
    now = bed(notebook, "Gate bed")
    stay = now.lots[0].stay
    notebook.change(stay._replace(until=ON))
    notebook.add(StayRow(stay.lot, stay.room, "keep", ON))
    unweighed = bed(notebook, "Gate bed")
    unweighed = unweighed._replace(lots=tuple(store._replace(account=None) for store in unweighed.lots))
    assert "What I found" in text_of(bed_sheet(notebook, unweighed, ON))


def test_a_store_of_years_ago_has_a_page_too(notebook: Notebook) -> None:
    later = ON + timedelta(days=700)
    now = next(now for now in beds_now(notebook, later) if now.bed.name == "Well bed")
    assert text_of(bed_sheet(notebook, now, later))[0] == "Plan for the store: Well bed 2031"


def test_a_saved_page_never_takes_the_place_of_another(notebook: Notebook, tmp_path: Path) -> None:
    sheet = garden_sheet("Otter Bend", beds_now(notebook, ON), ON)
    paths = [save_sheet(sheet, tmp_path, ON) for _ in range(3)]
    names = ["otter-bend-what-each-bed-needs-2031-10-04" + more + ".html" for more in ("", "-2", "-3")]
    assert [path.name for path in paths] == names
    assert all(path.read_text(encoding="utf-8") == sheet_html(sheet) for path in paths)


@pytest.mark.parametrize("name", ["../../etc", "a/b", "ß" * 200, "...", "\x1b[2J", "北の畑"])
def test_a_page_is_saved_in_its_folder_whatever_it_is_called(notebook: Notebook, tmp_path: Path, name: str) -> None:
    path = save_sheet(garden_sheet(name, beds_now(notebook, ON), ON), tmp_path, ON)
    assert path.parent == tmp_path.resolve()
    assert path.exists()


def test_where_a_page_cannot_be_written_that_is_said(notebook: Notebook, tmp_path: Path) -> None:
    with pytest.raises(BadInput) as refused:
        save_sheet(garden_sheet("Garden", beds_now(notebook, ON), ON), tmp_path / "nowhere", ON)
    assert "cannot be written" in refused.value.problems[0].message
