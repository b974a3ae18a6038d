"""`cage3d new`: a first design from options or answers."""

from __future__ import annotations

import io
import json

import jsonschema
import pytest
from cage3d_cli.asking import part_of
from calling import Caller
from ruamel.yaml import YAML

from cage3d.design.first.brief import Brief
from cage3d.design.first.kinds import KINDS
from cage3d.design.first.profile import SILHOUETTES
from cage3d.design.read import read
from cage3d.report import measure
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out

GIVEN = [
    "--waist", "26", "--waist-height", "41 1/2", "--hip", "39", "--hip-drop", "8", "--hem", "90",
    "--clearance", "8 to 10", "--hoops", "4", "--tapes", "8", "--skirt", "0.8 kg",
]  # fmt: skip


@pytest.mark.parametrize("silhouette", SILHOUETTES)
def test_a_first_design_settles_with_its_hem_where_it_is_wanted(cage3d: Caller, silhouette: str) -> None:
    said = cage3d("new", "act-2.yaml", "--silhouette", silhouette, *GIVEN)
    assert (said.status, said.out) == (0, "act-2.yaml\ndesign.schema.json\n")
    assert ("Her hip decides hoop" in said.err) == (silhouette in ("bell", "cone"))
    assert read(cage3d.folder / "act-2.yaml").name == "Act 2"
    hung = settle(lay_out(read(cage3d.folder / "act-2.yaml"), 48))
    assert hung.trusted
    assert not [warning for warning in measure(hung).warnings if "is wanted" in warning.text]


def test_questions_are_asked_on_stderr_and_wrong_answers_again(cage3d: Caller) -> None:
    answers = ["dome", "wide", "26", "41 1/2", "none", "74", "17 to 18", "4", "8", "0"]
    cage3d.monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(answers) + "\n"))
    said = cage3d("new", "first.yaml")
    assert (said.status, said.out) == (0, "first.yaml\ndesign.schema.json\n")
    assert "Waist, round" in said.err
    design = read(cage3d.folder / "first.yaml")
    assert design.wearer.waist == pytest.approx(26 * 0.0254)
    assert design.wearer.hip is None
    assert design.skirt is None


@pytest.mark.parametrize(
    ("kind", "own", "asked", "not_asked"),
    [
        (
            "dipped",
            ["80", "1 1/2"],
            ["Lowest hoop, round [92]", "lower the hem is at the back [2]"],
            ["side to side"],
        ),
        ("oval", ["40", "20"], ["from side to side [42]", "from front to back [21]"], ["Lowest hoop, round"]),
        (
            "back-weighted",
            ["90", "58"],
            ["Lowest hoop, round [96]", "behind the waist [60 %]"],
            ["side to side"],
        ),
    ],
)
def test_each_kind_asks_for_its_own_measures(
    cage3d: Caller, kind: str, own: list[str], asked: list[str], not_asked: list[str]
) -> None:
    answers = [kind, "26", "41 1/2", "39", "", *own, "10 to 12", "4", "8", ""]
    cage3d.monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(answers) + "\n"))
    made: list[Brief] = []
    cage3d.monkeypatch.setattr(
        "cage3d.flow.new_design", lambda _file, brief, _force: made.append(brief) or []
    )
    said = cage3d("new", "first.yaml")
    assert said.status == 0
    assert all(f"{question}: " in said.err for question in asked)
    assert not any(question in said.err for question in not_asked)
    assert [f"  {name:<13}  {of_it.words}" in said.err for name, of_it in KINDS.items()] == [True] * len(
        KINDS
    )
    brief = made[0]
    assert (brief.silhouette, brief.hoops, brief.tapes, brief.skirt) == (kind, 4, 8, 0.8)
    assert brief.hip_drop == pytest.approx(8 * 0.0254)
    found = {key: getattr(brief, key) for key in ("hem", "dip", "wide", "deep", "behind")}
    inches = {
        "dipped": {"hem": 80, "dip": 1.5},
        "oval": {"wide": 40, "deep": 20},
        "back-weighted": {"hem": 90},
    }[kind]
    shares = {"behind": 0.58} if kind == "back-weighted" else {}
    expected = {key: number * 0.0254 for key, number in inches.items()} | shares
    assert {key: size for key, size in found.items() if size} == pytest.approx(expected)


