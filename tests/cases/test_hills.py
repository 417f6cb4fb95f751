"""Hills as they are typed and as they stand in files, and every way in which they can be wrong."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.cases.hill_files import read_hills
from assistant.cases.hills import bed_length, parse_wanted, typed_hill
from assistant.model.place import BadInput, Place
from assistant.model.quantities import NotAValue, Units
from assistant.model.readings import Span
from assistant.reckoning.hills import Classes, Hill
from assistant.reckoning.yields import GRAMS_PER_POUND, Root

HERE = Place("--hill", 2, 1)


def typed(text: str, units: Units = Units.US) -> Hill:
    return typed_hill(text, "2", HERE, units)


@pytest.mark.parametrize(
    ("text", "units", "roots"),
    [
        ("2.1 1.2 3.0", Units.US, [Root(2.1), Root(1.2), Root(3.0)]),
        ("2.1, 1.2", Units.US, [Root(2.1), Root(1.2)]),
        ("1 3/4, 2 1/2 in", Units.US, [Root(1.75), Root(2.5)]),
        ("5.3 3 cm", Units.US, [Root(2.09), Root(1.18)]),
        ("5.3 3.0", Units.METRIC, [Root(2.09), Root(1.18)]),
        ("5.3 2in", Units.METRIC, [Root(5.3), Root(2.0)]),
        ("2.1x6 3×7.5", Units.US, [Root(2.1, 6.0), Root(3.0, 7.5)]),
        ("8 16 oz", Units.US, [Root(grams=GRAMS_PER_POUND / 2), Root(grams=GRAMS_PER_POUND)]),
        ("0.5lb 300 g", Units.US, [Root(grams=GRAMS_PER_POUND / 2), Root(grams=300)]),
        ("  ", Units.US, []),
    ],
)
def test_a_hill_is_typed_in_many_ways(text: str, units: Units, roots: list[Root]) -> None:
    assert typed(text, units).roots == tuple(roots)


def test_roots_may_only_be_counted() -> None:
    assert typed("small:3 right:5 big=1").classes == Classes(3, 5, 1)
    assert typed("Right:5").classes == Classes(0, 5, 0)


@pytest.mark.parametrize(
    ("text", "column", "words"),
    [
        ("2.1 abc 3", 5, "'abc' is no root"),
        ("2.1 0", 5, "no size of a root"),
        ("2.1 44", 5, "no size of a root"),
        ("-2", 1, "no root"),
        ("2.1x6 oz", 1, "a length and a unit of weight"),
        ("1/0", 1, "divides by zero"),
        ("small:3 smal:4", 9, "no count of a size class"),
        ("small:3 2.1", 9, "no count of a size class"),
        ("small:3 small:4", 9, "no count of a size class"),
        ("small:9999", 1, "no count of a size class"),
        ("9" * 400, 1, "is not a value here"),
    ],
)
def test_what_is_no_root_is_refused_where_it_stands(text: str, column: int, words: str) -> None:
    with pytest.raises(BadInput) as refused:
        typed(text)
    (problem,) = refused.value.problems
    assert problem.place == Place("--hill", 2, column)
    assert words in problem.message


@given(st.text(max_size=30))
def test_any_text_is_a_hill_or_is_refused_in_words(text: str) -> None:
    with suppress(BadInput):
        assert typed(text).name == "2"


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("1.75..3.5 in", Span(1.75, 3.5)),
        ("1 3/4..3 1/2", Span(1.75, 3.5)),
        ("4.5..9 cm", Span(1.77, 3.54)),
    ],
)
def test_wanted_sizes_are_a_range(text: str, wanted: Span) -> None:
    assert parse_wanted(text, Units.US) == wanted


@pytest.mark.parametrize("text", ["3", "3.5..1.75", "0..2", "a..b", "", "1..99", "1..2 oz"])
def test_what_is_no_range_of_sizes_is_refused(text: str) -> None:
    with pytest.raises(NotAValue, match=r"1\.75\.\.3\.5 in"):
        parse_wanted(text, Units.US)


def test_distances_in_the_bed_have_many_units() -> None:
    assert bed_length("12", "in") == 12
    assert bed_length("3 ft", "in") == 36
    assert bed_length("30", "m") == pytest.approx(1181.1, abs=0.01)
    for text in ("0", "-3", "x", "3 oz", "0.1 in"):
        with pytest.raises(NotAValue):
            bed_length(text, "in")


def file_of(folder: Path, text: str | bytes) -> Path:
    path = folder / "dig.csv"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return path


def test_a_file_has_a_root_in_each_line(tmp_path: Path) -> None:
    text = '\ufeffHill, Diameter ,length,weight\n1,2.1,6,\n\n1,1.2\n"north, end",3.0 in,7.5,8 oz\n1,2\n4\n'
    assert read_hills(file_of(tmp_path, text), Units.US) == (
        Hill("1", (Root(2.1, 6.0), Root(1.2), Root(2.0))),
        Hill("north, end", (Root(3.0, 7.5, GRAMS_PER_POUND / 2),)),
        Hill("4"),
    )


def test_a_file_may_be_in_centimetres_and_between_semicolons(tmp_path: Path) -> None:
    assert read_hills(file_of(tmp_path, "hill;diameter\r\n1;5.3\r\n"), Units.METRIC) == (Hill("1", (Root(2.09),)),)


def test_a_file_may_only_count(tmp_path: Path) -> None:
    text = "hill,small,right,big\n1,3,5,1\n2,,4,\n"
    assert read_hills(file_of(tmp_path, text), Units.US) == (
        Hill("1", classes=Classes(3, 5, 1)),
        Hill("2", classes=Classes(0, 4, 0)),
    )


# A root of 2.1 by 6 in weighs about half a pound, 227 g or 8 oz: the sizes tell which unit a bare number is in.
@pytest.mark.parametrize(
    ("weight", "diameter", "units", "grams"),
    [("0.5", "2.1", Units.US, 226.8), ("8", "2.1", Units.US, 226.8), ("227", "5.3", Units.METRIC, 227.0)],
)
def test_weights_without_a_unit_are_in_the_one_that_fits_the_sizes(
    tmp_path: Path, weight: str, diameter: str, units: Units, grams: float
) -> None:
    (hill,) = read_hills(file_of(tmp_path, f"hill,diameter,weight\n1,{diameter},{weight}\n"), units)
    assert hill.roots[0].grams == pytest.approx(grams, abs=0.1)


@pytest.mark.parametrize(
    ("text", "line", "column", "words"),
    [
        ("", 0, 0, "holds nothing"),
        ("\n\n", 0, 0, "holds nothing"),
        ("hill,diameter\n", 1, 1, "no hills"),
        ("hil,diameter\n1,2\n", 1, 1, "'hil' is no column"),
        ("hill,diametre\n1,2\n", 1, 6, "'diametre' is no column"),
        ("diameter\n2\n", 1, 1, "no column hill"),
        ("hill,length\n1,2\n", 1, 1, "neither diameters nor weights"),
        ("hill,diameter,small\n1,2,3\n", 1, 1, "not both"),
        ("hill,diameter,diameter\n1,2,2\n", 1, 15, "twice"),
        ("hill,diameter\n1,2\n1,x\n", 3, 3, "'x' is not a value"),
        ("hill,diameter\n1, 0\n", 2, 4, "no size of a root"),
        ("hill,diameter\n1,99\n", 2, 3, "no size of a root"),
        ("hill,diameter\n1,2.1 oz\n", 2, 3, "unit 'oz'"),
        ("hill,diameter\n,2.1\n", 2, 1, "which hill"),
        ("hill,diameter\n1,2,5\n", 2, 5, "3 fields"),
        ("hill,diameter,length\n1,,6\n", 2, 4, "length alone"),
        ("hill,weight\n1,8\n", 2, 3, "no weight with a unit"),
        ("hill,small\n1,2.5\n", 2, 3, "no number of roots"),
        ("hill,small\n1,2\n1,3\n", 3, 1, "twice"),
        (b"hill,diameter\n1,\xff\n", 2, 3, "UTF-8"),
        (b"hill,diameter\n1,2\0\n", 2, 4, "control character"),
    ],
)
def test_a_bad_row_is_refused_where_it_stands(
    tmp_path: Path, text: str | bytes, line: int, column: int, words: str
) -> None:
    path = file_of(tmp_path, text)
    with pytest.raises(BadInput) as refused:
        read_hills(path, Units.US)
    assert any(problem.place == Place(str(path), line, column) and words in problem.message
               for problem in refused.value.problems), refused.value  # fmt: skip


def test_every_bad_row_is_told_up_to_twenty(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as refused:
        read_hills(file_of(tmp_path, "hill,diameter\n" + "1,x\n" * 50), Units.US)
    assert len(refused.value.problems) == 20


def test_a_hill_of_too_many_roots_is_told_once(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as refused:
        read_hills(file_of(tmp_path, "hill,diameter\n" + "1,2\n" * 600), Units.US)
    (problem,) = refused.value.problems
    assert (problem.place.line, problem.message) == (502, "The hill '1' has over 500 roots.")


def test_a_file_that_is_not_there_or_a_folder_is_refused(tmp_path: Path) -> None:
    for path in (tmp_path / "none.csv", tmp_path):
        with pytest.raises(BadInput):
            read_hills(path, Units.US)
