"""A log against its limits as a picture: the limits a grey band, the log a line that breaks where it has a gap."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from html import escape

from assistant.explain.log_plot import Series
from assistant.model.quantities import short_day

WIDE, HIGH, LEFT, RIGHT, EDGE = 640, 180, 44, 8, 20
"""Size of the picture and its margins, in its own units."""
LONGEST_STEP = timedelta(hours=36)
"""A line between readings further apart would say more than is known (our own judgement)."""
MOST_POINTS = 600
"""In a picture; more cannot be told apart on paper."""


def plot_svg(series: Series) -> str:
    """The plot as an SVG element, black on white with one grey."""
    return "".join(_parts(series))


def _parts(series: Series) -> Iterator[str]:
    limits = series.limits
    top, bottom = _down(series, limits.high), _down(series, limits.low)
    yield f'<svg viewBox="0 0 {WIDE} {HIGH}" role="img" xmlns="http://www.w3.org/2000/svg" font-size="11">'
    yield f"<title>{escape(series.heading)}</title>"
    yield f'<rect x="{LEFT}" y="{top:.1f}" width="{WIDE - LEFT - RIGHT}" height="{bottom - top:.1f}" fill="#ddd"/>'
    for value in sorted({limits.low, limits.high, series.ends.low, series.ends.high}):
        yield f'<text x="{LEFT - 6}" y="{_down(series, value) + 4:.1f}" text-anchor="end">{value:.0f}</text>'
    for run in _runs(series):
        points = " ".join(f"{_across(series, at):.1f},{_down(series, value):.1f}" for at, value in run)
        yield f'<polyline points="{points}" fill="none" stroke="#000" stroke-linecap="round" stroke-width="1.5"/>'
    for at in (series.points[0][0], series.points[0][0] + series.time / 2):
        yield f'<text x="{_across(series, at):.1f}" y="{HIGH - 4}">{short_day(at)}</text>'
    yield f'<text x="{LEFT}" y="12">{escape(f"{series.name}, {series.unit}")}</text></svg>'


def _down(series: Series, value: float) -> float:
    ends = series.ends
    return (ends.high - value) / ((ends.high - ends.low) or 1.0) * (HIGH - 2 * EDGE) + EDGE


def _across(series: Series, at: datetime) -> float:
    return LEFT + series.along(at) * (WIDE - LEFT - RIGHT)


def _runs(series: Series) -> Iterator[list[tuple[datetime, float]]]:
    """The points, parted at the gaps; one alone is drawn as a dot."""
    run: list[tuple[datetime, float]] = []
    for point in thinned(series.points):
        if run and point[0] - run[-1][0] > LONGEST_STEP:
            yield run
            run = []
        run.append(point)
    yield run * 2 if len(run) == 1 else run


def thinned(points: Sequence[tuple[datetime, float]]) -> tuple[tuple[datetime, float], ...]:
    """Few enough points to draw, the lowest and highest of each stretch among them."""
    each = -(-len(points) // (MOST_POINTS // 2))
    if each <= 2:
        return tuple(points)
    stretches = (points[at : at + each] for at in range(0, len(points), each))
    ends = ({min(few, key=lambda p: p[1]), max(few, key=lambda p: p[1])} for few in stretches)
    return tuple(point for both in ends for point in sorted(both))
