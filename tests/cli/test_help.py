"""Help of every command: what it does, its options, and examples that can be typed as they stand."""

from __future__ import annotations

import shlex

import pytest
import typer
from cage3d_cli.commands import app
from cage3d_cli.examples import EXAMPLES
from calling import Caller

COMMANDS = sorted(typer.main.get_command(app).commands)  # type: ignore[attr-defined]
TYPED = [typed for examples in EXAMPLES.values() for typed, _ in examples]


@pytest.mark.parametrize("command", COMMANDS)
def test_help_shows_two_examples_or_more(cage3d: Caller, command: str) -> None:
    said = cage3d(command, "--help")
    assert (said.status, said.err) == (0, "")
    lines = [line.strip() for line in said.out.partition("Examples:")[2].splitlines()]
    assert [line for line in lines if line.startswith("cage3d ")] == [typed for typed, _ in EXAMPLES[command]]
    assert all(does in lines for _, does in EXAMPLES[command])
    assert len(EXAMPLES[command]) >= 2


@pytest.mark.parametrize("typed", TYPED)
def test_an_example_is_a_command_line(typed: str) -> None:
    """Parsed and not run: an option that is not there, or a wrong number of words, raises."""
    tool, name, *words = shlex.split(typed.partition(" > ")[0])
    command = typer.main.get_command(app).commands[name]  # type: ignore[attr-defined]
    assert tool == "cage3d"
    given = command.make_context(name, words).params
    assert any(".yaml" in str(value) for value in given.values()) or "--measuring" in typed
