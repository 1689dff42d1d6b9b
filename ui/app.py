"""The app: leads from page to page. Started by `tilewitness app`."""

import logging

import streamlit as st

from tilewitness.engine.card import CardError
from tilewitness.ui import labels
from tilewitness.ui.components import arrival_part, page_style
from tilewitness.ui.emblem import icon_address, name_svg
from tilewitness.ui.typing_words import card_faults

st.set_page_config(layout="wide", page_icon=icon_address())
st.logo(name_svg(), size="large")
st.html(page_style())
page = st.navigation(
    [
        st.Page("screens/rack.py", title=labels.RACK_PAGE, default=True),
        st.Page("screens/table.py", title=labels.TABLE_PAGE),
        st.Page("screens/listen.py", title=labels.LISTEN_PAGE),
        st.Page("screens/practise.py", title=labels.PRACTISE_PAGE),
        st.Page("screens/quiz.py", title=labels.QUIZ_PAGE),
        st.Page("screens/sets.py", title=labels.SETS_PAGE),
        st.Page("screens/type_card.py", title=labels.TYPE_PAGE),
        st.Page("screens/card.py", title=labels.CARD_PAGE),
    ],
    position="top",
)
arrival_part(key="arrival", data={"page": page.title, "goal": st.session_state.get("goal")})
try:
    page.run()
except CardError as error:  # a kept card that was changed by hand
    st.error("  \n".join(card_faults(error)))
except Exception:  # whatever it was, the person gets a sentence and the terminal gets the details
    logging.getLogger(__name__).exception("A page could not be drawn.")
    st.error(labels.UNEXPECTED)
