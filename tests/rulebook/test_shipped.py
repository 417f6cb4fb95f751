"""Rulebooks by name: what ships, what a user's own folder is, and what a mistyped name is met with."""

from pathlib import Path

import pytest

from assistant.model.place import BadInput
from assistant.model.rules import COMMON_PRACTICE
from assistant.rulebook import check_rulebook, read_rulebook, render_problem, shipped_folder, shipped_rulebooks


def test_the_rulebook_of_the_main_job_ships() -> None:
    assert "sweetpotato/when-to-dig" in shipped_rulebooks()


@pytest.mark.parametrize("name", shipped_rulebooks())
def test_every_shipped_rulebook_is_without_problems_and_named_after_its_folder(name: str) -> None:
    assert [render_problem(problem) for problem in check_rulebook(name)] == []
    assert read_rulebook(name).name == name


@pytest.mark.parametrize("name", shipped_rulebooks())
def test_every_rule_and_caution_that_ships_names_a_source(name: str) -> None:
    book = read_rulebook(name)
    cited = [(rule.name, rule.sources) for rule in book.rules]
    cited += [(caution.name, caution.sources) for caution in book.cautions.values()]
    assert cited
    assert [owner for owner, sources in cited if not set(sources) & {*book.sources, COMMON_PRACTICE}] == []


def test_a_shipped_name_may_also_be_read_by_its_path() -> None:
    path = shipped_folder("rulebooks") / "sweetpotato" / "when-to-dig"
    assert read_rulebook(str(path)).digest == read_rulebook("sweetpotato/when-to-dig").digest


def test_a_shipped_rulebook_has_short_places_seen_from_the_checkout(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(shipped_folder("rulebooks").parent)
    first = read_rulebook("sweetpotato/when-to-dig").rules[0]
    assert first.place.file.startswith(str(Path("rulebooks", "sweetpotato")))


def refused(name: str) -> str:
    with pytest.raises(BadInput) as refusal:
        read_rulebook(name)
    assert refusal.value.problems == check_rulebook(name)
    return render_problem(refusal.value.problems[0])


def test_a_mistyped_name_is_met_with_the_near_one_and_all_that_ship() -> None:
    assert refused("sweetpotato/when-to-dg") == (
        "sweetpotato/when-to-dg: There is no rulebook 'sweetpotato/when-to-dg'. [unknown-rulebook]\n"
        "  Did you mean 'sweetpotato/when-to-dig'? "
        f"Rulebooks here: {', '.join(shipped_rulebooks())}; or name a folder that holds one."
    )


@pytest.mark.parametrize("name", ["", "turnips", "../..nowhere", "a\0b", "x" * 5000, "_schema"])
def test_any_other_name_is_met_with_all_that_ship_and_no_guess(name: str) -> None:
    said = refused(name)
    assert "[unknown-rulebook]" in said
    assert "Did you mean" not in said
    assert "sweetpotato/when-to-dig" in said


def test_a_file_or_a_folder_without_yaml_is_no_rulebook(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("rulebook: x\n")
    (tmp_path / "empty").mkdir()
    assert "A rulebook is a folder, not a file. [not-a-rulebook]" in refused(str(tmp_path / "a.yaml"))
    assert "This folder holds no file that ends in .yaml. [not-a-rulebook]" in refused(str(tmp_path / "empty"))


def test_an_installed_package_finds_what_ships_inside_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("assistant.rulebook.shipped._ASSISTANT", tmp_path / "assistant")
    assert shipped_folder("scenarios") == tmp_path / "scenarios"
    (tmp_path / "assistant" / "shipped" / "scenarios").mkdir(parents=True)
    assert shipped_folder("scenarios") == tmp_path / "assistant" / "shipped" / "scenarios"
