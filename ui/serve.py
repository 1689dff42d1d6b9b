"""Start the app: a small web server on this computer, for this computer unless told otherwise."""

from __future__ import annotations

import contextlib
import ctypes
import platform
import socket
from importlib import resources

_HERE = "The app runs at http://localhost:{port} and only this computer can open it. Photos never leave it."
_NETWORK = (
    "The app runs at http://localhost:{port} for this computer and at {address} for phones and computers on the "
    "same network.\n"
    "Until you stop it, anybody on that network can open the app and use your cards; there is no password. "
    "Photos go from the phone to this computer over the network unencrypted, and nowhere else. "
    "Do this at home, not in a café.\n"
    "On the phone use the button for choosing a photo; it offers the camera."
)


def serve(*, home_network: bool, port: int, browser: bool) -> int:
    """Serve until stopped, then return 0.

    Args:
        home_network: listen on every network interface in place of this computer alone.
        browser: open the page once the server is up.
    Raises:
        ValueError: the port is in use.
    """
    if not _is_free(port):
        raise ValueError(
            f"port {port} is in use, perhaps by Tilewitness in another window. Stop it there, or name another port: "
            f"--port {port + 1 if port < 65535 else port - 1}."
        )
    from streamlit import net_util
    from streamlit.web import cli

    # A visit from an unknown address would make the server ask the internet for its own; it shall never ask.
    net_util.get_external_ip = lambda: None
    _keep_memory_flat()
    address = f"http://{_own_address()}:{port}"
    print((_NETWORK if home_network else _HERE).format(port=port, address=address), flush=True)
    print("Press Ctrl and C to stop it.", flush=True)
    with resources.as_file(resources.files("tilewitness.ui") / "app.py") as page:
        settings = _settings(home_network=home_network, port=port, browser=browser)
        real = page.resolve()  # an editable install holds links, through which Streamlit serves no fonts
        cli.main(["run", str(real), *settings], standalone_mode=False)
    return 0


def _is_free(port: int) -> bool:
    """Whether no other program listens at this port; Streamlit finds out only after the page was announced."""
    with socket.socket() as probe:
        probe.settimeout(1)
        return probe.connect_ex(("localhost", port)) != 0


def _keep_memory_flat() -> None:
    """Let the threads of the server share memory, and give large pieces back as soon as they are free.

    Each run of a page is a thread, and glibc gives threads up to eight memory pools a core, which grow one after
    the other from photo to photo; and it keeps ever larger pieces for later. Measured over 30 photos: growth from
    320 to 510 MB with neither setting, from 257 to 278 MB with two pools, from 255 to 267 MB with both.
    """
    if platform.system() == "Linux":
        with contextlib.suppress(AttributeError, OSError):
            library = ctypes.CDLL(None)
            library.mallopt(_M_ARENA_MAX, 2)
            library.mallopt(_M_MMAP_THRESHOLD, 1 << 20)  # a photo's pixels go back to the system at once


_M_ARENA_MAX, _M_MMAP_THRESHOLD = -8, -3
"""Source: glibc's malloc.h."""


def _settings(*, home_network: bool, port: int, browser: bool) -> list[str]:
    """Options that must hold wherever the app is started from; the rest stands in the settings file."""
    return [
        f"--server.address={'0.0.0.0' if home_network else 'localhost'}",
        f"--server.port={port}",
        f"--server.headless={'false' if browser else 'true'}",
        "--browser.gatherUsageStats=false",
        "--browser.serverAddress=localhost",  # else the server asks the internet for its own address
        "--logger.hideWelcomeMessage=true",
    ]


def _own_address() -> str:
    """This computer's address on its network. No packet is sent: connecting a datagram socket only picks a route."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address reserved for documentation (RFC 5737)
        except OSError:
            return "localhost"
        return str(probe.getsockname()[0])
