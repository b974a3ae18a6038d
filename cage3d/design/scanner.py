"""YAML's scanner with bounds: no text makes it slow, and what it cannot take has its place."""

from __future__ import annotations

from typing import Any

from ruamel.yaml.scanner import Scanner, ScannerError

LONGEST_VALUE = 10_000  # signs as written; a text holds 5,000 and may be indented
LONGEST_NAME = 200  # signs of a tag or an anchor: the library's time grows with their square
MOST_DIRECTIVES = 10  # lines that begin with %

# What `spec.tree` makes plain sentences of.
TOO_LONG = f"a value is longer than {LONGEST_VALUE} signs"
NAME_TOO_LONG = "a tag or an anchor is too long"
TOO_MANY_DIRECTIVES = "too many directives"
NO_SUCH_SIGN = "no such sign"


class BoundedScanner(Scanner):
    """Raises ScannerError at the start of what is too long, before it is read to its end."""

    directives = 0
    block_start: Any = None

    def scan_plain_spaces(self, indent: Any, start_mark: Any) -> Any:
        self.bound(start_mark)
        return super().scan_plain_spaces(indent, start_mark)

    def scan_flow_scalar_spaces(self, double: Any, start_mark: Any) -> Any:
        self.bound(start_mark)
        return super().scan_flow_scalar_spaces(double, start_mark)

    def scan_block_scalar(self, style: Any, rt: bool | None = False) -> Any:
        self.block_start = self.reader.get_mark()
        return super().scan_block_scalar(style, rt)

    def scan_block_scalar_breaks(self, indent: int) -> Any:
        self.bound(self.block_start)
        return super().scan_block_scalar_breaks(indent)

    def scan_flow_scalar_non_spaces(self, double: Any, start_mark: Any) -> Any:
        try:
            return super().scan_flow_scalar_non_spaces(double, start_mark)
        except (ValueError, OverflowError):  # "\U00110000": the library asks chr() for it
            raise self.fault(NO_SUCH_SIGN, self.reader.get_mark()) from None

    def scan_tag(self) -> Any:
        self.bound_name()
        return super().scan_tag()

    def scan_anchor(self, TokenClass: Any) -> Any:
        self.bound_name()
        return super().scan_anchor(TokenClass)

    def scan_directive(self) -> Any:
        self.directives += 1
        if self.directives > MOST_DIRECTIVES:
            raise self.fault(TOO_MANY_DIRECTIVES, self.reader.get_mark())
        return super().scan_directive()

    def bound(self, start: Any) -> None:
        if self.reader.index - start.index > LONGEST_VALUE:
            raise self.fault(TOO_LONG, start)

    def bound_name(self) -> None:
        ahead = self.reader.prefix(LONGEST_NAME + 1)
        if len(ahead) > LONGEST_NAME and len(ahead.split()[0]) > LONGEST_NAME:
            raise self.fault(NAME_TOO_LONG, self.reader.get_mark())

    @staticmethod
    def fault(what: str, mark: Any) -> ScannerError:
        return ScannerError(None, None, what, mark)
