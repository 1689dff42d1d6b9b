"""Questions about a person's own card, made from a seed and answered by the engine.

Three kinds in turn: which tile is wrong here; which hands can these thirteen still become; may this discard be claimed.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from enum import Enum
from random import Random
from typing import Final

import numpy as np

from tilewitness.engine.card import Card
from tilewitness.engine.claims import Claim, claims_for
from tilewitness.engine.exercise import Exercise, check, only
from tilewitness.engine.faces import FACES, Face
from tilewitness.engine.forms import OPEN
from tilewitness.engine.hands import Hand
from tilewitness.engine.judge import judge
from tilewitness.engine.measure import NEVER, held, missing_tiles
from tilewitness.engine.opinion import Wait
from tilewitness.engine.plans import HAND_SIZE
from tilewitness.engine.rack import JOKER, Rack

TRIES: Final = 400
"""Racks drawn by chance, for each answer wanted, until one makes a fair question."""


class Level(Enum):
    """How hard questions are: how alike wrong and right are, and how many jokers help."""

    EASY = 1
    MIDDLE = 2
    HARD = 3


class Use(Enum):
    """What a discard may be claimed for."""

    WIN = "win"
    GROUP = "group"
    NO = "no"


USES: Final = tuple(Use)
"""The choices of a question about a discard, in their order."""


@dataclass(frozen=True, slots=True)
class WrongTile:
    """Which tile is wrong in this hand? The choices are the places of the rack.

    Attributes:
        exercise: what is wrong and what would put it right.
    """

    hand: Hand
    rack: Rack
    answer: frozenset[int]
    exercise: Exercise

    @property
    def options(self) -> int:
        """Number of choices."""
        return len(self.rack.faces)


@dataclass(frozen=True, slots=True)
class StillPossible:
    """Which of these hands can thirteen tiles become with one more? Several may be right.

    Attributes:
        hands: the choices.
        waits: every tile that completes one of them.
    """

    rack: Rack
    hands: tuple[Hand, ...]
    answer: frozenset[int]
    waits: tuple[Wait, ...]

    @property
    def options(self) -> int:
        """Number of choices."""
        return len(self.hands)


@dataclass(frozen=True, slots=True)
class MayClaim:
    """May this discard be claimed by a player of this hand? The choices are `USES`.

    Attributes:
        claims: what it may be claimed for, the best first.
        missing: tiles missing to the hand before the claim.
    """

    hand: Hand
    rack: Rack
    discard: Face
    answer: frozenset[int]
    claims: tuple[Claim, ...]
    missing: int

    @property
    def use(self) -> Use:
        """The right answer."""
        return next(USES[at] for at in self.answer)

    @property
    def options(self) -> int:
        """Number of choices."""
        return len(USES)


Question = WrongTile | StillPossible | MayClaim


def is_right(question: Question, chosen: Collection[int]) -> bool:
    """Tell whether exactly the right choices were made."""
    return question.answer == frozenset(chosen)


def questions(card: Card, level: Level, seed: int, count: int = 10) -> tuple[Question, ...]:
    """Return so many questions about a card; the same seed gives the same ones.

    Fewer come from a card that gives no fair ones of a kind.
    """
    random = Random(f"{seed} {level.value}")
    hands = [hand for at, hand in enumerate(card.hands) if (card.forms.hand == at).any()]
    makers: list[Callable[[_Draw], Question | None]] = [_wrong_tile, _still_possible, _may_claim]
    made = (_first(makers[number % 3], card, hands, level, random) for number in range(count))
    return tuple(question for question in made if question is not None)


def _first(
    make: Callable[[_Draw], Question | None], card: Card, hands: list[Hand], level: Level, random: Random
) -> Question | None:
    for use in random.sample(USES, len(USES)):
        for _ in range(TRIES if hands else 0):
            question = make(_Draw(card, random.choice(hands), level, random, use))
            if question is not None:
                return question
    return None


@dataclass(frozen=True, slots=True, eq=False)
class _Draw:
    """One hand to ask about, the chance that shapes the question, and which answer one about a discard should have."""

    card: Card
    hand: Hand
    level: Level
    random: Random
    use: Use

    @property
    def alone(self) -> Card:
        return only(self.card, self.hand)

    def built(self, jokers: int) -> list[Face]:
        """Build the hand in some way, in card order, with about so many jokers."""
        forms = self.alone.forms
        column = self.random.randrange(len(forms))
        plan, slots = forms.plans[forms.plan[column]], forms.slots[:, column].copy()
        if plan.choice:
            picked = self.random.sample(plan.choice.items, plan.choice.count)
            slots[slots == OPEN] = np.repeat([face for item in picked for face in item], plan.choice.size)
        faces = [FACES[index] for index in slots]
        sizes = np.repeat(plan.sizes, plan.sizes)
        may = [place for place in range(HAND_SIZE) if plan.takes_joker(sizes[place])]
        for place in reversed(may):
            if faces.count(faces[place]) > faces[place].copies:
                faces[place] = JOKER
        free = [place for place in may if faces[place] != JOKER]
        for place in self.random.sample(free, min(jokers, len(free))):
            faces[place] = JOKER
        return faces


def _missing(tiles: list[Face] | Rack, card: Card) -> int:
    rack = Rack.of(tiles)
    forms = card.forms.for_rack(held(rack))
    return int(missing_tiles(forms, rack).min(initial=NEVER))


def _wrong_tile(draw: _Draw) -> WrongTile | None:
    """Spoil one tile, so that changing this tile and no other puts the rack right."""
    tiles = draw.built(draw.level.value - 1)
    place = draw.random.randrange(HAND_SIZE)
    spoilt = [face for face in _spoilt(tiles[place], draw.level) if tiles.count(face) < face.copies]
    if tiles[place] == JOKER or not spoilt:
        return None
    tiles[place] = draw.random.choice(spoilt)
    alone = draw.alone
    mends = {at for at in range(HAND_SIZE) if _missing(tiles[:at] + tiles[at + 1 :], alone) == 1}
    if mends != {place} or not _missing(tiles, alone):
        return None
    rack = Rack(tuple(tiles))
    return WrongTile(draw.hand, rack, frozenset({place}), check(rack, draw.hand, draw.card))


def _spoilt(face: Face, level: Level) -> list[Face]:
    """What stands in place of a tile: something else altogether, something like it, on the last level also a joker."""
    if level is Level.EASY:
        return [other for other in FACES[:JOKER.index] if other.kind is not face.kind]
    alike = [other for other in FACES[:JOKER.index] if other != face and _alike(other, face)]
    return [*alike, JOKER] if level is Level.HARD else alike


def _alike(one: Face, other: Face) -> bool:
    """Two winds, two dragons, one number in two suits, or neighbours in one suit."""
    if one.kind is not other.kind or one.number is None or other.number is None:
        return one.kind is other.kind
    return one.number == other.number or (one.suit is other.suit and abs(one.number - other.number) == 1)


def _still_possible(draw: _Draw) -> StillPossible | None:
    """Take a tile away from a hand, and offer other hands beside it: the harder, the nearer."""
    tiles = draw.built(draw.level.value - 1)
    del tiles[draw.random.randrange(HAND_SIZE)]
    rack = Rack(tuple(tiles))
    forms = draw.card.forms.for_rack(held(rack))
    missing = missing_tiles(forms, rack)
    least = {at: int(missing[forms.hand == at].min()) for at in np.unique(forms.hand).tolist()}
    possible = [at for at, distance in least.items() if distance == 1]
    others = [at for at, distance in least.items() if distance > 1]
    draw.random.shuffle(possible)
    draw.random.shuffle(others)
    if draw.level is not Level.EASY:
        others.sort(key=lambda at: least[at] // (4 - draw.level.value))
    wrong = others[: draw.level.value + 1]
    if not possible or not wrong:
        return None
    offered = [*possible[: draw.level.value], *wrong]
    draw.random.shuffle(offered)
    hands = tuple(draw.card.hands[at] for at in offered)
    waits = tuple(
        Wait(wait.face, here, wait.left)
        for wait in judge(rack, draw.card).waits
        if (here := tuple(hand for hand in wait.hands if hand in hands))
    )
    right = frozenset(index for index, at in enumerate(offered) if least[at] == 1)
    return StillPossible(rack, hands, right, waits)


def _may_claim(draw: _Draw) -> MayClaim | None:
    """Take tiles away from a hand, put others in their place, and let one be discarded."""
    built = draw.built(draw.level.value - 1 if draw.level is Level.HARD else 0)
    strange = 0 if draw.use is Use.WIN else draw.random.randint(1, draw.level.value)
    taken = draw.random.sample(range(HAND_SIZE), strange + 1)
    away = [built[place] for place in taken]
    others = [face for face in FACES[:34] if face not in built]
    tiles = [face for place, face in enumerate(built) if place not in taken]
    tiles += draw.random.sample(others, strange)
    discard = away[0]
    if draw.use is Use.NO and draw.level is Level.EASY:
        discard = draw.random.choice(others)
    rack = Rack(tuple(tiles))
    before = _missing(rack, draw.alone)
    if discard == JOKER or len(tiles) != HAND_SIZE - 1 or tiles.count(discard) >= discard.copies:
        return None
    claims = claims_for(discard, rack, draw.alone)
    use = Use.NO if not claims else Use.WIN if claims[0].wins else Use.GROUP
    helps = use is Use.NO or claims[0].missing < before
    if use is not draw.use or not helps:
        return None
    return MayClaim(draw.hand, rack, discard, frozenset({USES.index(use)}), claims, before)
