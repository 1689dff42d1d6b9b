"""What the engine thinks of a rack: small read-only results. Reasons are data; `ui.words` makes sentences."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from tilewitness.engine.faces import Face
from tilewitness.engine.hands import Hand
from tilewitness.engine.rack import Rack
from tilewitness.engine.worth import Payment


class Standing(Enum):
    """What the number of tiles says, by common practice."""

    FEW = "few"
    """Fewer than 13 tiles: part of a rack."""
    WAITING = "waiting"
    """13 tiles: between turns, waiting for one."""
    DECLARED = "declared"
    """14 tiles: as many as a win is declared with."""
    DEAD = "dead"
    """15 or more tiles: a dead hand by common practice."""


class Fault(Enum):
    """Why a rack is not a win, by name."""

    TILES_MISSING = "tiles missing"
    """The hand is right as far as it goes; tiles are still to come, and no tile is too many."""
    TILES_TOO_MANY = "tiles too many"
    """The hand is there, and more tiles than it takes."""
    WRONG_TILES = "wrong tiles"
    """Some tiles belong to the hand, others do not, and no single rule explains it."""
    DRAGON_OF_WRONG_SUIT = "dragon of the wrong suit"
    """Right but for which dragon it is: the card ties it to the suits of the hand."""
    WRONG_DRAGON = "wrong dragon"
    """Right but for which dragon it is: the card names it, or wants two different ones."""
    SUITS_NOT_DIFFERENT = "suits not different"
    """Right but for the suits: fewer suits than the card asks for."""
    SUITS_NOT_ALIKE = "suits not alike"
    """Right but for the suits: groups that should share one do not."""
    WRONG_SUIT = "wrong suit"
    """Right but for the suit, which the card names."""
    NUMBER_OUT_OF_RUN = "number out of run"
    """Right but for the number of one group."""
    WRONG_WIND = "wrong wind"
    """Right but for which wind one group is."""
    JOKER_IN_PAIR = "joker in a pair"
    """Right if a joker could stand in a pair."""
    JOKER_AMONG_SINGLES = "joker among singles"
    """Right if a joker could stand for a single tile."""
    JOKER_NOT_ALLOWED = "joker not allowed"
    """Right if this hand allowed jokers at all."""
    CONCEALED_HAND_SHOWN = "concealed hand shown"
    """Right, but the card wants it concealed and groups were claimed."""
    CLAIM_NOT_IN_HAND = "claimed group not in the hand"
    """Right, but a claimed group is no group of the hand; said of the whole rack: of no hand of the card."""
    MORE_THAN_A_SET_HOLDS = "more of a tile than a set holds"
    """More of one tile than a set of 152 holds: a misread tile or a mixed set."""


@dataclass(frozen=True, slots=True)
class Reason:
    """One fault and the places (counted from 0) of the tiles it is about."""

    fault: Fault
    places: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Slot:
    """One tile of a hand laid out in card order.

    Attributes:
        face: what the card asks for here.
        place: place on the rack of the tile that fills it, counted from 0, or None when it is missing.
        joker: that tile is a joker standing for `face`.
    """

    face: Face
    place: int | None
    joker: bool = False


@dataclass(frozen=True, slots=True)
class LaidGroup:
    """One group of equal tiles of a hand laid out.

    Attributes:
        slots: its one to six tiles.
        phrase: number of the card's phrase it belongs to: groups of one block of singles share it.
        claimed: it lies open as a claimed group.
    """

    slots: tuple[Slot, ...]
    phrase: int
    claimed: bool = False

    @property
    def face(self) -> Face:
        """The face its tiles stand for."""
        return self.slots[0].face

    @property
    def size(self) -> int:
        """Number of tiles."""
        return len(self.slots)


@dataclass(frozen=True, slots=True)
class Win:
    """A hand that the rack completes.

    Attributes:
        groups: the tiles in card order.
        in_card_order: the rack already shows this order (which matters to nobody while playing).
        payment: what it pays under common practice.
    """

    hand: Hand
    groups: tuple[LaidGroup, ...]
    in_card_order: bool
    payment: Payment

    @property
    def jokerless(self) -> bool:
        """No joker stands in it."""
        return not any(slot.joker for group in self.groups for slot in group.slots)


class Source(Enum):
    """How a missing tile may come to the rack, by common practice."""

    CLAIM = "claim"
    """From a discard, to lay its group open, since the rack holds the rest of that group."""
    CLAIM_TO_WIN = "claim to win"
    """From a discard only if it is the last tile of the hand."""
    DRAW_THEN_CLAIM = "draw, then claim"
    """All but the last of them from the wall; then the rack holds the rest of the group, and the last may be claimed."""
    DRAW = "draw"
    """Only from the wall."""
    NONE_LEFT = "none left"
    """Every copy is in sight already."""


@dataclass(frozen=True, slots=True)
class Get:
    """A tile to get.

    Attributes:
        count: how many of them.
        left: copies not in sight on the rack or in `seen`.
        joker_serves: a joker would do as well.
    """

    face: Face
    count: int
    left: int
    joker_serves: bool
    source: Source


@dataclass(frozen=True, slots=True)
class Near:
    """A hand that the rack does not complete.

    Attributes:
        missing: tiles still to get.
        groups: the hand in card order; missing tiles have no place.
        keep: places of the tiles that belong to it.
        let_go: places of the tiles that do not.
        get: the missing tiles. Where jokers leave a choice of which to get, the easiest.
        reasons: why it is not a win, the most telling first.
    """

    hand: Hand
    missing: int
    groups: tuple[LaidGroup, ...]
    keep: tuple[int, ...]
    let_go: tuple[int, ...]
    get: tuple[Get, ...]
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Wait:
    """A tile that would complete a rack of 13, the hands it completes (worth most first), copies left."""

    face: Face
    hands: tuple[Hand, ...]
    left: int


@dataclass(frozen=True, slots=True)
class Exchange:
    """A joker in a claimed group that the natural tile on the rack could buy back.

    Attributes:
        joker: place of the joker.
        natural: place of the tile it stands for.
        wins: hands that the rack completes once the two have changed places.
    """

    joker: int
    natural: int
    wins: tuple[Hand, ...] = ()


@dataclass(frozen=True, slots=True)
class Opinion:
    """A second opinion on one rack. The card itself and the table's rules decide.

    Attributes:
        wins: every hand the rack completes, the one worth most first; empty unless it has 14 tiles.
        nearest: otherwise the nearest hands: fewest tiles missing, then most copies of them left, then worth.
        near_misses: hands that lifting a single rule would complete, whatever their rank in `nearest`.
        waits: for 13 tiles, every tile that would win.
        exchanges: jokers in claimed groups that the rack could exchange.
        reasons: what is wrong with the rack whatever the hand.
    """

    rack: Rack
    standing: Standing
    wins: tuple[Win, ...]
    nearest: tuple[Near, ...]
    near_misses: tuple[Near, ...]
    waits: tuple[Wait, ...]
    exchanges: tuple[Exchange, ...]
    reasons: tuple[Reason, ...]

    @property
    def is_complete(self) -> bool:
        """The rack is a win."""
        return bool(self.wins)