def test_who_only_returns_gets_a_cage_of_her_size(cage3d: Caller) -> None:
    """A child of 71 cm to the waist: 2.2 x 71 = 156 cm round, 8 / 41 1/2 of it to the hip, 0.8 x (71 / 105.4)^2 kg."""
    answers = ["", "57", "71", "63", *[""] * 6]
    cage3d.monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(answers) + "\n"))
    made: list[Brief] = []
    cage3d.monkeypatch.setattr(
        "cage3d.flow.new_design", lambda _file, brief, _force: made.append(brief) or []
    )
    assert cage3d("new", "first.yaml", "--units", "cm").status == 0
    assert made == [
        Brief(
            pytest.approx(0.57), 0.71, pytest.approx(1.55), (pytest.approx(0.2), pytest.approx(0.25)), "dome",
            pytest.approx(0.63), pytest.approx(0.135), 4, 8, skirt=pytest.approx(0.4), name="First", units="cm",
        )
    ]  # fmt: skip


def test_a_petticoat_of_gores_is_asked_for_gores_and_not_for_tapes(cage3d: Caller) -> None:
    answers = ["26", "41 1/2", "39", "", "90", "", "5", "8 gores", "8", ""]
    cage3d.monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(answers) + "\n"))
    made: list[Brief] = []
    cage3d.monkeypatch.setattr(
        "cage3d.flow.new_design", lambda _file, brief, _force: made.append(brief) or []
    )
    said = cage3d("new", "first.yaml", "--silhouette", "gored")
    assert said.status == 0
    assert said.err.count("How many gores [6]: ") == 2
    assert "tapes" not in said.err
    assert (made[0].gores, made[0].hoops) == (8, 5)


@pytest.mark.parametrize(
    ("kind", "answers", "asked", "found"),
    [
        (
            "half-hoops",
            ["", "", "", "", ""],
            ["stands out behind the waist [13]", "above the floor [8 to 10]", "How many tapes [4]"],
            (13, None, 5, 4),
        ),
        (
            "baskets",
            ["9", "", "", "2", ""],
            ["out from her hip [8]", "from front to back [14]", "the floor [23 to 25]", "on each side [3]"],
            (9, 14, 2, 8),
        ),
    ],
)
def test_hoops_that_do_not_go_round_her_are_asked_for_how_far_out(
    cage3d: Caller, kind: str, answers: list[str], asked: list[str], found: tuple[int, int | None, int, int]
) -> None:
    """0.32, 0.2 and 0.34 of 41 1/2 are 13.3, 8.3 and 14.1 in; 0.56 and 0.6 of it 23.2 and 24.9."""
    cage3d.monkeypatch.setattr(
        "sys.stdin", io.StringIO("\n".join(["26", "41 1/2", "39", "", *answers, ""]) + "\n")
    )
    made: list[Brief] = []
    cage3d.monkeypatch.setattr(
        "cage3d.flow.new_design", lambda _file, brief, _force: made.append(brief) or []
    )
    said = cage3d("new", "first.yaml", "--silhouette", kind)
    assert said.status == 0
    assert all(f"{question}: " in said.err for question in asked)
    out, deep, hoops, tapes = found
    assert (made[0].hoops, made[0].tapes, made[0].hem) == (hoops, tapes, 0.0)
    assert made[0].out == pytest.approx(out * 0.0254)
    assert made[0].deep == (None if deep is None else pytest.approx(deep * 0.0254))


def test_her_hip_must_be_known_where_the_cage_bears_on_her(cage3d: Caller) -> None:
    """'none' is asked again; by option it is refused."""
    answers = ["26", "41 1/2", "none", "39", *[""] * 7]
    cage3d.monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(answers) + "\n"))
    cage3d.monkeypatch.setattr("cage3d.flow.new_design", lambda _file, _brief, _force: [])
    said = cage3d("new", "first.yaml", "--silhouette", "back-weighted")
    assert said.status == 0
    assert said.err.count("Hip, round") == 2
    assert cage3d("new", "first.yaml", "--silhouette", "back-weighted", *GIVEN, "--hip", "none").status == 2


@pytest.mark.parametrize(
    ("kind", "option", "told"),
    [
        ("bell", ["--dip", "2"], "--dip: 2: this is not asked of a bell. Leave it out; give --hem"),
        ("oval", [], "--hem: 90: this is not asked of an oval cage. Leave it out; give --wide and --deep"),
        (
            "gored",
            ["--gores", "6"],
            "--tapes: 8: this is not asked of a gored dome. Leave it out; give --hem and --gores",
        ),
        ("dipped", ["--behind", "60 %"], "--behind: 60 %: this is not asked of a dipped dome."),
    ],
)
def test_what_a_kind_does_not_ask_for_is_refused(
    cage3d: Caller, kind: str, option: list[str], told: str
) -> None:
    said = cage3d("new", "first.yaml", "--silhouette", kind, *GIVEN, *option)
    assert (said.status, said.out) == (2, "")
    assert told in said.err
    assert list(cage3d.folder.iterdir()) == []


