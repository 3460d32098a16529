"""Papers for an audit, and the record named in the foot of every paper."""

from dataclasses import replace
from datetime import UTC, date, datetime
from functools import cache

import pytest
from invented_papers import EARLY, HOSTILE, invented_own_page, invented_paper
from printed_text import overprinted, pages_of, texts_of

from seatworthy import paper
from seatworthy.paper.audit_sections import cell_words
from seatworthy.steps.audit_views import AuditColumn, AuditPaper, AuditSection, AuditTable, table_of
from seatworthy.steps.chain_head import ChainHead, grouped

HEAD = ChainHead(412, "3f9a51c28d7e0b64" + "0123456789abcdef" * 3)
READ = ChainHead(310, "a" * 64)
SIZES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
WHO = (*EARLY, "Bashir Nourad", HOSTILE[0], HOSTILE[2])
COLUMNS = (
    AuditColumn("who", "name", 36),
    AuditColumn("critical", "critical", 14),
    AuditColumn("right", "counted glasses named right", 10),
    AuditColumn("until", "until", 20),
    AuditColumn("why", "sentence", 60),
    AuditColumn("digest", "digest (SHA-256, hex)", 40),
)


def table(lines):
    rows = tuple(
        (WHO[n % len(WHO)], n % 2 == 0, n or None, date(2026, 3, 14), HOSTILE[n % 4] * 3, "f" * 64)
        for n in range(lines)
    )
    return AuditTable(COLUMNS, rows)


def invented_audit(lines=60, read=READ):
    return AuditPaper(
        title="Competence record",
        about=WHO[5],
        as_of=date(2026, 3, 14),
        question="as the record stood at the end of 14 March 2026",
        brewery="Ottersgrund Brewery",
        sentence=f"{WHO[5]}: on probation for the pale lagers on 14 March 2026.",
        lead="By the rules: can sit.",
        sections=(
            AuditSection("nothing", "Authorisation", ("Nothing was signed.",), AuditTable(COLUMNS, ())),
            AuditSection("many", "Monitoring: the compounds", (HOSTILE[1], "Two."), table(lines)),
        ),
        sign_off=("Panel leader, name and date", "Auditor, date"),
        cautions=("It supports a decision; it never releases beer.",),
        foot="Only the person, the panel leader and an auditor may see it.",
        read=read,
        head=HEAD,
        made_at=datetime(2026, 3, 16, 9, 15, tzinfo=UTC),
        file_name="2026-03-14-competence",
    )  # fmt: skip


@cache
def made(size, lines=60):
    return paper.audit_pdf(invented_audit(lines), size)


def flat(pdf):
    return " ".join(" ".join(texts_of(pdf)).split())


@pytest.mark.parametrize("size", SIZES)
def test_no_text_leaves_the_margins(size):
    width, height = SIZES[size]
    for piece in (piece for page in pages_of(made(size)) for piece in page):
        assert piece.left > 15.9, piece
        assert piece.right < width - 15.9, piece
        assert piece.bottom < height - 7, piece


@pytest.mark.parametrize("size", SIZES)
def test_no_text_covers_other_text(size):
    for page in pages_of(made(size)):
        assert overprinted(page) == []


def test_every_row_is_printed_and_heads_come_again_on_the_next_page():
    pages = texts_of(made("A4"))
    assert len(pages) > 2
    assert sum(page.count("14 Mar 2026") for page in pages) == 60
    assert all("digest" in page.splitlines() for page in pages[1:-1])


def test_greek_and_cyrillic_names_are_printed_as_they_are():
    text = flat(made("A4"))
    assert "Ελένη Παππά" in text
    assert "Олена Шевчук" in text


def test_a_section_without_rows_keeps_its_sentence_and_draws_no_heads():
    lines = texts_of(made("A4", lines=0))[0].splitlines()
    assert "Nothing was signed." in lines
    assert "critical" not in lines


def test_the_heading_says_which_question_was_asked():
    assert "as the record stood at the end of 14 March 2026" in flat(made("A4"))


def test_the_whole_digest_stands_there_with_what_it_proves_and_what_not():
    text = flat(made("A4", lines=1))
    assert grouped(HEAD.digest) in text
    assert "It does not prove that what was typed in was true" in text


def test_what_was_read_is_named_where_it_is_not_the_newest():
    assert f"Read up to entry 310: {grouped(READ.digest)}." in flat(made("A4", lines=1))


def test_what_was_read_is_not_repeated_where_it_is_the_newest():
    assert "Read up to" not in flat(paper.audit_pdf(invented_audit(1, HEAD), "A4"))


def test_there_is_a_line_for_everybody_who_signs_off():
    lines = texts_of(made("A4", lines=1))[-1].splitlines()
    assert {"Panel leader, name and date", "Auditor, date"} <= set(lines)


@pytest.mark.parametrize(
    ("cell", "words"),
    [(None, ""), (True, "yes"), (False, "no"), (0, "0"), (82.3, "82"), ("a", "a"),
     (date(2026, 3, 4), "4 Mar 2026"), (datetime(2026, 3, 4, 9, 5), "4 Mar 2026 09:05")],
)  # fmt: skip
def test_a_cell_is_written_as_a_reader_expects(cell, words):
    assert cell_words(cell) == words


def test_every_page_of_an_audit_paper_names_the_record():
    assert all("record entry 412, 3f9a 51c2 8d7e 0b64" in page for page in texts_of(made("A4")))


@pytest.mark.parametrize(
    "pdf", [paper.preparation_pdf, paper.pouring_pdf, paper.key_pdf, paper.ballots_pdf]
)
def test_the_papers_of_a_session_name_the_record_in_their_feet(pdf):
    pages = pages_of(pdf(invented_paper(record=HEAD.words), "A4"))
    assert all(HEAD.words in [piece.text for piece in page] for page in pages)
    assert all(overprinted(page) == [] for page in pages)


def test_somebodys_own_page_names_the_record_in_its_foot():
    page = texts_of(paper.feedback_pdf([invented_own_page(record=HEAD.words)], "A4"))[0]
    assert HEAD.words in page


def test_a_paper_that_was_made_from_no_record_names_none():
    assert "record entry" not in flat(paper.key_pdf(invented_paper(), "A4"))


def dense(lines):
    columns = (AuditColumn("day", "day", 20), AuditColumn("level", "level", 20, digits=1))
    rows = tuple((date(2026, 3, 14), 2.5) for _ in range(lines))
    section = AuditSection("glasses", "Appendix", (), AuditTable(columns, rows, is_dense=True))
    return paper.audit_pdf(replace(invented_audit(0), sections=(section,)), "A4")


def test_a_dense_table_has_sixty_rows_on_a_page():
    pages = texts_of(dense(150))
    assert pages[1].count("14 Mar 2026") >= 58
    assert sum(page.splitlines().count("14 Mar 2026") for page in pages) == 150


def test_a_number_has_the_decimals_of_its_column():
    assert "2.5" in texts_of(dense(1))[0].splitlines()


def test_a_column_that_may_be_left_out_is_where_it_has_nothing():
    columns = (AuditColumn("who", "name", 20), AuditColumn("why", "reason", 20, may_lack=True))
    assert table_of(columns, [("Ada", ""), ("Bo", None)]).columns == columns[:1]
    assert table_of(columns, [("Ada", ""), ("Bo", "ill")]).columns == columns


def test_a_column_that_is_always_there_stays_without_anything():
    columns = (AuditColumn("who", "name", 20), AuditColumn("until", "until", 20))
    assert table_of(columns, [("Ada", None)]).rows == (("Ada", None),)
