"""What every folder of tests may ask for."""

from __future__ import annotations

import socket
from collections.abc import Iterator

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


@pytest.fixture(autouse=True, scope="session")
def _own_memory(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """What `check` remembers is kept away from the user's own cache."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
        yield
