"""What is wrong with a hung cage on its own cloth: a level stitched off on one seam, found from what is read."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import pytest
from gored import gored, written

from cage3d.backward import write_mended
from cage3d.design.models import Design, LevelsBySide
from cage3d.design.read import read_data, read_text
from cage3d.design.rewriting import rewritten
from cage3d.design.tables import table_of
from cage3d.errors import CageError
from cage3d.report import measure
from cage3d.report.view import as_text
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.sheets.making import prepared
from cage3d.sheets.tables import fitting_record
from cage3d.study.aiming.writing import data_with
from cage3d.study.numbers import number_names, numbers_of, with_numbers
from cage3d.study.truing.again import as_mended, left_over
from cage3d.study.truing.answer import TrueAnswer
from cage3d.study.truing.causes import DROP, HOOP, MARK, PANEL, Cause, causes_of, with_errors
from cage3d.study.truing.hanging import hanging_of
from cage3d.study.truing.mending import Move
from cage3d.study.truing.mirror import mirror_of
from cage3d.study.truing.record import record_of
from cage3d.study.truing.signatures import NODES
from cage3d.study.truing.told import answer_view, written_view
from cage3d.study.truing.truing import Limits, cause_name, kept_causes, trued
from cage3d.study.truing.working import worked

INCH = 0.0254
HOOPS = [{"length": 1050, "opening": "front"}, {"length": 1600, "join": "none"}]
CLOTH = {"gores": 4, "levels": [250, 500]}
LACED = [{"seams": [2, 3], "hoops": [1, 2], "widths": [300, 380]}]


def small(**others: object) -> Design:
    """Two hoops on four gores, the upper one open, under a skirt of 1 kg; alike to her left and right."""
    return gored(CLOTH, hoops=HOOPS, skirt={"weight": "1 kg"}, **others)


@cache
def planned() -> SettledCage:
    return settle(lay_out(small(), NODES))


def amounts(cause: Cause, size: float) -> np.ndarray:
    causes = causes_of(planned().cage)
    found = np.zeros(len(causes))
    found[causes.index(cause)] = size
    return found


@pytest.mark.parametrize(
    ("cause", "grown"),
    [
        (Cause(MARK, 1, 0), {"seam 2 level 1": 1.0}),
        (Cause(DROP, 1, 0), {"seam 2 level 1": 1.0, "seam 2 level 2": 1.0}),
        (Cause(MARK, 3, 1), {"seam 4 level 2": 1.0}),
    ],
)
def test_an_error_is_the_design_with_other_levels(cause: Cause, grown: dict[str, float]):
    """All the cloth beside the seam goes along: every line is as long as in the design that says so."""
    numbers, names = numbers_of(small()), number_names(small())
    for name, share in grown.items():
        numbers[names.index(name)] += share * 0.01
    other = lay_out(with_numbers(small(), numbers), NODES).parameters.pull_length
    changed = with_errors(planned().cage, amounts(cause, 0.01))
    assert changed is not None
    assert changed.parameters.pull_length == pytest.approx(other, abs=1e-9)
    assert np.count_nonzero(np.abs(other - planned().cage.parameters.pull_length) > 1e-4) > 10


def test_laces_are_causes_and_cloth_between_seams_is_none():
    """Eight marks, four drops, two hoops, two laces."""
    cage = lay_out(small(panels=LACED), NODES)
    assert len(causes_of(cage)) == 8 + 4 + 2 + 2
    changed = with_errors(cage, np.eye(16)[14] * 0.01)
    assert changed is not None
    longer = np.flatnonzero(np.abs(changed.parameters.pull_length - cage.parameters.pull_length) > 1e-6)
    assert [cage.connectivity.pull_names[row] for row in longer] == ["panel 1 hoop 1"]


def test_one_side_does_mirrored_what_the_other_does():
    """Four seams: 1 with 4 and 2 with 3. What is read of seam 2's error is seam 3's with left for right."""
    mirror = mirror_of(planned().cage)
    assert mirror is not None
    assert mirror.tapes.tolist() == [3, 2, 1, 0]
    hung = []
    for seam in (1, 2):
        changed = with_errors(planned().cage, amounts(Cause(MARK, seam, 0), 0.01))
        assert changed is not None
        hung.append(hanging_of(settle(changed, planned())).figures)
    assert hung[0][mirror.figures(2)] == pytest.approx(hung[1], abs=2e-5)
    assert np.abs(hung[0] - hung[1]).max() > 1e-3
    causes, order = causes_of(planned().cage), mirror.causes(2)
    assert causes[order[causes.index(Cause(DROP, 1, 0))]] == Cause(DROP, 2, 0)
    lopsided = lay_out(small().model_copy(update={"wearer": lopsided_wearer()}), NODES)
    assert mirror_of(lopsided) is None


def lopsided_wearer():
    data = written()["wearer"] | {"waist_height": {"front": 1000, "left": 1010, "back": 1000, "right": 1000}}
    return gored(wearer=data).wearer


def as_read(settled: SettledCage) -> str:
    """The record that sheets write, filled in with what hangs, read to an eighth of an inch."""
    head, *lines = (
        fitting_record(prepared(planned().cage, measure(planned()), None)).decode("utf-8-sig").splitlines()
    )
    heads, values = head.split(","), np.round(hanging_of(settled).figures / (INCH / 8)) * INCH / 8 * 1e3
    rows = []
    for place, line in enumerate(lines):
        cells = line.split(",")
        cells[heads.index("measured_height_mm")] = f"{values[place]:.4f}"
        hoop, seam = divmod(place, 4)
        if seam == 0:
            cells[heads.index("measured_side_to_side_mm")] = f"{values[8 + 2 * hoop]:.4f}"
            cells[heads.index("measured_front_to_back_mm")] = f"{values[9 + 2 * hoop]:.4f}"
        rows.append(",".join(cells))
    return "\n".join([head, *rows]) + "\n"


@cache
def found() -> TrueAnswer:
    """Hoop 2's casing on seam 2 stitched half an inch too low, and every other mark as people sew: 1.5 mm, by lot."""
    off = amounts(Cause(MARK, 1, 1), INCH / 2)
    off[:8] += np.random.default_rng(5).normal(size=8) * 1.5e-3
    changed = with_errors(planned().cage, off)
    assert changed is not None
    text = as_read(settle(changed, planned()))
    assert "tape" not in text.splitlines()[0]
    record = record_of(table_of(text, "record.csv"), small(), "record.csv")
    assert len(record.readings.places) == 8 + 4
    return trued(planned(), record, worked(small()), Limits())


