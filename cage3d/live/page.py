"""The page on which she fits."""

from __future__ import annotations

from html import escape


def live_page(socket: str) -> bytes:
    """UTF-8 HTML; socket: the websocket's address."""
    return f'<!DOCTYPE html><title>Fitting</title><p data-socket="{escape(socket)}">Fitting</p>'.encode()
