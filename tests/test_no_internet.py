"""The guard of the whole suite: a try to reach the internet is refused and remembered."""

import socket

import pytest

from tests.conftest import InternetForbidden, internet_sockets


@pytest.mark.parametrize("family", [socket.AF_INET, socket.AF_INET6])
def test_an_internet_socket_cannot_be_opened(family: socket.AddressFamily) -> None:
    with pytest.raises(InternetForbidden):
        socket.socket(family)
    assert internet_sockets == ["socket.__new__"]
    internet_sockets.clear()


def test_no_name_can_be_looked_up() -> None:
    with pytest.raises(InternetForbidden):
        socket.getaddrinfo("harrowmere.example", 443)
    internet_sockets.clear()


def test_what_stays_on_this_computer_is_allowed() -> None:
    one, other = socket.socketpair()
    one.close()
    other.close()
    assert internet_sockets == []
