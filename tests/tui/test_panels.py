"""Pictures laid out beside and below each other: whole, in their order, and in the room there is."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from assistant.garden.telling.pictures import Picture
from assistant.tui.widgets.panels import LOWEST, NARROWEST, panel_lines


def picture(name: str, lines: int) -> Picture:
    """One that takes all the columns it gets, and as many lines as it likes of those it gets."""

    def draw(width: int, height: int) -> list[str]:
        return [name, *(f"{'─' * (width - 1)}┤" for _ in range(min(lines, height) - 1))]

    return Picture(draw, list)


pictures = st.lists(st.integers(2, 20), min_size=1, max_size=6).map(
    lambda heights: tuple(picture(f"Picture {at}", lines) for at, lines in enumerate(heights))
)


@given(pictures, st.integers(NARROWEST, 200), st.integers(LOWEST, 60))
def test_pictures_keep_to_their_room_and_none_is_cut(drawn: tuple[Picture, ...], width: int, height: int) -> None:
    lines = [line.plain for line in panel_lines(drawn, width, height)]
    assert len(lines) <= height
    assert all(len(line) <= width for line in lines)
    assert all(set(part) == {"─", "┤"} for line in lines if "─" in line for part in line.split())


@given(pictures, st.integers(NARROWEST, 200), st.integers(LOWEST, 60))
def test_the_first_pictures_come_first_and_more_room_never_shows_fewer(
    drawn: tuple[Picture, ...], width: int, height: int
) -> None:
    def shown(lines: int) -> list[int]:
        text = " ".join(line.plain for line in panel_lines(drawn, width, lines))
        return [at for at in range(len(drawn)) if f"Picture {at}" in text]

    assert shown(height) == list(range(len(shown(height))))
    assert 1 <= len(shown(height)) <= len(shown(height + 5))


def test_without_room_or_pictures_nothing_is_drawn() -> None:
    assert panel_lines((), 80, 24) == panel_lines((picture("One", 5),), 80, 0) == ()
