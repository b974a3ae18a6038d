"""Who is let in, over real sockets: what a browser of this machine sends, and what others would."""

from __future__ import annotations

import json
import socket
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from fitted import connected, served
from websockets.exceptions import ConnectionClosedError
from websockets.sync.client import ClientConnection

from cage3d.live.serving import Fitting

SAMPLE = Path(__file__).parents[2] / "samples" / "a-short-petticoat.yaml"
UPGRADE = (
    "Upgrade: websocket", "Connection: Upgrade", "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==",
    "Sec-WebSocket-Version: 13",
)  # fmt: skip
PAGE, LIVE = "/<secret>/", "/<secret>/live"
# What is asked for, with which lines, and the status that it gets. What stands in < > is the server's own.
ASKED = {
    "the page": (PAGE, ["Host: <host>"], 200),
    "by the name localhost": (PAGE, ["Host: localhost:<port>"], 200),
    "in large letters": (PAGE, ["Host: LOCALHOST:<port>"], 200),
    "with its own origin": (PAGE, ["Host: <host>", "Origin: http://<host>"], 200),
    "a foreign host": (PAGE, ["Host: fitting.example:<port>"], 421),
    "a host without its port": (PAGE, ["Host: 127.0.0.1"], 421),
    "another port": (PAGE, ["Host: 127.0.0.1:1"], 421),
    "another address of this machine": (PAGE, ["Host: 127.0.0.2:<port>"], 421),
    "no host": (PAGE, [], 421),
    "two hosts": (PAGE, ["Host: <host>", "Host: fitting.example"], 421),
    "a foreign origin": (PAGE, ["Host: <host>", "Origin: http://fitting.example"], 403),
    "the origin of a local file": (PAGE, ["Host: <host>", "Origin: null"], 403),
    "another port's origin": (PAGE, ["Host: <host>", "Origin: http://127.0.0.1:1"], 403),
    "the origin over TLS": (PAGE, ["Host: <host>", "Origin: https://<host>"], 403),
    "two origins": (PAGE, ["Host: <host>", "Origin: http://<host>", "Origin: http://fitting.example"], 403),
    "no secret": ("/", ["Host: <host>"], 403),
    "a wrong secret": ("/wrong/", ["Host: <host>"], 403),
    "a part of the secret": ("/<part>/", ["Host: <host>"], 403),
    "the secret behind": ("/?<secret>/", ["Host: <host>"], 403),
    "nothing there": ("/<secret>/other", ["Host: <host>"], 404),
    "a path up": ("/<secret>/../../etc/passwd", ["Host: <host>"], 404),
    "a path up in signs": ("/<secret>/%2e%2e/%2e%2e/etc/passwd", ["Host: <host>"], 404),
    "the design's own file": (f"/<secret>/{SAMPLE}", ["Host: <host>"], 404),
    "a file that was not made": ("/<secret>/ready/1", ["Host: <host>"], 404),
    "a number too long": (f"/<secret>/ready/{'1' * 400}", ["Host: <host>"], 404),
    "the socket": (LIVE, ["Host: <host>", "Origin: http://<host>", *UPGRADE], 101),
    "the socket without an origin": (LIVE, ["Host: <host>", *UPGRADE], 403),
    "the socket from a local file": (LIVE, ["Host: <host>", "Origin: null", *UPGRADE], 403),
    "the socket from a foreign page": (LIVE, ["Host: <host>", "Origin: http://fitting.example", *UPGRADE], 403),
    "the socket under a foreign host": (LIVE, ["Host: fitting.example", "Origin: http://<host>", *UPGRADE], 421),
    "the socket without the secret": ("/live", ["Host: <host>", "Origin: http://<host>", *UPGRADE], 403),
    "the socket with a wrong secret": ("/wrong/live", ["Host: <host>", "Origin: http://<host>", *UPGRADE], 403),
    "the socket elsewhere": ("/<secret>/other", ["Host: <host>", "Origin: http://<host>", *UPGRADE], 404),
    "the socket's place read as a page": (LIVE, ["Host: <host>"], 403),
}  # fmt: skip


@pytest.fixture(scope="module")
def fitting() -> Iterator[Fitting]:
    with served(SAMPLE) as server:
        yield server


def answer_to(fitting: Fitting, path: str, lines: list[str], method: str = "GET") -> bytes:
    """All that comes back, of a websocket its first lines."""
    gate = fitting.gate
    text = "\r\n".join([f"{method} {path} HTTP/1.1", *lines, "", ""])
    known = {"secret": gate.secret, "part": gate.secret[:-1], "host": gate.hosts[0], "port": str(gate.port)}
    for word, said in known.items():
        text = text.replace(f"<{word}>", said)
    with closing(socket.create_connection(("127.0.0.1", gate.port), 30)) as sending:
        sending.sendall(text.encode())
        found = b""
        while b"\r\n\r\n" not in found or b" 200 " in found[:20]:
            piece = sending.recv(1 << 16)
            if not piece:
                break
            found += piece
    return found


@pytest.mark.parametrize("case", ASKED)
def test_who_is_let_in(fitting: Fitting, case: str):
    path, lines, status = ASKED[case]
    assert answer_to(fitting, path, lines).split(b" ", 2)[1] == str(status).encode()


