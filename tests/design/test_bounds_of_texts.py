"""How much text a file may hold: what stands at a bound reads, one more is refused at its place."""

from __future__ import annotations

from pathlib import Path

import pytest
from petticoat import GOOD, problems_of

from cage3d.design.faults import printable, shown
from cage3d.design.mending import MOST_MENDED
from cage3d.design.read import MOST_TOLD, read, read_text
from cage3d.design.scanner import MOST_DIRECTIVES
from cage3d.design.tree import parse, refuse_endless
from cage3d.errors import DesignError

# What is parsed at a bound and one beyond it; what is said; line and column of the fault.
BOUNDS: dict[str, tuple[str, str, str, tuple[int, int]]] = {
    # A group and nineteen lists are twenty levels.
    "levels": ("a: " + "[" * 19 + "]" * 19, "a: " + "[" * 20 + "]" * 20, "more than 20 deep", (1, 23)),
    # Ten levels that a name stands for, the deepest of a list, in a group and nine lists.
    "levels by name": (
        "a: &a [1, " + "[" * 9 + "]" * 9 + "]\nb: " + "[" * 9 + "*a" + "]" * 9,
        "a: &a [1, " + "[" * 9 + "]" * 9 + "]\nb: " + "[" * 10 + "*a" + "]" * 10,
        "more than 20 deep", (2, 14),
    ),
    "values of a list": (
        "a: [" + "1," * 1000 + "]", "a: [" + "1," * 1001 + "]", "more than 1000 values stand in one list", (1, 2005),
    ),
    "keys of a group": (
        "".join(f"k{n}: 1\n" for n in range(1000)), "".join(f"k{n}: 1\n" for n in range(1001)),
        "more than 1000 keys stand in one group", (1001, 8),
    ),
    "signs of a key": ("k" * 200 + ": 1", "k" * 201 + ": 1", "the key is longer than 200 signs", (1, 1)),
    "signs of a value": ("a: " + "x" * 10_000, "a: " + "x" * 10_001, "longer than 10000 signs", (1, 4)),
    "signs of a quoted value": (
        'a: "' + "x" * 10_000 + '"', 'a: "' + "x" * 10_001 + '"', "longer than 10000 signs", (1, 4),
    ),
    # Forty keys of 3 signs with 9,997 each are 400,000.
    "signs of all values": (
        "".join(f"k{n:02}: {'x' * 9_997}\n" for n in range(40)),
        "".join(f"k{n:02}: {'x' * (9_997 + (n == 39))}\n" for n in range(40)),
        "more than 400000 signs together", (40, 6),
    ),
    "signs of a name": (
        "a: &" + "n" * 199 + " 1", "a: &" + "n" * 200 + " 1", "begins with !, & or * is too long", (1, 4),
    ),
    "directives": (
        "%A b\n" * MOST_DIRECTIVES + "---\na: 1", "%A b\n" * (MOST_DIRECTIVES + 1) + "---\na: 1",
        "begin with %", (11, 1),
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", BOUNDS)
def test_reads_at_the_bound_and_is_refused_beyond(what: str) -> None:
    within, beyond, said, place = BOUNDS[what]
    parse(within, "x.yaml")
    with pytest.raises(DesignError) as caught:
        parse(beyond, "x.yaml")
    (problem,) = caught.value.problems
    assert said in str(problem)
    assert (problem.line, problem.column) == place


def test_names_count_in_full() -> None:
    """The group is one, a key, a list and 990 values 992, another list 2, and in it nineteen times 991: 19,824.

    What is still open counts twice, so that only two more than 176 others are too many without a doubt.
    """
    named = "a: &a [" + "1," * 990 + "]\nb: [" + "*a, " * 19
    parse(named + "1," * 175 + "]", "x.yaml")
    with pytest.raises(DesignError, match="more than 20000 values"):
        parse(named + "1," * 177 + "]", "x.yaml")


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r", "\x85", "\u2028", "\u2029"])
def test_so_many_lines_stand_in_a_file(end: str) -> None:
    refuse_endless(end * 100_000, "x.yaml")
    with pytest.raises(DesignError, match="has 100001 lines"):
        refuse_endless(end * 100_001, "x.yaml")


def test_a_file_of_a_megabyte_is_looked_into(tmp_path: Path) -> None:
    file = tmp_path / "petticoat.yaml"
    for more, said in ((0, "is a PDF"), (1, "larger than 1 MB")):
        file.write_bytes(b"%PDF" + b"x" * (999_996 + more))
        with pytest.raises(DesignError, match=said):
            read(file)


def test_bytes_that_are_no_text_are_told_by_their_line(tmp_path: Path) -> None:
    file = tmp_path / "petticoat.yaml"
    file.write_bytes(b"name: a\n# b\nnotes: caf\xe9\n")
    with pytest.raises(DesignError, match="not UTF-8") as caught:
        read(file)
    assert caught.value.problems[0].line == 3


def strangers(count: int) -> str:
    return GOOD + "".join(f"kk{n}: 1\n" for n in range(count))


def test_as_many_faults_are_told_as_anybody_mends() -> None:
    assert MOST_TOLD == 200
    found = problems_of(strangers(200))
    assert [problem.line for problem in found] == list(range(15, 215))
    more = problems_of(strangers(201))
    assert (len(more), more[-1].line, more[-2].line) == (201, 214, 214)
    assert "more faults than these 200" in more[-1].why


def test_a_long_lot_of_keys_is_not_searched_to_its_end() -> None:
    """Of keys that were nearly written so, the models tell where nobody looks for what was meant any more."""
    rows = "".join(f"  - {{lenght: {40 + n / 10:.1f}}}\n" for n in range(250))
    found = problems_of(GOOD[: GOOD.index("  - {length: 48}")] + rows)
    assert MOST_MENDED == 200
    assert len(found) == MOST_TOLD + 1


def test_what_is_shown_on_one_line() -> None:
    assert printable("x" * 80) == "x" * 80
    assert printable("x" * 81) == "x" * 77 + "..."
    assert printable("x" * 10, 9) == "x" * 6 + "..."
    assert shown(10**200 - 1) == str(10**200 - 1)
    assert shown(10**200) == shown(-(10**200)) == "a whole number without end"
    assert shown("x" * 300) == "x" * 201


@pytest.mark.parametrize(
    ("others", "also"), [(0, ""), (1, ", and so is one other"), (2, ", and so are 2 others")]
)
def test_bare_numbers_are_one_fault_that_counts_the_others(others: int, also: str) -> None:
    bare = ["length: 48", "length: 60", "length: 69"][: others + 1]
    text = GOOD.replace("units: in\n", "")
    for written in (
        "waist: 26",
        "waist_height: 41 1/2",
        "length: 48",
        "length: 60",
        "length: 69",
        "length: 74",
    ):
        text = text.replace(written, written if written in bare else f"{written} in")
    (problem,) = problems_of(text.replace("[8 1/4, 6, 5 1/2, 5]", "[8 1/4 in, 6 in, 5 1/2 in, 5 in]"))
    assert problem.why == f"this is a bare number{also}, and the design does not say its units"
    assert (problem.line, problem.column) == (10, 14)


def test_a_text_of_the_longest_reads_and_a_name_of_the_longest_too() -> None:
    for key, longest in (("notes", 5000), ("name", 120)):
        text = GOOD if key == "notes" else GOOD[GOOD.index("units") :]
        assert len(getattr(read_text(f"{text}{key}: {'x' * longest}\n"), key)) == longest
        (problem,) = problems_of(f"{text}{key}: {'x' * (longest + 1)}\n")
        assert f"longer than {longest} letters" in problem.why
