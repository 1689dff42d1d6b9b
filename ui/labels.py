"""What can be pressed, chosen or filled in, and the headings it stands under."""

from __future__ import annotations

from typing import Final

RACK_PAGE: Final = "My rack"
TABLE_PAGE: Final = "Table of layouts"
LISTEN_PAGE: Final = "Listen"
SETS_PAGE: Final = "My set"
PRACTISE_PAGE: Final = "Practise"
QUIZ_PAGE: Final = "Quiz"
CARD_PAGE: Final = "Card and choices"

PHOTO_RACK: Final = "Photo of your rack"
PHOTO_TABLE: Final = "Photo of the table, a row for each layout"
RACK_INTRO: Final = (
    "Take a photo of your tiles from straight above. You are told which hand of your card they make, or what is "
    "missing. Photos stay on this computer."
)
TABLE_INTRO: Final = (
    "Take a photo of a whole table, a row for each hand laid out. Every row is checked on its own. "
    "Photos stay on this computer."
)
LISTEN_INTRO: Final = (
    "Choose a photo of your tiles. They are said from left to right, then the answer. "
    "Everything works by keyboard. Photos stay on this computer."
)
ANOTHER_PHOTO: Final = "Another photo"
USE_CAMERA: Final = "Use the camera"
CAMERA: Final = "Take a photo of your rack"
READING: Final = "Finding and naming the tiles. A large photo takes a few seconds."
JUDGING: Final = "Comparing the tiles with your card."
NO_PHOTO: Final = "No photo at hand?"
TRY_SAMPLE: Final = "Try a sample photo"
SAMPLE: Final = "The sample photo"
OTHER_SAMPLES: Final = "More sample photos"
SAMPLES: Final = {
    "win": "a complete hand",
    "one-off": "one tile missing",
    "exposed": "claimed groups",
    "joker-in-pair": "a joker in a pair",
    "upside-down-tile": "a tile upside down",
    "table": "a table of layouts",
    "no-rack": "no tiles at all",
}

UNEXPECTED: Final = (
    "Something went wrong here that should not have. Your card and choices are safe. Load the page again; "
    "the window in which the program was started tells more."
)

LAID_OUT: Final = "The hand, in card order"
NEAREST: Final = "Other hands"
LET_GO: Final = "let go"
MISSING: Final = "missing"
JOKER: Final = "joker"
KEEP: Final = "Keep a copy"
MARKED_PHOTO: Final = "Marked photo (PNG)"
TILE_LIST: Final = "List of tiles (CSV)"
RESULT_LIST: Final = "List of rows (CSV)"
PRINT: Final = "Print on one page"
UNDO: Final = "Undo the last correction"
OPEN_ROWS: Final = "Which rows lie open beside the rack?"
ADVICE: Final = "For a better photo"

SPEECH: Final = {
    "controls": "Speech",
    "again": "Read it aloud",
    "slower": "Slower",
    "faster": "Faster",
    "stop": "Stop",
    "notAllowed": "Your browser waits for you before it speaks. Press Read it aloud.",
    "noVoice": "This browser has no voice installed, so nothing can be said aloud. The words above are complete.",
}

TILES: Final = {
    "heading": "The tiles, as read",
    "hint": "Choose a tile to correct it. Arrow keys walk from tile to tile, Enter chooses.",
    "askRow": "Row",
    "ask": "What is at place",
    "tell": "Tell me",
    "noSuchPlace": "There is no such place.",
    "add": "Add a tile the photo missed",
    "likely": "likely",
    "closer": "The tile, enlarged",
    "remove": "Not a tile of mine: leave it out",
    "cancel": "Cancel",
}
UNSURE: Final = "unsure"
CORRECTED: Final = "by you"

SPEAK_BY_ITSELF: Final = "Say each answer aloud by itself"
SPEECH_HEADING: Final = "Speech"
WHICH_RACK: Final = "This photo shows several racks. Which one is yours?"
ALL_ONE_RACK: Final = "All of it is one rack"

MEANT: Final = "Say which hand each row was meant to be"
IN_CARD_ORDER: Final = "The rows follow the card, and the first row is"
BEST_MATCH: Final = "whatever fits best"
RESULTS: Final = "Row by row"
LAYOUTS: Final = "Each row laid out"

WHICH_SET: Final = "Read photos with"
NO_SET: Final = "no set of mine"
OTHER_SET_HELP: Final = "Until then choose no set."
TAKE_BACK: Final = "Take that back"
SETS_INTRO: Final = (
    "Designer tiles, or a set that is often misread? Show it once: lay out one of each tile in rows, photograph the rows, "
    "look over what was made of them, and keep the set under a name. Photos stay on this computer and are not kept; "
    "small pictures of the tiles are."
)
HOW_MANY_FLOWERS: Final = "Different pictures of flowers"
HOW_MANY_JOKERS: Final = "Different pictures of jokers"
PRINT_LAYOUT: Final = "Print the layout"
PHOTO_LAYOUT: Final = "Photos of the layout"
CAMERA_LAYOUT: Final = "Take a photo of the layout"
STUDYING: Final = "Looking at every tile. This takes a few seconds a photo."
LESSON_TILES: Final = "The tiles, as laid out"
LEAVE_OUT: Final = "Do not learn this tile"
LESSON_REMARKS: Final = {
    "agrees": "", "unsure": "new", "other": "which?", "not seen": "not seen", "faded": "no print",
    "told": CORRECTED, "left out": "left out",
}  # fmt: skip
AS_LAID_OUT: Final = "The layout is right: learn the tiles in doubt as laid out"
SET_NAME: Final = "Name of the set"
SET_NAME_DEFAULT: Final = "My set"
KEEP_SET: Final = "Keep this set"
ADD_TO_SET: Final = "Add to the set of this name"
LEARN_SET: Final = "Learn a set"
KEPT_SETS: Final = "Sets kept on this computer"
NEW_NAME: Final = "Another name for it"
RENAME: Final = "Rename"
EXPORT: Final = "Save a copy to a file"
UNDO_ADDITION: Final = "Undo the last addition"
DELETE: Final = "Delete"
DELETE_YES: Final = "Yes, delete it"
DELETE_NO: Final = "No, keep it"
SET_FILE: Final = "A set saved to a file before, or one that somebody gave you"

