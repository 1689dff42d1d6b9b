import sys
from types import SimpleNamespace
from typing import Any

import pytest

from tilewitness.ui import aloud


class Engine:
    """Stands in for the speech library, which would need a voice and a loudspeaker."""

    def __init__(self, voices: list[str]) -> None:
        self.voices = voices
        self.said: list[str] = []
        self.settings: dict[str, Any] = {}

    def getProperty(self, name: str) -> list[str]:
        return self.voices

    def setProperty(self, name: str, value: object) -> None:
        self.settings[name] = value

    def say(self, text: str) -> None:
        self.said.append(text)

    def runAndWait(self) -> None:
        print("noise of the library")


def use(monkeypatch: pytest.MonkeyPatch, engine: Engine | Exception) -> None:
    def init() -> Engine:
        if isinstance(engine, Exception):
            raise engine
        return engine

    monkeypatch.setitem(sys.modules, "pyttsx3", SimpleNamespace(init=init))
    monkeypatch.setattr("shutil.which", lambda name: f"/usr/bin/{name}")


def test_sentences_are_said_in_order_at_a_calm_pace(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    engine = Engine(["a voice"])
    use(monkeypatch, engine)
    aloud.speak(["One.", "Two."], words_a_minute=120)

    assert ["One.", "Two."] == engine.said
    assert {"rate": 120} == engine.settings
    assert "" == capsys.readouterr().out  # standard output belongs to the answer


@pytest.mark.parametrize("engine", [Engine([]), OSError("libespeak.so.1"), RuntimeError("no driver"), KeyError("x")])
def test_without_a_voice_the_message_says_what_to_install(
    engine: Engine | Exception, monkeypatch: pytest.MonkeyPatch
) -> None:
    use(monkeypatch, engine)

    with pytest.raises(aloud.NoVoiceError, match="espeak-ng"):
        aloud.speak(["One."])