def test_a_level_stitched_half_an_inch_off_is_found():
    verdict = found().verdict
    first = verdict.order[0]
    assert verdict.states.causes[first] == Cause(MARK, 1, 1)
    assert verdict.chances[first] > 0.9
    assert verdict.size(first)[0] == pytest.approx(INCH / 2, abs=INCH / 8)
    mended = found().mended
    assert mended is not None
    assert [move.cause for move in mended.moves] == [Cause(MARK, 1, 1)]
    assert mended.after < INCH / 4 < mended.before


def test_words_say_seam_and_never_tape():
    said = as_text(answer_view(found()), "utf-8")
    assert "The mark of hoop 2 on seam 2 is" in said
    assert "had they been counted by her right, it would be seam 3" in " ".join(said.split())
    assert "tape" not in said.lower()
    assert cause_name(Cause(DROP, 1, 0), small().line) == "hoop 1 seam 2 drop"


def test_seams_are_not_felt():
    record = "hoop,seam,measured height,tape above feels\n1,1,750,loose\n"
    with pytest.raises(CageError, match="seams are not felt"):
        record_of(table_of(record, "r.csv"), small(), "r.csv")
    with pytest.raises(CageError, match="the column seam is missing"):
        record_of(table_of("hoop,tape,measured height\n1,1,750\n", "r.csv"), small(), "r.csv")
    assert found().question is None or found().question.kind != "feel"  # type: ignore[union-attr]


def test_what_is_left_of_errors_stands_in_levels():
    """A mark alone moves one level, a stretch that is too long all below; a hoop its length."""
    moves = [
        Move(Cause(MARK, 1, 0), 0.01), Move(Cause(DROP, 2, 0), 0.02), Move(Cause(HOOP, hoop=1), 0.03),
    ]  # fmt: skip
    after = as_mended(small(), moves)
    assert after.cloth is not None
    assert np.array(after.cloth.levels) == pytest.approx(
        np.array([[0.25, 0.5], [0.26, 0.5], [0.27, 0.52], [0.25, 0.5]])
    )
    assert after.tapes.drops[1] == pytest.approx([0.26, 0.24])
    assert after.hoops[1].length == pytest.approx(1.63)


