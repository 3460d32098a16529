"""The colours, once for pages and charts: bottle, amber and flint on cool paper.

Contrast of every text colour against its ground is at least 4.5 (WCAG 2), of every mark 3.
"""

from types import MappingProxyType
from typing import Final, Literal

Shade = Literal["light", "dark"]

_LIGHT: Final = MappingProxyType(
    {
        "paper": "#F4F7F5",
        "sheet": "#FFFFFF",
        "ink": "#16241F",
        "ink2": "#465650",
        "ink3": "#586760",
        "rule": "#D3DCD7",
        "rule2": "#82918A",
        "bottle": "#0E5A4E",
        "bottle-wash": "#DDEBE6",
        "amber": "#A34C00",
        "amber-wash": "#FBE6CF",
        "flint": "#56656D",
        "slate": "#565B8C",
        "red": "#8A1C2D",
    }
)
_DARK: Final = MappingProxyType(
    {
        "paper": "#0F1614",
        "sheet": "#161F1C",
        "ink": "#E4EBE7",
        "ink2": "#B0BDB7",
        "ink3": "#8F9E97",
        "rule": "#2B3733",
        "rule2": "#65756E",
        "bottle": "#5FBFA8",
        "bottle-wash": "#14352E",
        "amber": "#F0A04B",
        "amber-wash": "#3D270F",
        "flint": "#9CABB2",
        "slate": "#A9AEDD",
        "red": "#F2919B",
    }
)

COLOURS: Final = MappingProxyType({"light": _LIGHT, "dark": _DARK})

TEXT_FACE: Final = 'Asap, "Segoe UI", "Noto Sans", sans-serif'
SENTENCE_FACE: Final = "Besley, Georgia, serif"
