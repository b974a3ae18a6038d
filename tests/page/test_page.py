"""The page: what stands in it, and (in test_page_in_browser) what a browser makes of it."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from dataclasses import replace
from html import unescape
from pathlib import Path

import numpy as np
import pytest
from hung import hung
from made import SAMPLES, hung_sample, sample

from cage3d.errors import NotSettledError, OutputError
from cage3d.mesh.part import ALL_KINDS
from cage3d.mesh.parts import build_parts
from cage3d.page.page import filled, page_html, script_safe
from cage3d.report.foreseen import CapacityReport
from cage3d.units import show_length

NASTY = "\"><img src=x onerror=alert(1)> & 'Zoë' {{data}} 裙撑"
TIE = {"from": "hoop 2 tape 3", "to": "hoop 2 tape 6", "length": 18, "name": "</script><img src=x>"}


def scene_of(page: bytes) -> dict[str, object]:
    found = re.search(
        r'<script type="application/json" id="cage-data">(.*?)</script>', page.decode(), re.DOTALL
    )
    assert found is not None
    scene: dict[str, object] = json.loads(found[1])
    return scene


def words_of(page: bytes) -> str:
    """The text of the page, scripts and styles left away."""
    bare = re.sub(r"<(script|style)\b.*?</\1>", " ", page.decode(), flags=re.DOTALL)
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", bare)))


def test_same_cage_same_bytes() -> None:
    assert page_html(*hung_sample(sample("a"))) == page_html(*hung_sample(sample("a")))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_nothing_in_the_page_points_elsewhere(path: Path) -> None:
    text = page_html(*hung_sample(path)).decode()
    assert set(re.findall(r"https?://[^\"'\s<>]+", text)) <= {"http://www.w3.org/2000/svg"}
    assert set(re.findall(r"\b(?:src|href)=\"([^\"]*)\"", text)) == {"data:,"}
    assert "default-src 'none'" in text
    assert "@import" not in text
    assert "url(" not in text


def test_how_much_lies_behind_the_waist_and_what_ties_pull_stand_on_the_page() -> None:
    """A cage drawn twice as far back as forward has two thirds behind; 0.490 N are 50 g (9.81 N a kg)."""
    settled, report = hung_sample(sample("d"))
    hoops = tuple(replace(hoop, back_share=2 / 3) for hoop in report.hoops)
    ties = tuple(replace(tie, tension_N=0.4905) for tie in report.ties)
    told = replace(report, back_share=2 / 3, hoops=hoops, ties=ties, notes="<b>Let out</b>")
    text = page_html(settled, told).decode()
    words = words_of(text.encode())
    assert "front to back, 67% of that behind the waist" in words
    assert text.count("<td>67%</td>") == len(hoops)
    assert text.count("<td>50 g</td>") == len(ties)
    assert "Notes <b>Let out</b>" in words
    assert "<h2>Notes</h2>\n<p>&lt;b&gt;" in text


def test_the_page_runs_its_own_script_and_no_other() -> None:
    """Every inline script and style is named in the policy by its hash (W3C, CSP level 3), and nothing else is."""
    report, settled = hung(name=NASTY, ties=[TIE])
    text = page_html(settled, report).decode()
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', text)
    assert policy is not None
    inline = re.findall(r"<(?:script|style)>(.*?)</(?:script|style)>", text, re.DOTALL)
    hashes = {
        f"'sha256-{base64.b64encode(hashlib.sha256(one.encode()).digest()).decode()}'" for one in inline
    }
    assert len(hashes) == 2
    assert set(re.findall(r"'sha256-[^']*'", policy[1])) == hashes
    assert "unsafe" not in policy[1]
    assert re.findall(r"<[^>]* (?:style|on[a-z]+)=", text) == []


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_measures_warnings_and_cautions_stand_in_the_text(path: Path) -> None:
    settled, report = hung_sample(path)
    words = words_of(page_html(settled, report))
    table = words[words.index("Hoops as they hang") :]
    for hoop in report.hoops:
        row = table[table.index(f"Hoop {hoop.number} ") :][:90]
        for length in (hoop.length_m, hoop.width_side_side_m, hoop.height_back_m):
            assert show_length(length, report.units, unit=False) in row
    for warning in report.warnings:
        assert re.sub(r"\s+", " ", warning.text) in words
    for tie in report.ties:
        assert tie.name in words
    for said in ("predictions, not a safety certificate", "Fire:", "Trips and stairs:", "doors", "Sitting"):
        assert said in words


def test_what_the_cage_carries_is_said_where_it_was_asked() -> None:
    settled, report = hung_sample(sample("a"))
    carries = CapacityReport(2.4, True, 1, "buckles", None, None, None)
    assert "Carries 2.4 times its skirt; then hoop 1 buckles." in words_of(
        page_html(settled, replace(report, carries=carries))
    )
    assert "Carries" not in words_of(page_html(settled, replace(report, carries=None)))


@pytest.mark.parametrize("wearer", [False, True])
def test_her_form_or_herself_stands_in_the_cage_at_first(wearer: bool) -> None:
    settled, report = hung_sample(sample("a"))
    text = page_html(settled, report, wearer=wearer).decode()
    ticked = {group: bool(mark) for group, mark in re.findall(r'data-group="([^"]*)"( checked)?>', text)}
    assert ticked["wearer"] is wearer
    assert ticked["form"] is not wearer
    assert ticked["hoops"]
    assert not ticked["skirt"]


def test_packed_vertices_are_those_of_the_model() -> None:
    settled, report = hung_sample(sample("d"))
    scene, parts = scene_of(page_html(settled, report)), build_parts(settled, ALL_KINDS)
    packed = scene["cages"][0]["parts"]
    assert isinstance(packed, list)
    assert [part["name"] for part in packed] == [part.name for part in parts]
    for part, shown in zip(parts, packed, strict=True):
        steps = np.frombuffer(base64.b64decode(shown["positions"]), dtype="<u2").reshape(-1, 4)[:, :3]
        places = np.array(shown["low"]) + steps / 65535 * np.array(shown["size"])
        assert np.abs(places - part.vertices).max() < 0.00005
        faces = np.frombuffer(base64.b64decode(shown["indices"]), dtype="<u4").reshape(-1, 3)
        assert np.array_equal(faces, part.faces)
        normals = np.frombuffer(base64.b64decode(shown["normals"]), dtype="i1").reshape(-1, 4)[:, :3] / 127
        assert np.abs(normals - part.normals).max() < 0.005


def test_parts_asked_for_are_the_parts_given() -> None:
    scene = scene_of(page_html(*hung_sample(sample("a")), wanted={"hoops", "tapes"}))
    packed = scene["cages"][0]["parts"]
    assert isinstance(packed, list)
    assert {part["group"] for part in packed} == {"hoops", "tapes"}


def test_a_name_cannot_break_out_of_its_place() -> None:
    report, settled = hung(name=NASTY, ties=[TIE])
    text = page_html(settled, report).decode()
    assert "<img" not in text
    assert text.count("</script>") == 2
    title = re.search(r"<title>(.*?)</title>", text)
    assert title is not None
    assert unescape(title[1]) == NASTY


def test_pieces_are_never_read_as_places_again() -> None:
    assert filled("a {{x}} b {{y}}", {"x": "{{y}}", "y": "end"}) == "a {{y}} b end"
    assert "</" not in script_safe('{"name": "</script><!--"}')
    assert json.loads(script_safe('{"name": "<&>"}')) == {"name": "<&>"}


def test_an_unsettled_cage_has_no_page() -> None:
    settled, report = hung_sample(sample("a"))
    with pytest.raises(NotSettledError, match="not settled"):
        page_html(settled, replace(report, settled=False))
    with pytest.raises(NotSettledError, match="not settled"):
        page_html(settled, replace(report, stable=False))


def test_a_design_without_hip_and_units_has_a_page() -> None:
    report, settled = hung(
        name="no hip",
        units="mm",
        wearer={"waist": 660, "waist_height": 1054},
        waistband={"depth": 25},
        tapes={"count": 7, "drops": [230, 200]},
        hoops=[{"length": 1300}, {"length": 1500}],
        hem={},
        stage={},
    )
    words = words_of(page_html(settled, report))
    assert "1300" in words
    assert "an accessible door (813 mm clear)" in words


def test_parts_that_the_cage_has_not_are_refused_by_name() -> None:
    with pytest.raises(OutputError, match=r"panels.*none of these.*It has: hoops, joins, tapes, casings"):
        page_html(*hung_sample(sample("a")), wanted={"panels"})


def test_skirt_asked_for_alone_is_shown() -> None:
    page = page_html(*hung_sample(sample("a")), wanted={"skirt"})
    assert [part["group"] for part in scene_of(page)["cages"][0]["parts"]] == ["skirt"]
    assert b'data-part="skirt" data-of="skirt" checked' in page
