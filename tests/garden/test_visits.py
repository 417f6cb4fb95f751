"""Visits in the notebook: what was answered is there, whatever happens next."""

from __future__ import annotations

from assistant.cases.notebooks import notebook_data
from assistant.garden.demo import TODAY
from assistant.garden.entries.taking_out import take_out, what_goes
from assistant.garden.entries.visits import begin, frost_tonight, keep_verdict, reopen, verdict_today
from assistant.garden.standing.finding import find_bed
from assistant.garden.standing.stages import Stage
from assistant.garden.telling.timeline import timeline, visit_story
from assistant.model.case import TestDig
from assistant.model.notebook import AnswerRow, VerdictRow, VisitRow
from assistant.model.readings import Span
from assistant.notebook import Notebook
from assistant.season import advise


def words_of(notebook: Notebook, visit: VisitRow) -> dict[str, str]:
    """What is told of a visit, by label."""
    return {told.label: told.words for told in visit_story(notebook, visit)}


def test_a_visit_begins_with_what_the_notebook_knows_of_the_planting(notebook: Notebook) -> None:
    kept = begin(notebook, find_bed(notebook, "Orchard", TODAY), TODAY)
    answers = kept.visit.case.answers
    assert set(answers) == {"planted_on", "variety"}
    assert answers["planted_on"].written == "2031-06-20"
    assert "first_frost" in kept.visit.case.garden.dates


def test_a_visit_reopens_as_it_was_left_test_dig_and_all(notebook: Notebook) -> None:
    kept = begin(notebook, find_bed(notebook, "Orchard", TODAY), TODAY)
    visit = kept.visit.answer("vines", "green").answer("forecast_low", "about 40").answer("soil", "can't tell")
    visit = visit.forget("variety").dig(TestDig(Span(1.75, 3.5), ((2.1, 1.2), (3.0,))))
    kept.save(visit.case, notebook.path)
    again = reopen(notebook, kept.row).visit
    assert again.case.answers == visit.case.answers
    assert tuple(again.case.answers) == tuple(visit.case.answers)
    assert again.case.test_dig == visit.case.test_dig
    assert advise(again.rulebook, again.case).headline == advise(visit.rulebook, visit.case).headline


def test_todays_visit_is_gone_on_with_and_not_begun_twice(notebook: Notebook) -> None:
    first = begin(notebook, find_bed(notebook, "Orchard", TODAY), TODAY)
    assert begin(notebook, find_bed(notebook, "Orchard", TODAY), TODAY).row == first.row


def test_saving_what_is_saved_makes_no_entry(notebook: Notebook) -> None:
    kept = begin(notebook, find_bed(notebook, "Orchard", TODAY), TODAY)
    before = notebook.last_entry
    kept.save(kept.visit.case, notebook.path)
    assert notebook.last_entry == before
    verdict = kept.visit.verdict()
    assert keep_verdict(notebook, kept.row, verdict) is not None
    assert keep_verdict(notebook, kept.row, verdict) is None


def test_frost_tonight_reaches_every_bed_with_roots_in_the_ground_and_no_other(notebook: Notebook) -> None:
    before = notebook_data(notebook)
    growing = {now.bed.name for now in frost_tonight(notebook, "29", TODAY) if now.planting}
    assert growing == {"River bed", "Orchard strip", "South wall", "New ground"}
    for name in growing:
        now = find_bed(notebook, name, TODAY)
        assert (now.stage, now.next.by) == (Stage.DIG, TODAY)
        assert now.visit
        [low] = notebook.all(AnswerRow, visit=now.visit.id, sign="forecast_low")
        assert (low.low, low.high) == (29, 29)
    assert find_bed(notebook, "Gate bed", TODAY).stage is Stage.CURING
    notebook.undo_last()
    assert notebook_data(notebook) == before


def test_a_mild_night_turns_no_bed_to_be_dug_that_was_not(notebook: Notebook) -> None:
    frost_tonight(notebook, "55", TODAY)
    digs = [name for name in ("Orchard", "South", "New") if find_bed(notebook, name, TODAY).stage is Stage.DIG]
    assert digs == []


def test_the_story_of_a_bed_has_every_visit_the_latest_first(notebook: Notebook) -> None:
    river = find_bed(notebook, "River", TODAY)
    events = timeline(notebook, river.bed)
    assert [event.day for event in events] == sorted((event.day for event in events), reverse=True)
    assert sum(isinstance(event.record, VisitRow) for event in events) == 2


def test_a_visit_tells_its_advice_then_and_by_todays_rules(notebook: Notebook) -> None:
    river = find_bed(notebook, "River", TODAY)
    assert river.visit
    assert words_of(notebook, river.visit)["by today's rules"].startswith("the same")
    [then] = notebook.all(VerdictRow, visit=river.visit.id)
    notebook.change(then._replace(headline="Wait", digest="another"))
    assert words_of(notebook, river.visit)["by today's rules"] == verdict_today(notebook, river.visit).headline


def test_a_bed_taken_out_is_whole_again_after_undoing(notebook: Notebook) -> None:
    before = notebook_data(notebook)
    river = find_bed(notebook, "River", TODAY).bed
    assert what_goes(notebook, river).startswith("1 planting, 2 visits")
    take_out(notebook, river)
    assert notebook_data(notebook) != before
    notebook.undo_last()
    assert notebook_data(notebook) == before
