"""The style sheet: colours as on every page, contrast measured, targets large enough."""

import re

import pytest

from seatworthy.ballot.look import MOST_ROWS, style_sheet
from seatworthy.charts.palette import COLOURS
from seatworthy.pages.look import FONT_ROUTE

RULES = style_sheet().decode()


def inks(shade):
    blocks = re.findall(r":root\{(.*?)\}", RULES, flags=re.DOTALL)
    assert len(blocks) == 2
    found = dict(re.findall(r"--([a-z0-9-]+):(#[0-9A-F]{6})", blocks[0]))
    return (
        found
        if shade == "light"
        else {**found, **dict(re.findall(r"--([a-z0-9-]+):(#[0-9A-F]{6})", blocks[1]))}
    )


def luminance(colour):
    """Relative luminance by WCAG 2.2, "relative luminance"."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    """Contrast ratio by WCAG 2.2, "contrast ratio"."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_contrast_is_measured_as_published():
    """WCAG 2.2, definition of contrast ratio: black on white is 21 to 1."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#777777", "#FFFFFF") < 4.5 < contrast("#767676", "#FFFFFF")


@pytest.mark.parametrize("shade", ["light", "dark"])
def test_colours_are_those_of_every_page(shade):
    own = {"button", "button-text"}
    for name, colour in inks(shade).items():
        if name not in own:
            assert colour == COLOURS[shade][name], name


@pytest.mark.parametrize("shade", ["light", "dark"])
@pytest.mark.parametrize(
    ("text", "ground"),
    [
        ("ink", "paper"), ("ink", "sheet"), ("ink", "bottle-wash"), ("ink2", "paper"), ("ink2", "sheet"),
        ("ink2", "bottle-wash"), ("bottle", "paper"), ("button-text", "button"),
    ],
)  # fmt: skip
def test_text_is_read_on_its_ground(shade, text, ground):
    assert contrast(inks(shade)[text], inks(shade)[ground]) >= 4.5


@pytest.mark.parametrize("shade", ["light", "dark"])
@pytest.mark.parametrize(
    ("border", "ground"),
    [
        ("rule2", "paper"), ("rule2", "sheet"), ("ink3", "sheet"), ("bottle", "paper"),
        ("bottle", "bottle-wash"), ("ink", "paper"), ("amber", "paper"), ("button", "paper"),
    ],
)  # fmt: skip
def test_borders_of_controls_are_seen_on_their_ground(shade, border, ground):
    assert contrast(inks(shade)[border], inks(shade)[ground]) >= 3


def test_every_ink_that_is_used_is_given():
    used = set(re.findall(r"var\(--([a-z0-9-]+)\)", RULES))
    given = set(re.findall(r"--([a-z0-9-]+):", RULES))
    assert used <= given


def test_targets_are_large_enough_for_a_thumb():
    least = {
        ".face": 56, ".wide .face": 60, ".halves .face": 52, ".picks .face": 112, ".scale .face": 72,
        "button,.button": 60, ".glasses a,.row": 52, ".beside button": 52,
    }  # fmt: skip
    for selector, height in least.items():
        found = re.search(rf"(?:^|\}}|\n){re.escape(selector)}\{{([^}}]*)\}}", RULES)
        assert found, selector
        assert int(re.search(r"min-height:(\d+)px", found[1])[1]) == height >= 48


def test_text_is_large_enough_and_nothing_moves():
    sizes = [int(size) for size in re.findall(r"(?:font-size:|\d{3} )(\d+)px", RULES)]
    assert sizes
    assert min(sizes) >= 15
    assert "font:400 17px/24px" in RULES
    assert "animation" not in RULES
    assert "transition" not in RULES
    assert ":focus-visible" in RULES
    assert (
        "outline:0" in RULES.split(".tile input{")[1].split("}")[0]
    )  # its tile is outlined instead
    assert ".tile input:focus-visible+.face{outline:3px" in RULES


def test_fonts_come_from_the_route_that_serves_them():
    addresses = re.findall(r"url\((.*?)\)", RULES)
    assert len(addresses) == 4
    assert all(address.startswith(f"{FONT_ROUTE}/") for address in addresses)
    assert "@import" not in RULES
    assert "http" not in RULES


def test_columns_of_any_length_have_their_rule():
    for count in range(1, MOST_ROWS + 1):
        assert f".rows-{count}{{grid-template-rows:repeat({count},auto)}}" in RULES