@pytest.mark.parametrize("method", ["POST", "PUT", "HEAD", "OPTIONS"])
def test_nothing_can_be_sent_to_it(fitting: Fitting, method: str):
    """Refused; a library as old as is allowed hangs up on what is no GET."""
    assert answer_to(fitting, PAGE, ["Host: <host>"], method)[:12] in (b"HTTP/1.1 405", b"")


def test_it_listens_on_this_machine_alone(fitting: Fitting):
    assert fitting.listening.getsockname()[0] == "127.0.0.1"


def test_the_page_is_not_kept_nor_framed(fitting: Fitting):
    head, body = answer_to(fitting, PAGE, ["Host: <host>"]).split(b"\r\n\r\n", 1)
    lines = dict(line.split(": ", 1) for line in head.decode().splitlines()[1:])
    assert lines["Cache-Control"] == "no-store"
    assert lines["X-Frame-Options"] == "DENY"
    assert lines["Referrer-Policy"] == "no-referrer"
    assert "Server" not in lines
    assert int(lines["Content-Length"]) == len(body)
    assert b"connect-src ws://127.0.0.1:" in body


def test_every_server_has_its_own_secret():
    first, second = Fitting(SAMPLE, SAMPLE), Fitting(SAMPLE, SAMPLE)
    for one in (first, second):
        one.listening.close()
        assert len(one.gate.secret) == 32  # 24 bytes as letters
    assert first.gate.secret != second.gate.secret


def test_a_port_in_use_takes_another():
    with closing(socket.create_server(("127.0.0.1", 0))) as taken:
        port = taken.getsockname()[1]
        fitting = Fitting(SAMPLE, SAMPLE, port)
        with closing(fitting.listening):
            assert fitting.gate.port not in (0, port)


def test_a_free_port_is_taken_as_asked():
    with closing(socket.create_server(("127.0.0.1", 0))) as found:
        port = found.getsockname()[1]
    fitting = Fitting(SAMPLE, SAMPLE, port)
    with closing(fitting.listening):
        assert fitting.gate.port == port


NO_MESSAGES = [
    "", "{", "[]", "7", "null", '"seq"', "{}", '{"seq": -1, "values": {}}', '{"seq": true, "values": {}}',
    '{"seq": 1.5, "values": {}}', '{"seq": 1e400, "values": {}}', '{"seq": 9007199254740993, "values": {}}',
    '{"seq": 1}', '{"seq": 1, "values": []}', '{"seq": 1, "values": {"hoops[0].length": 7}}',
    '{"seq": 1, "values": {"hoops[0].length": NaN}}', '{"seq": 1, "values": {}, "rest": 1}', '{"do": "save"}',
    '{"do": 3, "id": 1}', '{"do": "save", "id": "1"}', '{"do": "save", "id": 1, "values": [1]}', "[" * 20000,
    b"\x00\x01", json.dumps({"seq": 1, "values": {"hoops[0].length": "7" * 201}}),
    json.dumps({"do": "x" * 201, "id": 1}),
]  # fmt: skip


def test_what_is_no_message_is_answered(fitting: Fitting, capfd: pytest.CaptureFixture[str]):
    with connected(fitting) as page:
        for told in NO_MESSAGES:
            page.send(told)
        failed = []
        while len(failed) < len(NO_MESSAGES):
            data = page.recv(timeout=60)
            told = json.loads(data) if isinstance(data, str) else {}
            failed += [told["text"]] if told.get("kind") == "failed" else []
    assert all(text.startswith("This is no message: ") for text in failed)
    assert capfd.readouterr() == ("", "")


def test_what_cannot_be_done_is_answered_at_its_number(fitting: Fitting):
    with connected(fitting) as page:
        page.send(json.dumps({"do": "empty\x1b the disk", "id": 41}))
        while (told := json.loads(page.recv(timeout=60)))["kind"] != "failed":
            pass
    assert told["id"] == 41
    assert "\x1b" not in told["text"]


def test_a_message_too_long_ends_the_connection(fitting: Fitting, capfd: pytest.CaptureFixture[str]):
    with connected(fitting) as page:
        page.send(json.dumps({"do": "save", "id": 1, "more": "x" * (64 * 1024)}))
        with pytest.raises(ConnectionClosedError) as ended:
            read_on(page)
    assert ended.value.rcvd is not None
    assert ended.value.rcvd.code == 1009
    assert capfd.readouterr() == ("", "")


def read_on(page: ClientConnection) -> None:
    """Until the connection ends, which raises; a minute at most for what comes next."""
    while True:
        page.recv(timeout=60)


def test_noise_is_answered_or_hung_up_on(fitting: Fitting, capfd: pytest.CaptureFixture[str]):
    for noise in (
        b"\x16\x03\x01\x00\xff",
        b"GET\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost\r\n\r\n",
        b"\xff" * 9000,
        b"A" * 100,
    ):
        with closing(socket.create_connection(("127.0.0.1", fitting.gate.port), 60)) as sending:
            sending.sendall(noise)
            sending.shutdown(socket.SHUT_WR)
            assert b"200" not in sending.recv(1 << 16)[:20]
    assert answer_to(fitting, PAGE, ["Host: <host>"])[:12] == b"HTTP/1.1 200"
    assert capfd.readouterr() == ("", "")
