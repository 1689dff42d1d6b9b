"""What can be pressed, chosen or filled in on the pages for practice, and the headings it stands under."""

from __future__ import annotations

from typing import Final

INTRO: Final = (
    "Build a hand of your card and have it checked: with your own tiles and a photo, or with tiles drawn here. "
    "What you build is written down on this computer, so that you see what you know and what comes next."
)
LEARNER: Final = "Who is practising?"
KNOWN_LEARNERS: Final = "In the notebook:"
MEANT: Final = "There is no “{typed}” in the notebook yet. Did you mean {known}?"
MEANT_YES: Final = "Yes, {known}"
MEANT_NO: Final = "No, begin a notebook for {typed}"
SET_ASIDE: Final = "Set the damaged notebook aside and begin a new one"
SET_ASIDE_HELP: Final = "Nothing is deleted: the old file gets another name, and stays where it is."
ASIDE: Final = "A new notebook is begun. The old one is called “{name}” now and lies in {folder}."
ALOUD: Final = "Say everything aloud"

SAY_TASK: Final = "Say the hand"

WHAT: Final = "What to practise"
LEAST: Final = "what I know least"
SECTION: Final = "a section"
HAND: Final = "a hand"
WHICH_SECTION: Final = "Which section?"
WHICH_HAND: Final = "Which hand?"

HOW: Final = "How to build it"
DRAWN: Final = "with drawn tiles"
PHOTO: Final = "with my own tiles and a photo"
PHOTO_LABEL: Final = "Photo of the hand you built"
PHOTO_INTRO: Final = (
    "Build the hand with your tiles and take a photo from straight above. Check the names of the tiles, then "
    "press Check."
)

BUILDER: Final = {
    "heading": "Your tiles",
    "hint": (
        "Arrow keys walk. Enter chooses a tile, and new tiles go behind it. Delete takes a tile away; Shift with the "
        "left or right arrow moves it."
    ),
    "nothing": "No tiles yet. Choose some below.",
    "palette": "All tiles",
    "paletteHint": "Arrow keys walk. Enter puts one tile in place; the keys 1 to 6 put in as many.",
    "tools": "What to do with the tiles",
    "left": "Move left",
    "right": "Move right",
    "remove": "Take away",
    "empty": "Take all away",
    "tell": "Say my tiles",
    "place": "Place",
    "count": "You have {count}.",
    "placed": "Place {place}, {tile}.",
    "atPlace": "place {from}",
    "atPlaces": "places {from} to {to}",
    "added": "{tiles} at {where}. You have {count}.",
    "chosen": "{tile} Chosen: new tiles go behind it.",
    "letGo": "{tile} No longer chosen: new tiles go to the end.",
    "moved": "{tile} is now at place {place}.",
    "removed": "{tile} is gone from place {place}. You have {count}.",
    "emptied": "All tiles are gone.",
    "atEnd": "It is at the end already.",
    "full": "There is no room for more tiles.",
    "chooseFirst": "Choose one of your tiles first.",
}
TYPED: Final = "Or type tiles, for example: pung of 4 bam, two flowers"
PUT: Final = "Put in place"
PUT_NEWS: Final = "{tiles} at the end. You have {count}."
NOTHING_TYPED: Final = "Type a tile first, for example 4 bam."

CHECK: Final = "Check"
NOTHING_TO_CHECK: Final = "There are no tiles to check yet."
CHECKED: Final = "What you built"
OTHER_WAYS: Final = "Other ways to build it"
MORE_WAYS: Final = "And {count} more."
CONFIRM: Final = "I have looked: the tiles are named rightly"
LOOK_HELP: Final = (
    "If the tile is another one, correct its name under “The tiles, as read”; if it is named rightly, press “I have looked”. Either "
    "way the answer is written down again, and counts."
)
NEXT: Final = "Next hand"
AGAIN: Final = "Build it again"

COVERAGE: Final = "What I have practised"
COVERAGE_HEADS: Final = ("Hand", "Built", "Tried", "Last", "Comes again", "Mistakes")
NOT_BUILT: Final = "not yet"
NEVER: Final = "never"
NOW: Final = "now"
ATTEMPT_LIST: Final = "My practice (CSV)"
ANSWER_LIST: Final = "My quiz answers (CSV)"
QUIZ_SCORES: Final = "In quizzes"
LEVELS: Final = ("easy", "middle", "hard")
QUIZ_HEADS: Final = ("Question", *LEVELS)
NOT_ASKED: Final = "not asked yet"

QUIZ_INTRO: Final = (
    "Ten questions about your own card, made on this computer: which tile is wrong, which hands are still possible, "
    "which discards may be claimed. Every answer is explained."
)
LEVEL: Final = "How hard"
KIND: Final = "What is asked"
ALL_KINDS: Final = "all three in turn"
WRONG_TILE: Final = "which tile is wrong"
STILL_POSSIBLE: Final = "which hands are still possible"
MAY_CLAIM: Final = "which discards may be claimed"
MAKING: Final = "Making questions from your card."
QUESTION: Final = "Question {number} of {count}"
SAY_QUESTION: Final = "Say the question"
CHOOSE_ONE: Final = "Your answer"
CHOOSE_ALL: Final = "Your answer: tick every hand that is still possible."
CHOSEN: Final = "You chose: {choices}."
CHOOSE_FIRST: Final = "Choose an answer first."
ANSWER: Final = "Answer"
NEXT_QUESTION: Final = "Next question"
ANOTHER_QUIZ: Final = "Another quiz"
ALL_SCORES: Final = "All your answers up to now:"
