"""An address as a picture that a phone's camera reads; dark on white in every shade of the page."""

import segno

from seatworthy.pages.markup import tag

_QUIET_ZONE = 4  # modules of white around it, as the standard of such codes asks (ISO/IEC 18004)


def qr_picture(address: str, words: str) -> str:
    """The picture of an address.

    Args:
        address: Where it leads.
        words: What stands for the picture where it can't be seen; never the address itself, which
            may be somebody's alone.
    """
    code = segno.make(address, error="m", micro=False)
    uri = code.svg_data_uri(border=_QUIET_ZONE, dark="#000", light="#fff", omitsize=True)
    return tag("img", src=uri, alt=words, class_="qr").removesuffix("</img>")