def test_levels_by_side_become_those_of_the_seams():
    """One seam alone has no side: seams at 45 degrees lie half way from front to back, but for seam 2, 10 mm lower."""
    text = (
        "name: Cone\nunits: mm\nwearer: {waist: 800, waist_height: 1000}\nsteel: {width: 10, thickness: 0.7}\n"
        "cloth:\n  gores: 4\n  levels: {front: [250], sides: [260], back: [270]}\n  fabric: 150 g/m2\n"
        "hoops: [{length: 1200, join: none}]\n"
    )
    design = read_text(text, "cone.yaml")
    assert isinstance(design.cloth.levels, LevelsBySide)  # type: ignore[union-attr]
    after = as_mended(design, [Move(Cause(MARK, 1, 0), 0.01)])
    quarter = 10.0 * np.cos(np.pi / 4)
    levels = [260 - quarter, 260 + quarter + 10, 260 + quarter, 260 - quarter]
    data = {
        "name": "Cone", "units": "mm", "wearer": {"waist": "800", "waist_height": "1000"},
        "steel": {"width": "10", "thickness": "0.7"},
        "cloth": {
            "gores": "4", "fabric": "150 g/m2",
            "levels": {"front": ["250"], "sides": ["260"], "back": ["270"]},
        },
        "hoops": [{"length": "1200", "join": "none"}],
    }  # fmt: skip
    again = rewritten(text, data_with(data, design, after, None), "cone.yaml")
    assert read_text(again, "cone.yaml").cloth.levels == pytest.approx(  # type: ignore[union-attr]
        [pytest.approx((level / 1e3,), abs=1e-5) for level in levels]
    )


def test_levels_that_belong_to_no_side_any_more_stand_on_marks():
    """250, 260 and 270 mm at front, sides and back: 252.9, 267.1 and 10 more of seam 2, 267.1, 252.9 on the seams."""
    sided = gored({"gores": 4, "levels": {"front": [250], "sides": [260], "back": [270]}}, hoops=HOOPS[1:])
    after = as_mended(sided, [Move(Cause(MARK, 1, 0), 0.01)], 1e-3)
    assert np.array(after.tapes.drops).ravel() == pytest.approx([0.253, 0.277, 0.267, 0.253], abs=1e-12)


def test_what_is_left_of_errors_is_told_on_marks():
    """An error of 9/16 in of which 1/4 is taken back: 5/16 is left, 1/4 on a rule of eighths; 1/16 is none."""
    here, there = Cause(MARK, 1, 0), Cause(HOOP, hoop=1)
    left = left_over(
        [Move(here, 9 / 16 * INCH), Move(there, INCH / 2)],
        [Move(here, -INCH / 4), Move(there, -7 / 16 * INCH)],
        INCH / 8,
    )
    assert [one.cause for one in left] == [here]
    assert left[0].amount == pytest.approx(INCH / 4)


def test_a_lace_that_ends_otherwise_is_a_width_of_its_panel():
    lace = [Move(Cause(PANEL, hoop=1, number=0), 0.01)]
    after = as_mended(small(panels=LACED), lace)
    assert after.panels[0].widths == pytest.approx((0.3, 0.39))
    tight = [{"seams": [2, 3], "hoops": [1, 2], "tightness": "10 %"}]
    with pytest.raises(ValueError, match="its tightness"):
        as_mended(small(panels=tight), lace)


def test_the_mended_design_and_its_record_are_written(tmp_path: Path):
    path = tmp_path / "cone.yaml"
    path.write_text(
        rewritten("name: Cone of cloth\n", written(CLOTH, hoops=HOOPS, skirt={"weight": "1 kg"})), "utf-8"
    )
    assert read_data(written(CLOTH, hoops=HOOPS, skirt={"weight": "1 kg"})) == small()
    mended = write_mended(path, tmp_path / "mended.yaml", found())
    design, record = mended.written
    assert design.read_text("utf-8") == path.read_text("utf-8")  # the one error is undone whole
    assert mended.as_before
    assert mended.hem_off < 1e-6
    assert "measured_height_mm" in record.read_text("utf-8-sig")
    with pytest.raises(CageError, match="Leave -o away"):
        write_mended(path, tmp_path / "other.yaml", TrueAnswer(**(vars(found()) | {"mended": None})))


def test_what_is_written_is_told():
    told = [str(written_view(small(), 1e-3, 0.0042, as_before)) for as_before in (False, True)]
    assert "to 1 mm; hung so, its hem is 4 mm out of its line" in told[0]
    assert "the new design is the old one" in told[1]


def test_what_is_kept_is_named_by_its_seam():
    causes = causes_of(planned().cage)
    kept = kept_causes(causes, ["seam 2"], "seam")
    assert [cause.tape for cause, one in zip(causes, kept, strict=True) if one] == [1, 1, 1]
    with pytest.raises(CageError, match="no such mark"):
        kept_causes(causes, ["tape 2"], "seam")
