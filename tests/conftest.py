"""What every folder of tests may ask for."""

from __future__ import annotations

import socket

import pytest


@pytest.fixture
def no_network(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever reaches for the network fails. `socket.socket` stays the class that it is: libraries that are first imported
    meanwhile derive theirs from it."""

    def no(*_: object, **__: object) -> None:
        raise AssertionError("the network was asked")

    monkeypatch.setattr(socket.socket, "__init__", no)
    for name in ("create_connection", "getaddrinfo"):
        monkeypatch.setattr(socket, name, no)
