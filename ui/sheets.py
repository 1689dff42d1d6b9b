"""Pictures in order: a hand laid out with a person's own tiles, as HTML for the page and for print."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Final

from tilewitness.engine.faces import Face
from tilewitness.engine.hands import size_word
from tilewitness.engine.opinion import LaidGroup, Near, Slot, Win
from tilewitness.engine.rack import JOKER, Rack
from tilewitness.ui import labels
from tilewitness.ui.drawing import row_svg, tile_address
from tilewitness.ui.judging import Judged
from tilewitness.ui.phrasing import plural, tiles_in_order
from tilewitness.ui.sight import Sight
from tilewitness.ui.words import Places, block_name, blocks
from tilewitness.vision.places import Layout

STYLE: Final = """
<style>
.tw-groups, .tw-groups ul { list-style: none; margin: 0 !important; padding: 0 !important; display: flex; flex-wrap: wrap; }
.tw-groups { gap: 1.5rem 1.8rem; padding: 0.2rem 0 1rem !important; }
.tw-layout > li { width: 100%; }
.tw-groups li { margin: 0 !important; padding: 0; }
.tw-group-name { margin: 0 0 0.35rem; font-weight: 600; }
.tw-groups ul { gap: 0.35rem; }
.tw-groups ul > li { width: 4.1rem; text-align: center; font-size: 0.85rem; line-height: 1.2; }
.tw-groups img { display: block; width: 4.1rem; height: 5.45rem; object-fit: cover; border-radius: 0.3rem; }
.tw-blank { display: flex; align-items: center; justify-content: center; width: 4.1rem; height: 5.45rem;
  border: 3px dashed #6b5a6d; border-radius: 0.3rem; background: #ffffff; font-size: 0.95rem; }
.tw-row ul { gap: 0.25rem; }
.tw-row ul > li, .tw-row img { width: 3.55rem; height: auto; }
.tw-small ul > li, .tw-small img { width: 2.6rem; height: auto; }
.tw-joker img { outline: 4px double #4a2348; outline-offset: -1px; }
.tw-groups > li.tw-claimed { border-bottom: 5px solid #6b5a6d; padding-bottom: 0.3rem; }
.tw-groups > li.tw-away { padding: 0.5rem 0.8rem 0.6rem; margin-top: -0.6rem !important; border: 2px dotted #6b5a6d;
  border-radius: 0.6rem; }
/* A kong side by side on a phone. */
@media (max-width: 30rem) {
  .tw-groups ul { gap: 0.3rem; }
  .tw-groups ul > li, .tw-groups img, .tw-blank { width: 3.95rem; }
}
</style>
"""


def hand_html(judged: Judged, best: Win | Near, sight: Sight) -> str:
    """The hand in card order, each tile a cut-out of the photo, what is missing as an empty frame."""
    items = [_block(block, judged, sight) for block in blocks(best.groups)]
    if isinstance(best, Near) and best.let_go:
        let_go = "".join(_picture(place, judged, sight) for place in best.let_go)
        items.append(_group(labels.LET_GO, let_go, "tw-away"))
    return f'<ol class="tw-groups">{"".join(items)}</ol>'


def _block(block: Sequence[LaidGroup], judged: Judged, sight: Sight) -> str:
    tiles = "".join(_slot(slot, judged, sight) for group in block for slot in group.slots)
    return _group(block_name(block), tiles, "tw-claimed" if block[0].claimed else "")


def _group(name: str, tiles: str, kind: str) -> str:
    return f'<li class="{kind}"><p class="tw-group-name">{escape(name)}</p><ul>{tiles}</ul></li>'


def _slot(slot: Slot, judged: Judged, sight: Sight) -> str:
    if slot.place is None:
        return f'<li><span class="tw-blank">{escape(slot.face.name)}</span>{labels.MISSING}</li>'
    return _picture(slot.place, judged, sight, joker=slot.joker)


def _picture(place: int, judged: Judged, sight: Sight, *, joker: bool = False) -> str:
    face = judged.rack.faces[place].name
    address = sight.cutouts[judged.tiles[place]]
    shown = f'<img src="{address}" alt="{escape(face)}">' if address else f'<span class="tw-blank">{escape(face)}</span>'
    remark = f"{labels.JOKER}, " if joker else ""
    kind = ' class="tw-joker"' if joker else ""
    return f"<li{kind}>{shown}{remark}{escape(judged.places[place])}</li>"


def layout_html(rows: Layout) -> str:
    """The rows of a layout as empty frames with the names of the tiles."""
    items = [_group(f"Row {number}", "".join(map(_frame, row)), "") for number, row in enumerate(rows, 1)]
    return f'<ol class="tw-groups tw-layout">{"".join(items)}</ol>'


def _frame(face: Face) -> str:
    return f'<li><span class="tw-blank">{escape(face.name)}</span></li>'


def drawn_hand_html(groups: Sequence[LaidGroup], rack: Rack, places: Places) -> str:
    """A hand in card order, its tiles drawn: those on the rack with their places, missing ones as empty frames."""
    items = []
    for block in blocks(groups):
        tiles = "".join(_drawn_slot(slot, rack, places) for group in block for slot in group.slots)
        items.append(_group(block_name(block), tiles, ""))
    used = {slot.place for group in groups for slot in group.slots}
    let_go = [place for place in range(len(rack.faces)) if place not in used]
    if let_go:
        items.append(_group(labels.LET_GO, "".join(_drawn_tile(place, rack, places) for place in let_go), "tw-away"))
    return f'<ol class="tw-groups">{"".join(items)}</ol>'


def _drawn_slot(slot: Slot, rack: Rack, places: Places) -> str:
    if slot.place is None:
        return f'<li><span class="tw-blank">{escape(slot.face.name)}</span>{labels.MISSING}</li>'
    return _drawn_tile(slot.place, rack, places)


def _drawn_tile(place: int, rack: Rack, places: Places) -> str:
    return f"<li>{_drawn(rack.faces[place])}{escape(places[place])}</li>"


def _drawn(face: Face) -> str:
    return f'<img src="{tile_address(face)}" alt="{escape(face.name)}">'


def drawn_tiles_html(faces: Sequence[Face], places: Places) -> str:
    """Tiles in a row, drawn, each with the name of its place."""
    tiles = "".join(f"<li>{_drawn(face)}{escape(place)}</li>" for face, place in zip(faces, places, strict=True))
    return f'<div class="tw-groups tw-row"><ul>{tiles}</ul></div>'


def drawn_way_html(groups: Sequence[tuple[int, Face]]) -> str:
    """One way to build a hand, small: size and face of every group in card order."""
    items = [
        _group(f"{size_word(size)} of {plural(face)}", f"<li>{_drawn(face)}</li>" * size, "tw-small")
        for size, face in groups
    ]
    return f'<ol class="tw-groups">{"".join(items)}</ol>'


def drawn_groups(groups: Sequence[LaidGroup]) -> list[dict[str, str]]:
    """The groups of an example in card order, each with its name and its tiles drawn side by side."""
    return [
        {"name": block_name(block), "svg": row_svg(shown, tiles_in_order(shown))}
        for block in blocks(groups)
        for shown in [shown_faces(block)]
    ]


def shown_faces(block: Sequence[LaidGroup]) -> list[Face]:
    """The tiles to draw: where a joker is needed, a joker."""
    return [JOKER if slot.joker else slot.face for group in block for slot in group.slots]


def page_html(title: str, body: str) -> str:
    """A page of its own, made to be printed on one sheet."""
    return f"""<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{escape(title)}</title>{STYLE}<style>
@page {{ size: A4; margin: 12mm; }}
html {{ font: 11px/1.35 "Source Sans", "Segoe UI", system-ui, sans-serif; color: #000; background: #fff; }}
h1 {{ font-size: 20px; margin: 0 0 6px; }} h2 {{ font-size: 14px; margin: 10px 0 4px; }}
p {{ margin: 2px 0; }} .photo {{ max-width: 100%; max-height: 90mm; display: block; margin: 6px auto; }}
table {{ border-collapse: collapse; width: 100%; }}
th, td {{ border: 1px solid #6b5a6d; padding: 2px 5px; text-align: left; vertical-align: top; }}
.tw-groups ul > li, .tw-groups img, .tw-blank {{ width: 40px; }} .tw-groups img, .tw-blank {{ height: 53px; }}
.tw-groups ul > li, .tw-blank {{ font-size: 8px; }} .tw-groups {{ gap: 8px 14px; }}
</style></head><body><h1>{escape(title)}</h1>{body}</body></html>"""


def paragraphs(lines: Sequence[str]) -> str:
    """Sentences as paragraphs."""
    return "".join(f"<p>{escape(line)}</p>" for line in lines)


def table_html(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A plain table with a row of headings."""
    head = "".join(f'<th scope="col">{escape(one)}</th>' for one in heads)
    body = "".join("<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in rows)
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
