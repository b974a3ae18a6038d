"""What the three jobs are told agrees with itself: warnings, tables, cautions and sheets say one thing."""

from __future__ import annotations

import pytest
from jobs.done import JOBS, Job

from cage3d.report.tables import hangs_slack
from cage3d.units import show_length


@pytest.fixture(params=JOBS, ids=lambda job: job.name)
def job(request: pytest.FixtureRequest) -> Job:
    return request.param


def test_the_cage_hangs(job: Job) -> None:
    assert job.report.trusted


def test_what_is_said_to_hang_slack_pulls_nothing(job: Job) -> None:
    pulls = {(tape.tape, part.to_hoop): part for tape in job.report.tapes for part in tape.segments}
    for place in job.slack_in_warnings():
        assert pulls[place].tension_N < 0.005
    slack = [place for place, part in pulls.items() if hangs_slack(part.tension_N, part.slack_m)]
    assert ("Foreseen to hang slack" in job.words) == bool(slack)


def test_no_tie_that_pulls_is_said_never_to_pull(job: Job) -> None:
    if all(tie.tension_N > 0.01 for tie in job.report.ties):
        assert "never pull" not in job.told
        assert "slack_tie" not in [warning.code for warning in job.report.warnings]


def test_nothing_snaps_that_carries_its_skirt(job: Job) -> None:
    assert "snapped" not in job.told


def test_the_sheets_have_the_heights_of_the_report(job: Job) -> None:
    hem, inches = job.report.hem, job.report.units == "in"
    low, high = (
        show_length(size, job.report.units if inches else "mm") for size in (hem.lowest_m, hem.highest_m)
    )
    fractions = str.maketrans(
        {"⁄": "/"} | dict(zip("⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉", "01234567890123456789", strict=True))
    )
    plain = (
        job.words.replace("¹", " ¹")
        .replace("³", " ³")
        .replace("⁵", " ⁵")
        .replace("⁷", " ⁷")
        .translate(fractions)
    )
    unit = " in" if inches else " mm"
    said = f"Hem above the floor {low.removesuffix(unit)} to {high}"
    assert said in " ".join(plain.split())


def test_lengths_over_the_cage_go_on_to_the_floor_by_its_heights(job: Job) -> None:
    """From the hem hoop cloth falls straight down, but where the hoop above stands out further."""
    hem = job.report.hoops[-1]
    heights = {"front": hem.height_front_m, "her left": hem.height_left_m, "back": hem.height_back_m}
    for side, height in heights.items():
        (to_hem,) = job.figures("draper", "length_mm", measure="waist to hem", at=side)
        (to_floor,) = job.figures("draper", "length_mm", measure="waist to floor", at=side)
        assert to_floor - to_hem == pytest.approx(1e3 * height, abs=1.0)


def test_each_caution_and_what_it_is_not_stand_once(job: Job) -> None:
    assert job.words.count("Hardened strip is coiled under tension") == 1
    assert job.words.count("Look over tips and joins before each wear") == 1
    assert job.told.count("Follow local codes") == 1


def test_the_share_behind_the_waist_is_the_same_everywhere(job: Job) -> None:
    share = round(100 * job.report.back_share)
    assert f"{share}% of that behind the waist" in job.told
    assert f"Of that behind the waist {share} %" in job.words
