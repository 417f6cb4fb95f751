"""The next year's rulebook on the screen, which has no code of its own for it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from walking import says, walk

from assistant.model.case import Case
from assistant.model.quantities import Units
from assistant.rulebook import read_rulebook
from assistant.season import Visit
from assistant.tui.app import DigDay
from assistant.tui.sitting import Sitting
from assistant.tui.verdict import VerdictScreen

NAME = "sweetpotato/next-year"
AUTUMN = {"slips": "none", "bed": "bare", "garlic_ready": "yes", "weeks_to_freeze": "6", "weeks_to_planting": "30"}
SPRING = {
    "slips": "ready", "forecast_low": "9", "soil_temperature": "18.5", "warm_mornings": "5", "years_since": "4",
    "bed_disease": "none", "bed": "growing", "weeks_to_planting": "0", "garlic_ready": "no",
}  # fmt: skip


@pytest.mark.parametrize(
    ("answers", "units", "headline"),
    [(AUTUMN, Units.US, "Plant garlic in the empty bed"), (SPRING, Units.METRIC, "Set the slips out")],
    ids=["autumn", "spring"],
)
async def test_the_interview_ends_in_the_advice(
    tmp_path: Path, answers: dict[str, str], units: Units, headline: str
) -> None:
    case = Case("The bed after the dig", NAME, date(2031, 10, 20), units)
    app = DigDay(Sitting(Visit(read_rulebook(NAME), case), tmp_path / "bed.yaml"))
    async with app.run_test(size=(80, 24)) as pilot:
        await walk(pilot, app, answers)
        assert isinstance(app.screen, VerdictScreen)
        assert says(app, "#headline").startswith(headline)
