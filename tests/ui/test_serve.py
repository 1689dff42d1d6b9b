import socket
from typing import Any

import pytest

from tilewitness.ui import cli, serve


@pytest.fixture
def commands(monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """What the server would have been started with."""
    started: list[list[str]] = []

    def main(arguments: list[str], **rest: Any) -> None:
        started.append(arguments)

    monkeypatch.setattr("streamlit.web.cli.main", main)
    return started


def test_the_app_is_for_this_computer_alone_unless_told_otherwise(
    commands: list[list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    serve.serve(home_network=False, port=8599, browser=False)

    assert "--server.address=localhost" in commands[0]
    assert "only this computer" in capsys.readouterr().out


def test_a_port_in_use_is_told_before_the_page_is_announced(
    commands: list[list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    with socket.create_server(("localhost", 0)) as taken:
        port = taken.getsockname()[1]
        assert 2 == cli.main(["app", "--no-browser", "--port", str(port)])
    shown = capsys.readouterr()

    assert ("", []) == (shown.out, commands)
    assert shown.err.startswith(f"tilewitness: port {port} is in use")


def test_opening_it_to_the_home_network_says_what_that_means(
    commands: list[list[str]], capsys: pytest.CaptureFixture[str]
) -> None:
    serve.serve(home_network=True, port=8599, browser=False)
    said = capsys.readouterr().out

    assert "--server.address=0.0.0.0" in commands[0]
    assert "there is no password" in said and "unencrypted" in said


def test_the_server_never_asks_the_internet_for_its_address(
    commands: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    from streamlit import net_util

    monkeypatch.setattr(net_util, "get_external_ip", net_util.get_external_ip)  # puts it back afterwards
    serve.serve(home_network=True, port=8599, browser=False)

    assert net_util.get_external_ip() is None


def test_nothing_is_reported_to_anybody(commands: list[list[str]]) -> None:
    serve.serve(home_network=False, port=8599, browser=True)

    assert {"--browser.gatherUsageStats=false", "--browser.serverAddress=localhost"} <= set(commands[0])
