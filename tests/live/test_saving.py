"""Saving changes the signs of the changed values alone, keeps the text before, and loses nothing."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest
from fitted import ON_TAPES

from cage3d.design.read import read
from cage3d.errors import CageError, DesignError, OutputError
from cage3d.live.fitting import open_file
from cage3d.live.saving import ChangedOnDiskError, kept_beside, saved
from cage3d.write import files

SAMPLES = Path(__file__).parents[2] / "samples"
SAMPLE = (SAMPLES / "a-short-petticoat.yaml").read_text("utf-8")
HOOP = "hoops[3].length"


@pytest.fixture
def design(tmp_path: Path) -> Path:
    path = tmp_path / "petticoat.yaml"
    path.write_text(SAMPLE, "utf-8", newline="")
    return path


@pytest.fixture
def every(request: pytest.FixtureRequest) -> int:
    """Of so many sliders one is tried."""
    return 1 if request.config.getoption("--slow") else 11


def written(path: Path) -> str:
    return path.read_bytes().decode("utf-8")


def test_only_the_changed_signs_change(design: Path):
    saved(open_file(design), {HOOP: "74 1/2", "skirt.weight": "0.9 kg"})
    expected = SAMPLE.replace("{length: 74,", "{length: 74 1/2,").replace("weight: 0.8 kg", "weight: 0.9 kg")
    assert written(design) == expected
    assert kept_beside(design).name == "petticoat.yaml.before"
    assert written(kept_beside(design)) == SAMPLE


def test_what_is_saved_is_what_was_shown(design: Path):
    opened = open_file(design)
    values = {HOOP: "188 cm", "tapes.drops[2][1]": "6 1/8", "steel.thickness": "0.6 mm"}
    assert saved(opened, values).design == opened.design_with(values) == read(design)
    assert read(design).hoops[3].length == pytest.approx(1.88, abs=1e-12)
    assert read(design).tapes.drops[2][1] == pytest.approx(6.125 * 0.0254, abs=1e-12)
    assert read(design).tapes.drops[1][1] == pytest.approx(6 * 0.0254, abs=1e-12)


@pytest.mark.parametrize("hoop", ["74", "74.0", "187.96 cm", "6' 2"])
def test_what_was_moved_there_and_back_stays_as_it_is_written(design: Path, hoop: str):
    saved(open_file(design), {"tapes.drops[0][0]": "8.25", HOOP: hoop, "skirt.weight": "800 g"})
    assert written(design) == SAMPLE
    assert not kept_beside(design).exists()  # nothing was written


def test_a_drop_that_all_tapes_share_stays_one(design: Path):
    saved(open_file(design), {f"tapes.drops[{tape}][1]": "6 1/4" for tape in range(8)})
    assert written(design) == SAMPLE.replace("drops: [8 1/4, 6, 5 1/2, 5]", "drops: [8 1/4, 6 1/4, 5 1/2, 5]")


def test_the_drop_of_one_tape_alone_is_its_own(design: Path):
    saved(open_file(design), {"tapes.drops[4][1]": "6 1/4"})
    drops = read(design).tapes.drops
    assert [round(row[1] / 0.0254, 6) for row in drops] == [6, 6, 6, 6, 6.25, 6, 6, 6]
    assert "# waistband to hoop 1, hoop 1 to hoop 2, ..." in written(design)


def test_an_alias_is_written_out_where_it_becomes_another(design: Path):
    text = SAMPLE.replace("- {length: 48, join", "- {length: &top 60, join")
    text = text.replace("- {length: 60, join", "- {length: *top, join")
    design.write_text(text, "utf-8", newline="")
    saved(open_file(design), {"hoops[1].length": "61"})
    assert written(design) == text.replace("*top,", "61,")
    assert [round(hoop.length / 0.0254, 6) for hoop in read(design).hoops] == [60, 61, 69, 74]


def test_what_an_alias_is_named_after_changes_alone(design: Path):
    text = SAMPLE.replace("- {length: 48, join", "- {length: &top 60, join").replace(
        "- {length: 60, join", "- {length: *top, join"
    )
    design.write_text(text, "utf-8", newline="")
    saved(open_file(design), {"hoops[0].length": "58"})
    assert [round(hoop.length / 0.0254, 6) for hoop in read(design).hoops] == [58, 60, 69, 74]


@pytest.mark.parametrize("quote", ["'", '"'])
def test_quotes_stay(design: Path, quote: str):
    text = SAMPLE.replace("{length: 74,", f"{{length: {quote}74 in{quote},")
    design.write_text(text, "utf-8", newline="")
    saved(open_file(design), {HOOP: "75 1/4 in"})
    assert written(design) == text.replace("74 in", "75 1/4 in")


def test_line_ends_and_the_mark_at_the_beginning_stay(design: Path):
    text = SAMPLE.replace("\n", "\r\n")
    design.write_bytes(b"\xef\xbb\xbf" + text.encode())
    saved(open_file(design), {HOOP: "75"})
    assert design.read_bytes() == b"\xef\xbb\xbf" + text.replace("{length: 74,", "{length: 75,").encode()


@pytest.mark.parametrize("sample", ON_TAPES, ids=lambda path: path.name[0])
def test_sliders_of_the_samples_can_be_saved(sample: Path, tmp_path: Path, every: int):
    path = tmp_path / "petticoat.yaml"
    path.write_bytes(sample.read_bytes())
    opened = open_file(path)
    moved = 0
    tried = list(opened.controls.items())[::every]
    for place, control in tried:
        values = {place: control.text_of(control.value + control.step)}
        try:
            opened.design_with(values)
        except DesignError:
            continue  # one step more cannot be here
        moved += 1
        after = saved(opened, values)
        assert after.design == opened.design_with(values)
        assert len(written(path).splitlines()) >= len(opened.text.splitlines())
        path.write_bytes(sample.read_bytes())
    assert moved > 0.6 * len(tried)


def test_a_file_that_was_changed_meanwhile_is_left_alone(design: Path):
    opened = open_file(design)
    other = SAMPLE.replace("0.8 kg", "0.9 kg")
    design.write_text(other, "utf-8", newline="")
    with pytest.raises(ChangedOnDiskError):
        saved(opened, {HOOP: "75"})
    assert written(design) == other
    assert not kept_beside(design).exists()


def test_saving_over_it_keeps_both_changes(design: Path):
    opened = open_file(design)
    other = SAMPLE.replace("0.8 kg", "0.9 kg")
    design.write_text(other, "utf-8", newline="")
    saved(opened, {HOOP: "75"}, over=True)
    assert written(design) == other.replace("{length: 74,", "{length: 75,")
    assert written(kept_beside(design)) == other


def test_saving_over_what_can_no_longer_be_read_writes_what_is_fitted(design: Path):
    opened = open_file(design)
    design.write_text("name: [\n", "utf-8")
    with pytest.raises(ChangedOnDiskError):
        saved(opened, {HOOP: "75"})
    saved(opened, {HOOP: "75"}, over=True)
    assert written(design) == SAMPLE.replace("{length: 74,", "{length: 75,")
    assert written(kept_beside(design)) == "name: [\n"


def test_a_file_that_is_gone_is_written_anew_when_that_is_said(design: Path):
    opened = open_file(design)
    design.unlink()
    with pytest.raises(ChangedOnDiskError):
        saved(opened, {HOOP: "75"})
    assert not design.exists()
    saved(opened, {HOOP: "75"}, over=True)
    assert written(design) == SAMPLE.replace("{length: 74,", "{length: 75,")


@pytest.mark.parametrize(
    "values",
    [
        {HOOP: "-1 m"},
        {HOOP: "3 m"},
        {HOOP: "wide"},
        {"name": "another"},
        {"hoops[9].length": "70"},
        {"": "1"},
    ],
)
def test_what_the_rules_refuse_is_not_saved(design: Path, values: dict[str, str]):
    with pytest.raises(DesignError):
        saved(open_file(design), values)
    assert written(design) == SAMPLE


def test_a_full_disk_loses_nothing(design: Path, monkeypatch: pytest.MonkeyPatch):
    opened = open_file(design)

    def full(_handle: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(files.os, "fsync", full)
    with pytest.raises(OutputError, match="the disk is full"):
        saved(opened, {HOOP: "75"})
    monkeypatch.undo()
    assert written(design) == SAMPLE
    assert os.listdir(design.parent) == [design.name]
    saved(opened, {HOOP: "75"})  # once there is room
    assert "{length: 75," in written(design)


KILLED = """
import os, sys
from pathlib import Path
from cage3d.live.fitting import open_file
from cage3d.live.saving import saved
from cage3d.write import files
at, path = int(sys.argv[1]), Path(sys.argv[2])
renames, rename = [], os.replace
def counted(*given):
    renames.append(given)
    if len(renames) == at:
        os._exit(9)  # before the rename, as by a signal
    rename(*given)
files.os.replace = counted
saved(open_file(path), {"hoops[3].length": "75"})
os._exit(7)
"""


@pytest.mark.parametrize(("at", "status"), [(1, 9), (2, 9), (3, 7)])
def test_killed_between_it_is_the_old_text_or_the_new(design: Path, at: int, status: int):
    """The copy is the first rename, the design the second."""
    ended = subprocess.run([sys.executable, "-c", KILLED, str(at), str(design)], check=False, timeout=100)
    assert ended.returncode == status
    assert written(design) == (SAMPLE if at < 3 else SAMPLE.replace("{length: 74,", "{length: 75,"))
    if at > 1:
        assert written(kept_beside(design)) == SAMPLE


def test_what_cannot_be_read_is_said(design: Path, monkeypatch: pytest.MonkeyPatch):
    opened = open_file(design)

    def refused(*_given: object, **_more: object) -> None:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr(Path, "open", refused)
    with pytest.raises(CageError):
        saved(opened, {HOOP: "75"})
