"""A file on disk is the old one or the new one, whole, whatever happens in between."""

from __future__ import annotations

import errno
import os
import resource
import signal
import stat
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from filelock import FileLock

from builders import HEAD
from tailblock.errors import ProblemsFound, TailblockError
from tailblock.inspection import edit, store, write
from tailblock.inspection.model import InspectionFields, ReadingFields

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tailblock.inspection.record import Inspection
    from tailblock.knowledge.checklist import Checklist

OLD = HEAD + "  - stage: arrival  # came in a car\r\n    date: 2031-03-02\r\n"
TAP = ReadingFields(check="tap", value="slight")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.yaml"
    path.write_bytes(OLD.encode())
    return path


@pytest.fixture
def find(bench: Checklist) -> store.ChecklistFinder:
    return lambda _: bench


def with_tap(text: str, record: Inspection) -> str:
    return edit.add_reading(text, str(record.path), len(record.visits) - 1, TAP)


def files_beside(path: Path) -> set[str]:
    return {one.name for one in path.parent.iterdir()} - {f".{path.name}.lock"}


def untouched(path: Path, *, content: bytes = OLD.encode()) -> bool:
    return path.read_bytes() == content and files_beside(path) == {path.name}


def test_a_change_is_on_disk_and_comes_back_as_the_record(
    job: Path, find: store.ChecklistFinder
) -> None:
    record = write.change(job, find, with_tap)
    assert record == store.read(job, find)
    assert record.visits[0].readings[0].answer.level == "slight"
    added = b"    readings:\r\n      - {check: tap, value: slight}\r\n"
    assert job.read_bytes().replace(added, b"", 1) == OLD.encode()
    assert files_beside(job) == {"job.yaml"}


def test_permissions_stay_as_they_were(job: Path, find: store.ChecklistFinder) -> None:
    job.chmod(0o640)
    write.change(job, find, with_tap)
    assert stat.S_IMODE(job.stat().st_mode) == 0o640


def test_a_link_stays_a_link(job: Path, find: store.ChecklistFinder) -> None:
    link = job.with_name("link.yaml")
    link.symlink_to(job)
    record = write.change(link, find, with_tap)
    assert link.is_symlink()
    assert record.path == link
    assert b"slight" in job.read_bytes()


def test_what_another_program_wrote_in_between_is_kept(
    job: Path, find: store.ChecklistFinder
) -> None:
    before = store.read(job, find)
    job.write_bytes(OLD.encode() + b"    by: someone else\r\n")
    after = write.change(job, find, with_tap)
    assert after.digest != before.digest
    assert (after.visits[0].by, len(after.visits[0].readings)) == ("someone else", 1)


def test_many_at_once_lose_nothing(job: Path, tmp_path: Path) -> None:
    """Three processes write four readings each; all are there in the end."""
    script = """
import sys
from pathlib import Path
from tailblock.inspection import edit, write
from tailblock.inspection.model import ReadingFields
from tailblock.knowledge.loader import load
bench = load(Path(sys.argv[2])).checklist
for value in ("none", "slight", "none", "unknown"):
    fields = ReadingFields(check="tap", value=value)
    write.change(Path(sys.argv[1]), lambda _: bench,
                 lambda text, _: edit.add_reading(text, "job", 0, fields))
"""
    from builders import BENCH  # noqa: PLC0415  (only here)

    folder = tmp_path / "bench"
    folder.mkdir()
    (folder / "checklist.yaml").write_text(BENCH, encoding="utf-8")
    command = [sys.executable, "-c", script, str(job), str(folder)]
    running = [subprocess.Popen(command) for _ in range(3)]
    assert [process.wait() for process in running] == [0, 0, 0]
    assert job.read_text().count("check: tap") == 12


def break_with(error: OSError) -> Callable[..., None]:
    def broken(*_: object, **__: object) -> None:
        raise error

    return broken


FULL = OSError(errno.ENOSPC, "No space left on device")
BREAKING = {
    "no room for the temporary file": ("tempfile.mkstemp", FULL, "the disk is full"),
    "no room while writing": ("os.fdopen", FULL, "the disk is full"),
    "no room when forced to disk": ("os.fsync", FULL, "the disk is full"),
    "over the quota": ("os.fsync", OSError(errno.EDQUOT, "Quota"), "the disk is full"),
    "a disk that fails": ("os.fsync", OSError(errno.EIO, "Input/output error"), "Input/output"),
    "no right to set permissions": ("os.fchmod", OSError(errno.EPERM, "No"), "read-only for you"),
    "a read-only disk": ("tempfile.mkstemp", OSError(errno.EROFS, "No"), "a read-only disk"),
    "no right to replace": (
        "pathlib.Path.replace",
        PermissionError(errno.EACCES, "No"),
        "read-only for you",
    ),
}


@pytest.mark.parametrize("breaking", BREAKING.values(), ids=BREAKING)
def test_a_failing_write_leaves_the_old_file_and_nothing_else(
    job: Path,
    find: store.ChecklistFinder,
    monkeypatch: pytest.MonkeyPatch,
    breaking: tuple[str, OSError, str],
) -> None:
    call, error, said = breaking
    monkeypatch.setattr(call, break_with(error))
    with pytest.raises(write.CannotWrite) as refused:
        write.change(job, find, with_tap)
    monkeypatch.undo()
    sentence = str(refused.value)
    assert sentence.startswith(f"{job}: cannot be written: ")
    assert said in sentence
    assert "nothing was changed" in sentence
    assert "\n" not in sentence
    assert untouched(job)


