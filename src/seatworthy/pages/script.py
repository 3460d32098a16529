"""The page script: lists the pages and frames whichever one the reader is on."""

import streamlit as st

from seatworthy.errors import PanelError
from seatworthy.pages import board, record
from seatworthy.pages.frame import footer, refusal
from seatworthy.pages.look import PAGE_ICON, style_sheet

st.set_page_config(page_title="Seatworthy", page_icon=PAGE_ICON, layout="wide")
st.html(style_sheet())
page = st.navigation(
    [
        st.Page(board.show, title="Board", url_path="board", default=True),
        st.Page(record.show, title="Record", url_path="record"),
    ],
    position="top",
)
try:
    page.run()
except PanelError as error:
    st.html(refusal(str(error)))
st.html(footer())
