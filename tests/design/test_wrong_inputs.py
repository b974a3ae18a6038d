"""Every wrong input a maker is likely to write has its own message, at its own line."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from petticoat import GOOD, problems_of
from wrong import WRONG
from wrong.case import DROPS, HIPS, TIE

from cage3d.design.read import read, read_text
from cage3d.design.text_files import LARGEST_FILE
from cage3d.errors import DesignError


@pytest.mark.parametrize("case", WRONG, ids=[name.replace(" ", "-") for name in WRONG])
def test_its_own_message_at_its_own_line(case: str) -> None:
    (old, new), line, message = WRONG[case]
    assert old in GOOD
    found = problems_of(GOOD.replace(old, new, 1))
    assert len(found) == 1, "\n".join(map(str, found))
    assert re.search(message, str(found[0])), str(found[0])
    assert found[0].where == "petticoat.yaml"
    assert found[0].line == line
    assert found[0].column is not None
    assert found[0].column >= 1
    assert found[0].try_this


def test_the_text_they_all_start_from_is_right() -> None:
    assert len(read_text(GOOD).hoops) == 4


def test_every_message_is_its_own() -> None:
    texts = [f"{problem.said} {problem.why}" for (old, new), _, _ in WRONG.values()
             for problem in problems_of(GOOD.replace(old, new, 1))]  # fmt: skip
    assert len(set(texts)) >= len(texts) - 4  # slash twice, no design twice, tie and length of zero, ...


def test_no_message_speaks_like_the_library() -> None:
    for (old, new), _, _ in WRONG.values():
        text = "\n".join(str(problem) for problem in problems_of(GOOD.replace(old, new, 1)))
        assert not re.search(
            r"[Ii]nput should|valid (string|number|list)|dict\b|None|Error|validator|@", text
        ), text


def test_a_tie_shorter_than_the_body_it_must_pass() -> None:
    text = GOOD.replace("wearer:", HIPS).replace("{length: 74}", "{length: 74}\n" + TIE.format(
        "hoop 1 tape 2", "hoop 1 tape 7", 6))  # fmt: skip
    (problem,) = problems_of(text)
    assert "shorter than the body it must pass" in problem.why
    assert problem.line == 17
    # Beside the hips there is nothing to pass.
    read_text(text.replace("hoop 1 tape 7", "hoop 1 tape 3"))


def test_several_faults_come_together_in_the_order_of_the_file() -> None:
    text = (
        GOOD.replace("waist: 26", "waist: 3 elephants").replace("count: 8", "cuont: 8").replace("60", "-60")
    )
    found = problems_of(text)
    assert [problem.line for problem in found] == [4, 8, 12]
    assert "cuont" in str(found[1])


def test_rules_still_speak_beside_a_misspelt_key() -> None:
    text = GOOD.replace("units: in", "units: in\ncolour: red").replace("6, 5 1/2", "1, 5 1/2")
    assert [problem.line for problem in problems_of(text)] == [3, 10]


def test_a_rule_does_not_judge_a_default_beside_a_fault() -> None:
    (problem,) = problems_of(GOOD + "skirt: {weight: 3 elephants}\n")
    assert "elephants" in problem.why


def test_columns_point_at_the_value() -> None:
    (problem,) = problems_of(GOOD.replace("length: 60", "length: 3 elephants"))
    assert problem.column == "  - {length: 3 elephants}".index("3") + 1
    assert problem.place == "petticoat.yaml:12:14"


@pytest.mark.parametrize("short", ["1", "3 elephants"])
def test_columns_point_into_a_bare_list_of_drops(short: str) -> None:
    (problem,) = problems_of(GOOD.replace("6, 5 1/2", f"{short}, 5 1/2"))
    assert problem.place == "petticoat.yaml:9:18"
    assert problem.said == short


def test_columns_point_into_one_tapes_own_drops() -> None:
    rows = ["    - [8, 6, 5, 5]\n"] * 7 + ["    - [8, 6, 5]\n"]
    (problem,) = problems_of(GOOD.replace(DROPS + "\n", "  drops:\n" + "".join(rows)))
    assert problem.place == "petticoat.yaml:17:7"
    assert "3 drops for tape 8: there are 4 hoops" in str(problem)


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"", "holds no design"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "not a text file"),
        (b"name: caf\xe9\n", "not UTF-8"),
        ("name: ü".encode("utf-16"), "UTF-16.*Save it as UTF-8"),
        (b"# " + b"x" * LARGEST_FILE, "larger than 1 MB"),
    ],
    ids=["empty", "binary", "latin-1", "utf-16", "large"],
)
def test_files_that_hold_no_design(tmp_path: Path, content: bytes, message: str) -> None:
    file = tmp_path / "petticoat.yaml"
    file.write_bytes(content)
    with pytest.raises(DesignError, match=message) as caught:
        read(file)
    assert caught.value.problems[0].where == str(file)


def test_a_file_of_50_mb_is_not_read(tmp_path: Path) -> None:
    file = tmp_path / "petticoat.yaml"
    with file.open("wb") as stream:
        stream.truncate(50_000_000)
    with pytest.raises(DesignError, match="larger than 1 MB"):
        read(file)


def test_a_folder_and_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(DesignError, match="this is a folder"):
        read(tmp_path)
    with pytest.raises(DesignError, match="there is no such file"):
        read(tmp_path / "no.yaml")
    with pytest.raises(DesignError, match=r"cannot be read|no such file"):
        read("a\0b")


def test_a_million_brackets_are_refused_at_once(tmp_path: Path) -> None:
    file = tmp_path / "petticoat.yaml"
    file.write_text("a: " + "[" * 900_000, "utf-8")
    with pytest.raises(DesignError, match="more than 20 deep"):
        read(file)


def test_a_top_hoop_smaller_than_the_hip_it_hangs_at() -> None:
    hip = GOOD.replace("wearer:", HIPS)
    assert read_text(hip).wearer.hip is not None
    (problem,) = problems_of(hip.replace("length: 48", "length: 38"))
    assert problem.line == 13
    assert "it catches on her and never hangs" in problem.why


def test_a_hip_that_its_own_breadth_and_depth_contradict() -> None:
    measured = GOOD.replace("wearer:", f"{HIPS}\n  hip_breadth: 13 1/2\n  hip_depth: 9.6")
    assert read_text(measured).wearer.hip_depth is not None
    (problem,) = problems_of(measured.replace("hip: 39", "hip: 39 cm"))
    assert "13 1/2 in wide and 9 5/8 in deep measures 33 1/8 in to 46 1/4 in round" in problem.why