def test_breaking_off_leaves_the_old_file_and_nothing_else(
    job: Path, find: store.ChecklistFinder, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupt(_: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write.change(job, find, with_tap)
    monkeypatch.undo()
    assert untouched(job)
    write.change(job, find, with_tap)  # and the lock is free again


def test_a_limit_of_the_system_in_the_middle_of_a_write(
    job: Path, find: store.ChecklistFinder
) -> None:
    """The kernel itself cuts the write off: a part of it is on disk when it fails."""
    limits = resource.getrlimit(resource.RLIMIT_FSIZE)
    handler = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (len(OLD) // 2, limits[1]))
    try:
        with pytest.raises(write.CannotWrite, match="larger than the system allows"):
            write.change(job, find, with_tap)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, limits)
        signal.signal(signal.SIGXFSZ, handler)
    assert untouched(job)


def test_a_folder_that_cannot_be_forced_to_disk_is_no_failure(
    job: Path, find: store.ChecklistFinder, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "open", break_with(OSError(errno.EINVAL, "Invalid argument")))
    write._sync_folder(job.parent)
    monkeypatch.undo()
    synced = []
    monkeypatch.setattr(
        os, "fsync", lambda handle: synced.append(stat.S_ISDIR(os.fstat(handle).st_mode))
    )
    write.change(job, find, with_tap)
    assert synced == [False, True]  # the file, then its folder


def test_a_read_only_file_is_refused_even_to_its_owner(
    job: Path, find: store.ChecklistFinder
) -> None:
    job.chmod(0o444)
    with pytest.raises(write.CannotWrite, match=r"read-only for you; nothing was changed \(allow"):
        write.change(job, find, with_tap)
    assert untouched(job)


def test_a_locked_file_is_refused_after_a_moment(
    job: Path, find: store.ChecklistFinder, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(write, "LOCK_PATIENCE", 0.05)
    with FileLock(job.with_name(".job.yaml.lock")):
        with pytest.raises(write.FileLocked) as refused:
            write.change(job, find, with_tap)
        with pytest.raises(write.FileLocked):
            write.begin(job.with_name("job.yaml"), find, FIELDS)
    assert str(refused.value) == (
        f"{job}: another Tailblock is writing to this file; nothing was changed "
        "(close it or try again)"
    )
    assert untouched(job)


def test_a_lock_that_cannot_be_made_is_a_read_only_folder(
    job: Path, find: store.ChecklistFinder, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(FileLock, "acquire", break_with(PermissionError(errno.EACCES, "No")))
    with pytest.raises(write.CannotWrite, match="read-only for you"):
        write.change(job, find, with_tap)
    assert untouched(job)


def test_an_edit_that_would_not_read_is_not_written(job: Path, find: store.ChecklistFinder) -> None:
    forty = ReadingFields(check="action", value="40 mm")
    with pytest.raises(ProblemsFound, match="out-of-range"):
        write.change(job, find, lambda text, _: edit.add_reading(text, "job.yaml", 0, forty))
    assert untouched(job)


@pytest.mark.parametrize("name", ["gone.yaml", "gone/job.yaml"])
def test_a_file_that_is_not_there_leaves_no_lock_behind(
    tmp_path: Path, find: store.ChecklistFinder, name: str
) -> None:
    with pytest.raises(store.NoSuchFile):
        write.change(tmp_path / name, find, with_tap)
    assert list(tmp_path.iterdir()) == []


FIELDS = InspectionFields.model_validate(
    {
        "job": "2031-014",
        "checklist": "bench",
        "instrument": {
            "description": "a parlour guitar, ladder-braced: small",
            "traits": {"bridge": "pin", "strings": "steel"},
            "scale_length": "25 1/2 in",
        },
        "player": {"name": "A. Player"},
        "visits": [{"stage": "arrival", "date": "2031-03-02", "setup": {"strings": "slack"}}],
    }
)


def test_a_new_inspection_is_written_for_people(
    tmp_path: Path, find: store.ChecklistFinder
) -> None:
    path = tmp_path / "new.yaml"
    record = write.begin(path, find, FIELDS)
    assert record == store.read(path, find)
    assert path.read_text() == (
        "tailblock: 1\n"
        "job: 2031-014\n"
        "checklist: bench\n"
        "player: {name: A. Player}\n"
        "instrument:\n"
        '  description: "a parlour guitar, ladder-braced: small"\n'
        "  traits: {bridge: pin, strings: steel}\n"
        "  scale_length: 25 1/2 in\n"
        "visits:\n"
        "  - stage: arrival\n"
        "    date: 2031-03-02\n"
        "    setup: {strings: slack}\n"
    )
    mask = os.umask(0)
    os.umask(mask)
    assert stat.S_IMODE(path.stat().st_mode) == 0o666 & ~mask


def test_a_new_inspection_never_replaces_a_file(job: Path, find: store.ChecklistFinder) -> None:
    with pytest.raises(write.FileExists, match=r"job\.yaml: there is a file of that name already"):
        write.begin(job, find, FIELDS)
    assert untouched(job)


def test_a_new_inspection_that_does_not_fit_its_checklist_is_not_written(
    tmp_path: Path, find: store.ChecklistFinder
) -> None:
    instrument = FIELDS.instrument.model_copy(update={"traits": {"bridge": "glued"}})
    with pytest.raises(ProblemsFound, match="bridge cannot be 'glued'"):
        write.begin(
            tmp_path / "new.yaml", find, FIELDS.model_copy(update={"instrument": instrument})
        )
    assert list(tmp_path.iterdir()) == []


def test_a_new_inspection_needs_its_folder(tmp_path: Path, find: store.ChecklistFinder) -> None:
    with pytest.raises(TailblockError, match=r"cannot be written: there is no such folder"):
        write.begin(tmp_path / "gone" / "new.yaml", find, FIELDS)
    assert list(tmp_path.iterdir()) == []