def test_the_help_names_every_kind(cage3d: Caller) -> None:
    told = " ".join(cage3d("new", "--help").out.split()).replace("back- weighted", "back-weighted")
    assert f"{', '.join(list(KINDS)[:-1])} or {list(KINDS)[-1]}." in told


@pytest.mark.parametrize(
    ("written", "share"), [("60 %", 0.6), ("60", 0.6), ("0.6", 0.6), ("57,5", 0.575), ("1", 1.0)]
)
def test_shares_as_they_are_written(written: str, share: float) -> None:
    assert part_of(written) == pytest.approx(share)


def test_nobody_answers(cage3d: Caller) -> None:
    cage3d.monkeypatch.setattr("sys.stdin", io.StringIO(""))
    said = cage3d("new", "first.yaml", "--silhouette", "dome")
    assert (said.status, said.out) == (2, "")
    assert "--waist: this is needed" in said.err
    assert list(cage3d.folder.iterdir()) == []


@pytest.mark.parametrize(
    ("option", "value", "status"),
    [
        ("--waist", "3 elephants", 2),
        ("--waist", "0", 2),
        ("--silhouette", "teapot", 2),
        ("--hoops", "four", 2),
        ("--units", "furlongs", 2),
        ("--hem", "20", 1),
        ("--tapes", "400", 1),
    ],
)
def test_what_cannot_be(cage3d: Caller, option: str, value: str, status: int) -> None:
    said = cage3d("new", "first.yaml", "--silhouette", "dome", *GIVEN, option, value)
    assert (said.status, said.out) == (status, "")
    assert "Traceback" not in said.err
    assert list(cage3d.folder.iterdir()) == []


def test_a_design_is_never_written_over_unasked(cage3d: Caller) -> None:
    (cage3d.folder / "first.yaml").write_text("mine", "utf-8")
    said = cage3d("new", "first.yaml", "--silhouette", "dome", *GIVEN)
    assert (said.status, said.out) == (1, "")
    assert (cage3d.folder / "first.yaml").read_text("utf-8") == "mine"
    assert cage3d("new", "first.yaml", "--silhouette", "dome", *GIVEN, "--force").status == 0


def test_in_centimetres(cage3d: Caller) -> None:
    given = [
        "--units", "cm", "--silhouette", "cone", "--waist", "66", "--waist-height", "105", "--hip", "none",
        "--hem", "190", "--clearance", "40 to 45", "--hoops", "4", "--tapes", "8", "--skirt", "0",
    ]  # fmt: skip
    said = cage3d("new", "first.yaml", *given)
    assert said.status == 0
    assert read(cage3d.folder / "first.yaml").units == "cm"


def test_editors_find_the_schema_beside_the_design(cage3d: Caller) -> None:
    for name in ("first.yaml", "second.yaml"):
        assert cage3d("new", name, "--silhouette", "dome", *GIVEN).status == 0
        first_line = (cage3d.folder / name).read_text(encoding="utf-8").splitlines()[0]
        assert first_line == "# yaml-language-server: $schema=design.schema.json"
    made = json.loads((cage3d.folder / "design.schema.json").read_text(encoding="utf-8"))
    written = YAML(typ="safe", pure=True).load((cage3d.folder / "first.yaml").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator(made).validate(written)


def test_another_file_of_the_schemas_name_is_left_alone(cage3d: Caller) -> None:
    (cage3d.folder / "design.schema.json").write_text('{"title": "mine"}', encoding="utf-8")
    said = cage3d("new", "first.yaml", "--silhouette", "dome", *GIVEN)
    assert (said.status, said.out) == (0, "first.yaml\n")
    assert (cage3d.folder / "design.schema.json").read_text(encoding="utf-8") == '{"title": "mine"}'
    assert "$schema" not in (cage3d.folder / "first.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize("clearance", ["8-10", "8 – 10 in", "20.32 to 25.4 cm"])
def test_a_range_in_every_writing(cage3d: Caller, clearance: str) -> None:
    assert cage3d("new", "first.yaml", "--silhouette", "dome", *GIVEN, "--clearance", clearance).status == 0
    low, high = read(cage3d.folder / "first.yaml").hem.clearance or (0.0, 0.0)
    assert (low, high) == pytest.approx((8 * 0.0254, 10 * 0.0254))
