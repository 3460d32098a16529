"""The ballots of a release sitting and of a beer that people should know, on paper."""

from dataclasses import replace

from invented_papers import invented_paper
from printed_text import overprinted, pages_of, texts_of

from seatworthy.paper import ballots_pdf


def words(view):
    return " ".join(texts_of(ballots_pdf(view, "A4"))[0].split())


def test_every_glass_asks_whether_the_beer_is_as_it_should_be():
    view = replace(invented_paper(), is_release=True)
    pdf = ballots_pdf(view, "A4")
    first = texts_of(pdf)[0].splitlines()
    glasses = len(view.sittings[0].orders[0].glasses)
    assert first.count("as it should be") == glasses
    assert first.count("not as it should be, no name") == glasses
    assert first.count("not as it should be: name, own words") == glasses
    assert "nothing noticed" not in words(view)
    assert "Say of each glass whether the beer is as it should be." in words(view)
    for page in pages_of(pdf):
        assert not overprinted(page)


def test_a_beer_is_asked_about_by_its_name():
    view = invented_paper(glasses=3)
    turned = tuple(
        replace(
            sitting,
            orders=tuple(
                replace(
                    order,
                    glasses=tuple(
                        replace(glass, method="a_not_a", asks_beer="House Pils")
                        for glass in order.glasses
                    ),
                )
                for order in sitting.orders
            ),
        )
        for sitting in view.sittings
    )
    told = words(replace(view, sittings=turned))
    assert told.count("Is this House Pils?") == 3
    assert "It may be that beer, or something like it." in told
    assert "doesn't mean that anything is there" not in told
