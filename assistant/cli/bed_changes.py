"""The ways of `bed` that mend what was written: an entry changed or taken out, a bed renamed, measured or moved."""

from __future__ import annotations

import argparse
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from assistant.cli.failures import UsageError
from assistant.cli.notebook_ways import add_way, day, find, opened, writes
from assistant.cli.output import Line, say_json, write

if TYPE_CHECKING:
    from assistant.cli.commands import Commands
    from assistant.garden.telling.timeline import Event
    from assistant.model.notebook import BedRow, VisitRow
    from assistant.notebook import Notebook


class Named(NamedTuple):
    """The entry that is named by its number in the story, and of a visit the answer, if one is named."""

    bed: BedRow
    event: Event
    sign: str


def add_changes(ways: Commands) -> None:
    """Add these ways to `bed`."""
    takes = ("name", "entry", "text")
    add_way(ways, "change", writes(_change), "change an entry: its number in the story, and how it should be", *takes)
    remove = add_way(
        ways, "remove", writes(_remove), "take an entry out, or the bed with all that belongs to it", "name"
    )
    remove.add_argument("entry", nargs="?", metavar="ENTRY", help="the entry's number in the story (default: the bed)")
    remove.add_argument("--yes", action="store_true", help="do it; without, only what would go is told")
    add_way(ways, "rename", writes(_rename), "give a bed another name", "name", "new")
    add_way(ways, "size", writes(_size), "how long the rows of a bed are together, such as '40 ft'", "name", "text")
    add_way(ways, "move", writes(_move), "have a bed belong to another garden", "name", "to")


def run_entry(options: argparse.Namespace) -> int:
    """One entry as it can be typed again, and of a visit its answers and its advice."""
    from assistant.garden.entries.corrections import written
    from assistant.garden.telling.timeline import visit_story
    from assistant.model.notebook import VisitRow

    with opened(options, new=False) as notebook:
        named = _named(notebook, options, day(options))
        record = named.event.record
        line = written(notebook, named.bed, record)
        story = visit_story(notebook, record) if isinstance(record, VisitRow) else ()
    if options.json:
        answers = [{"sign": told.sign or None, "label": told.label, "words": told.words} for told in story]
        say_json({"entry": options.entry, "what": named.event.words, "written": line, "story": answers})
    else:
        write([Line(named.event.words), Line(f"written: {line}")])
        write(Line(f"{told.sign or told.label}: {told.words}", indent=2) for told in story)
    return 0


def _change(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries.corrections import change, change_answer, written

    bed, event, sign = _named(notebook, options, on)
    if sign:
        answer = change_answer(notebook, _visit(event), sign, options.text)
        return f"{answer.sign.replace('_', ' ')} is now: {answer.written}. Its verdict stays as it was given."
    before = written(notebook, bed, event.record)
    name = change(notebook, bed, event.record, options.text)
    now = written(notebook, bed, notebook.get(type(event.record), event.record.id))
    return f"The {name} was: {before}; and is now: {now}."


def _remove(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries.taking_out import take_out, take_out_answer, take_out_entry, what_goes

    if options.entry is None:
        bed = find(notebook, options, on).bed
        goes = what_goes(notebook, bed)
        _need_yes(options, bed.name, goes)
        return f"{take_out(notebook, bed).name} is out, and with it: {goes}. 'digday bed undo' brings it back."
    bed, event, sign = _named(notebook, options, on)
    if sign:
        _need_yes(options, f"the answer {sign}", "nothing else, and the verdict stays as it was given")
        take_out_answer(notebook, _visit(event), sign)
        return f"{sign.replace('_', ' ')} is rubbed out. 'digday bed undo' brings it back."
    goes = what_goes(notebook, event.record)
    _need_yes(options, f"'{event.words}' of {event.day.isoformat()}", goes)
    name = take_out_entry(notebook, bed, event.record)
    return f"The {name} is out, and with it: {goes}. 'digday bed undo' brings it back."


def _rename(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries.gardens import rename_bed

    return f"The bed is named {rename_bed(notebook, find(notebook, options, on).bed, options.new).name}."


def _size(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries.gardens import size_bed
    from assistant.garden.standing.words import length_words

    now = find(notebook, options, on)
    assert now.garden is not None
    length = size_bed(notebook, now.bed, options.text).length or 0.0
    return f"The rows of {now.bed.name} are {length_words(length, now.garden.units)} long together."


def _move(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries.gardens import move_bed
    from assistant.garden.standing.finding import find_garden

    garden = find_garden(notebook, options.to)
    return f"{move_bed(notebook, find(notebook, options, on).bed, garden).name} is in {garden.name}."


def _named(notebook: Notebook, options: argparse.Namespace, on: date) -> Named:
    from assistant.garden.telling.timeline import timeline

    bed = find(notebook, options, on).bed
    events = timeline(notebook, bed)
    number, _, sign = options.entry.partition(".")
    if not number.isdecimal() or not 1 <= int(number[:9]) <= len(events):
        told = f"it has {len(events)}, numbered from 1" if events else "it has none"
        raise UsageError(f"'{options.entry}' is no entry of {bed.name}; {told}; see 'digday bed show'.")
    return Named(bed, events[int(number) - 1], sign)


def _visit(event: Event) -> VisitRow:
    from assistant.model.notebook import VisitRow

    if not isinstance(event.record, VisitRow):
        raise UsageError(f"'{event.words}' is no visit, so it has no answers; leave out what stands after the point.")
    return event.record


def _need_yes(options: argparse.Namespace, what: str, goes: str) -> None:
    if not options.yes:
        raise UsageError(f"with {what} goes: {goes}; nothing is taken out without --yes.")
