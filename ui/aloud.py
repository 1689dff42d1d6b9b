"""Speech without a browser, through the voices of the operating system."""

from __future__ import annotations

import contextlib
import platform
import shutil
import sys
from collections.abc import Sequence
from typing import Any, Final

WORDS_A_MINUTE: Final = 160
"""A calm pace: newsreaders speak at about 150 to 160 (from memory)."""

_NO_VOICE: Final = (
    "No voice is installed on this computer, so nothing was said aloud; the text above is complete. "
    "On Debian or Ubuntu: sudo apt-get install espeak-ng alsa-utils. Windows and macOS bring voices of their "
    "own: look in their settings under speech."
)


class NoVoiceError(Exception):
    """This computer cannot speak. The message says what to install."""


def speak(sentences: Sequence[str], *, words_a_minute: int = WORDS_A_MINUTE) -> None:
    """Say the sentences one after the other and return when the last has been said.

    Raises:
        NoVoiceError: there is no speech engine, no voice, or nothing to play sound with.
    """
    with contextlib.redirect_stdout(sys.stderr):  # the library prints; standard output is for answers
        engine = _engine()
        engine.setProperty("rate", words_a_minute)
        for sentence in sentences:
            engine.say(sentence)
        engine.runAndWait()


def say_if_possible(lines: Sequence[str]) -> None:
    """Say lines after they were printed. Speech comes on top of the answer: without a voice the answer still stands."""
    sys.stdout.flush()
    try:
        speak([line for line in lines if line])
    except NoVoiceError as error:
        print(f"tilewitness: {error}", file=sys.stderr)


def _engine() -> Any:
    """A speech engine with at least one voice."""
    import pyttsx3

    if platform.system() == "Linux" and not shutil.which("aplay"):  # what the library plays sound with there
        raise NoVoiceError(_NO_VOICE)
    try:
        engine = pyttsx3.init()
        voices = engine.getProperty("voices")
    except (ImportError, OSError, RuntimeError, KeyError) as error:
        raise NoVoiceError(_NO_VOICE) from error
    if not voices:
        raise NoVoiceError(_NO_VOICE)
    return engine
