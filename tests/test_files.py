"""Files and folders are whole or not there, and nothing that is not ours is ever lost."""

from __future__ import annotations

from pathlib import Path

import pytest

from panelgen.errors import ExportError
from panelgen.files import MARKER, whole_file, whole_folder


def write(out: Path, **files: str) -> None:
    with whole_folder(out) as folder:
        for name, text in files.items():
            (folder / name).write_text(text)


def write_then_fail(out: Path) -> None:
    with whole_folder(out) as folder:
        (folder / "a").write_text("2")
        raise ZeroDivisionError


def content(out: Path) -> dict[str, str]:
    return {file.name: file.read_text() for file in out.iterdir() if file.name != MARKER}


def test_folder_appears_whole_with_a_list_of_its_files(tmp_path: Path) -> None:
    out = tmp_path / "not" / "yet" / "there"
    with whole_folder(out) as folder:
        (folder / "sub").mkdir()
        (folder / "sub" / "b").write_text("2")
        (folder / "a").write_text("1")
        assert not out.exists()
    assert (out / MARKER).read_text() == "a\nsub/b\n"
    assert (out / "sub" / "b").read_text() == "2"
    assert list(out.parent.iterdir()) == [out]


def test_an_empty_folder_is_used(tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    write(out, a="1")
    assert content(out) == {"a": "1"}


def test_our_earlier_output_is_replaced_not_mixed(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write(out, a="1", b="1")
    write(out, b="2")
    assert content(out) == {"b": "2"}
    assert list(tmp_path.iterdir()) == [out]


def test_failure_keeps_the_earlier_output_and_leaves_no_scratch(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write(out, a="1")
    with pytest.raises(ZeroDivisionError):
        write_then_fail(out)
    assert content(out) == {"a": "1"}
    assert list(tmp_path.iterdir()) == [out]


def test_failure_writes_nothing_where_there_was_nothing(tmp_path: Path) -> None:
    with pytest.raises(ZeroDivisionError):
        write_then_fail(tmp_path / "out")
    assert list(tmp_path.iterdir()) == []


def test_foreign_folder_is_refused_and_kept(tmp_path: Path) -> None:
    (tmp_path / "letters").mkdir()
    (tmp_path / "letters" / "one").write_text("dear")
    with pytest.raises(ExportError, match="did not write"):
        write(tmp_path / "letters", a="1")
    assert content(tmp_path / "letters") == {"one": "dear"}


def test_output_with_an_added_file_is_refused_and_kept(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write(out, a="1")
    (out / "remarks.txt").write_text("mine")
    with pytest.raises(ExportError, match=r"remarks\.txt"):
        write(out, a="2")
    assert content(out) == {"a": "1", "remarks.txt": "mine"}


def test_output_with_a_link_added_is_refused(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write(out, a="1")
    (out / "shortcut").symlink_to(tmp_path)
    with pytest.raises(ExportError, match="shortcut"):
        write(out, a="2")


def test_something_that_is_no_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("text")
    with pytest.raises(ExportError, match="not a folder"):
        write(tmp_path / "out", a="1")


def test_a_link_leads_to_the_folder_it_names(tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(tmp_path / "real")
    write(tmp_path / "link", a="1")
    assert content(tmp_path / "real") == {"a": "1"}
    assert (tmp_path / "link").is_symlink()


def test_the_current_folder_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    inside = tmp_path / "inside"
    inside.mkdir()
    monkeypatch.chdir(inside)
    for out in (Path(), Path("..")):
        with pytest.raises(ExportError, match="current folder"):
            write(out, a="1")


def test_place_below_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("text")
    with pytest.raises(ExportError, match="cannot write beside"):
        write(tmp_path / "file" / "out", a="1")


def test_when_the_last_rename_fails_the_earlier_output_comes_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    write(out, a="1")
    rename = Path.rename

    def fails_for_the_new_one(self: Path, target: Path) -> Path:
        if self.name == "new":
            raise OSError(28, "No space left on device")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", fails_for_the_new_one)
    with pytest.raises(ExportError, match="No space left"):
        write(out, a="2")
    assert content(out) == {"a": "1"}


def test_file_takes_its_name_when_the_block_ends(tmp_path: Path) -> None:
    with whole_file(tmp_path / "a.txt") as scratch:
        scratch.write_text("whole")
        assert not (tmp_path / "a.txt").exists()
    assert [(file.name, file.read_text()) for file in tmp_path.iterdir()] == [("a.txt", "whole")]


def test_failure_keeps_the_earlier_file(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_text("earlier")

    def fail() -> None:
        with whole_file(tmp_path / "a.txt") as scratch:
            scratch.write_text("half")
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()
    assert [(file.name, file.read_text()) for file in tmp_path.iterdir()] == [("a.txt", "earlier")]


def test_file_in_no_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ExportError, match="cannot write"), whole_file(tmp_path / "nowhere" / "a.txt"):
        pass