WHICH_CARD: Final = "Judge by"
DEMO_CARD: Final = "the demo card, invented"
ADD_CARD: Final = "Your own card"
ADD_CARD_HELP: Final = "Type it in from the paper card you own, or choose a card file typed before. It stays on this computer."
CARD_WORDING: Final = "How to word a hand"
CARD_FILE: Final = "A card file"
KEPT: Final = "Kept, and used from now on."
NOT_KEPT: Final = "The card is right but could not be kept:"
KEPT_BESIDE: Final = "You keep another card of this name already, so this one is called “{name}”."
FORGET: Final = "Forget the card"
FORGET_QUESTION: Final = (
    "Delete the card “{name}” from this computer? This cannot be undone. A card file saved elsewhere stays."
)
KEPT_IN: Final = "Your card and choices are kept in"

PRACTICE_SHEET: Final = "Practice sheet (PDF)"
WALL_CHART: Final = "Wall chart (PDF)"
PAPER_HEADING: Final = "On paper"
PAPER_HELP: Final = "Large print, tagged for screen readers, readable in black and white."
PAPER_SIZE: Final = "Paper"
PAPER_SIZES: Final = {"a4": "A4, the chart A3", "letter": "Letter, the chart Tabloid"}
PAPER_LOST: Final = (
    "Some letters of this card{letters} are in no font of this computer and stand as empty boxes on paper. "
    "The file is tagged, but does not claim to be PDF/UA. Install a font that has them, such as Noto Sans CJK for Chinese, "
    "Japanese and Korean (on Debian and Ubuntu the package fonts-noto-cjk), start Tilewitness again, and write the sheet anew."
)
PAPER_FRAMES: Final = "Fourteen empty frames."
PAPER_OWN_WAY: Final = "Another way to build it:"
PAPER_BUILT: Final = "Built with tiles:"
PAPER_INTRO: Final = {
    "practice sheet": (
        "Each hand with one example of it. Lay it out with tiles, tick a box each time, and write another way to build it "
        "into the empty frames."
    ),
    "wall chart": "Each hand with one example of it. Where a suit or number is left open, yours may differ.",
}

TYPE_PAGE: Final = "Type a card"
TYPE_INTRO: Final = (
    "Type the paper card you own, hand by hand, in words you would read aloud. What you type is kept on this computer "
    "as you type it, even if you close the window."
)
TYPE_WHICH: Final = "Card to work on"
NEW_CARD: Final = "a new card"
NEW_CARD_NAME: Final = "My card"
TYPING: Final = {
    "section": "Section",
    "hand": "Name of the hand",
    "wording": "The hand, in words",
    "hint": "For example: pair of flowers, kongs of 2, 4 and 6 in one suit; worth 25. Enter puts it on the card.",
    "put": "Put it on the card",
}
BEGIN_TYPING: Final = "Begin with a group, like pair of flowers, and end with what the hand is worth."
NO_SECTION: Final = "Not on the card yet. Say which section of your card it stands in."
NO_HAND_NAME: Final = "Not on the card yet. Give the hand a name; any name you will know it by."
NAME_TAKEN: Final = "Not on the card yet. Another hand of this section has that name. Give this one another."
NOT_A_HAND: Final = "Not on the card yet. Mend the words that are marked."
ON_THE_CARD: Final = "It is on the card:"
CARD_SO_FAR: Final = "The card so far"
NO_HANDS_YET: Final = "No hands yet."
CARD_CALLED: Final = "What the card is called"
CHOOSE_HAND: Final = "Choose a hand of it"
CHANGE_HAND: Final = "Change"
HAND_UP: Final = "Move up"
HAND_DOWN: Final = "Move down"
DELETE_HAND: Final = "Delete"
SECTIONS: Final = "Sections"
CHOOSE_SECTION: Final = "Choose a section of it"
SECTION_CALLED: Final = "What the section is called"
SECTION_UP: Final = "Move the section up"
SECTION_DOWN: Final = "Move the section down"
UNDO_CHANGE: Final = "Undo the last change"
KEEP_CARD: Final = "Keep this card and judge by it"
DRAFT_KEPT: Final = "This is a draft. It becomes your card when you keep it."
DRAFT_SAME: Final = "Your card holds all of this."
DRAFT_FIELDS: Final = "Your card holds these hands. What stands in the fields above is not on it yet."
TWO_WINDOWS: Final = (
    "This card was changed in another window meanwhile. Choose with which you go on: until then nothing of this window "
    "is saved. The other one stays within reach: “Undo the last change” brings it back."
)
TAKE_OTHER: Final = "Go on with what the other window has"
KEEP_THIS: Final = "Keep what stands here"
DRAFT_LOST: Final = "The draft could not be saved: your data folder cannot be written to. Download the card file before you leave."
CARD_NAME_KEPT: Final = "You keep a card of this name already. Call this one something else, or choose that card above to change it."
CARD_FILE_OUT: Final = "The card file"
COMPARE_HEADING: Final = "What changed"
COMPARE_WITH: Final = "Compare with"
COMPARE_NOTHING: Final = "nothing"
