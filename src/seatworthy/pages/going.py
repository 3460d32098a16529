"""Going to another page within the app, so that what was typed on this one is kept.

A link in the page's HTML loads the app anew and forgets it.
"""

import streamlit as st


def go_to(page: str, **asked: str) -> None:
    """Leave for another page at once.

    Args:
        page: Its place in `addresses` ("session").
        asked: What its address says.
    """
    st.switch_page(_known_page(page), query_params=asked)


def link_to(page: str, label: str, **asked: str) -> None:
    """Offer the way to another page.

    Args:
        page: Its place in `addresses` ("shelf").
        label: Our own words; Markdown is read in them.
        asked: What its address says.
    """
    st.page_link(_known_page(page), label=label, query_params=asked)


def _known_page(page: str) -> st.Page:
    # The frame knows a page by its place alone; what it shows stands in the page script.
    return st.Page(_nothing, url_path=page, title=page)


def _nothing() -> None:
    """Stands for a page that the page script draws."""
