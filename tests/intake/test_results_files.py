import hashlib
from datetime import date
from decimal import Decimal

import pytest

from seatworthy.errors import DatesUndecided, FileRefused
from seatworthy.intake.results import read_results

HEAD = "date,panellist,compound,level,answer\n"
CODED = "date,sitting,panellist,position,code,compound,level,answer\n"
ROW = "2026-03-05,Ann,dms,3,dms\n"


def faults_of(refused):
    return [(fault.line, fault.text) for fault in refused.value.faults]


def test_a_row_per_answer(read):
    found = read(HEAD + ROW + "2026-03-05,José,blank,,nothing\n")
    assert (found.shape, found.date_order, found.name) == ("answers", "iso", "monday.csv")
    first, second = found.rows
    assert (first.line, first.session_on, first.panellist) == (2, date(2026, 3, 5), "Ann")
    assert (first.method, first.compound, first.level) == ("naming", "dms", Decimal(3))
    assert (first.answer, first.words, first.session, first.sitting) == ("words", "dms", "", "")
    assert (second.compound, second.level, second.answer) == (None, None, "nothing")
    assert found.panellists == ("Ann", "José")


def test_a_row_per_glass_with_a_column_per_panellist(read):
    found = read(
        "date,code,compound,level,Ann,Bram,note\n"
        "2026-03-05,007,dms,3,dms,sweetcorn,first keg\n"
        "2026-03-05,061,blank,,nothing,,\n"
    )
    assert found.shape == "glasses"
    assert [(r.line, r.panellist, r.answer) for r in found.rows] == [
        (2, "Ann", "words"),
        (2, "Bram", "words"),
        (3, "Ann", "nothing"),
    ]
    assert found.rows[0].blind_code == "007"
    assert found.rows[0].note == "first keg"
    assert found.open_words == {"sweetcorn": 1}


def test_the_digest_is_that_of_the_bytes(read):
    text = HEAD + ROW
    assert read(text).digest == hashlib.sha256(text.encode()).hexdigest()


def test_every_column_arrives_where_it_belongs(read):
    (row,) = read(
        "session,date,sitting,panellist,method,position,code,sample,compound,level,dose_ug,"
        "volume (ml),answer,rating,duplicate,base beer,beer family,set aside,note\n"
        "S1,2026-03-05,early,Ann,intensity,2,061,B,dms,,33,330,,6.5,A,Pils,Pale lagers,cold,n\n"
    ).rows
    assert (row.session, row.sitting, row.method, row.position) == ("S1", "early", "intensity", 2)
    assert (row.blind_code, row.sample, row.duplicate) == ("061", "B", "A")
    assert (row.level, row.dose_ug, row.volume_ml) == (None, 33, 330)
    assert (row.answer, row.rating, row.words) == ("rating", Decimal("6.5"), None)
    assert (row.base_beer, row.beer_family) == ("Pils", "Pale lagers")
    assert (row.set_aside, row.note) == ("cold", "n")


@pytest.mark.parametrize("mark", [",", ";", "\t"])
@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_cells_may_be_parted_by_comma_semicolon_or_tab(read, mark, ending):
    text = (HEAD + ROW).replace(",", mark).replace("\n", ending)
    assert len(read(text).rows) == 1


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_letters_survive_every_usual_encoding(read, encoding):
    found = read((HEAD + ROW.replace("Ann", "Zoë")).encode(encoding))
    assert found.panellists == ("Zoë",)
    assert [note for note in found.notes if "Windows-1252" in note] == (
        ["Read as Windows-1252 text; check that letters like those in “Zoë” are right."]
        if encoding == "cp1252"
        else []
    )


def test_a_line_that_says_the_mark_is_obeyed(read):
    found = read("sep=;\n" + (HEAD + ROW).replace(",", ";"))
    assert found.rows[0].line == 3


def test_headings_are_forgiving(read):
    found = read(
        "Session Date;Taster;Spiked with;Times threshold;Response\n5 Mar 2026;Ann;dms;2,5x;dms\n"
    )
    assert found.rows[0].level == Decimal("2.5")


def test_empty_lines_and_hanging_marks_do_no_harm(read):
    found = read("\n" + HEAD + "\n" + ROW.replace("\n", ",,\n") + ",,,,\n  \n")
    assert [row.line for row in found.rows] == [4]


def test_unknown_columns_are_named_in_a_note(read):
    found = read("date,panellist,compound,level,answer,weather\n2026-03-05,Ann,dms,3,dms,rain\n")
    assert "“weather”" in found.notes[0]


def test_all_faults_come_at_once_with_their_lines(read):
    with pytest.raises(FileRefused, match="monday.csv was not imported") as refused:
        read(
            HEAD
            + "31/02/2026,=Bob,dmss,-3,-\n"
            + "2027-01-01,,dms,0,x\n"
            + "25/03/2026,Ann,blank,3,\n"
            + "25/03/2026,Ann,,3,dms\n"
            + "25/03/2026,Ann,dms,,dms\n"
        )
    lines = [line for line, _ in faults_of(refused)]
    assert lines == sorted(lines)
    assert [lines.count(line) for line in range(2, 7)] == [5, 4, 2, 1, 1]


@pytest.mark.parametrize(
    ("row", "reason"),
    [
        ("2026-03-05,Ann,dms,-1,dms", "line 2: level must be above 0, got “-1”"),
        ("2026-03-05,Ann,dms,nan,dms", "line 2: level must be a number"),
        ("2026-03-05,Ann,dms,inf,dms", "line 2: level must be a number"),
        ("2026-03-05,Ann,dms,0,dms", "line 2: a spiked glass has a level or dose of 0"),
        ("2026-03-05,Ann,dms,,dms", "line 2: a spiked glass needs a level like 3, or a dose"),
        ("2026-03-05,Ann,blank,3,dms", "line 2: a blank has a level or a dose"),
        ("2026-03-05,Ann,,3,dms", "line 2: compound is empty"),
        ("2026-03-05,Ann,dsm,3,dms", "line 2: compound is not on the shelf: “dsm”. Nearest: dms"),
        ("2026-11-26,Ann,dms,3,dms", "line 2: date lies in the future"),
        ("2026-02-31,Ann,dms,3,dms", "line 2: date is no day of the calendar"),
        (",Ann,dms,3,dms", "line 2: date is empty"),
        ("2026-03-05,,dms,3,dms", "line 2: panellist is empty"),
        ("2026-03-05,=1+1,dms,3,dms", "line 2: panellist must be a name, got “=1.1”"),
        (f"2026-03-05,{'x' * 10_000},dms,3,dms", "line 2: panellist must have at most 60"),
        ("2026-03-05,Ann,dms,3,", "line 2: answer is empty; write nothing"),
        ("2026-03-05,Ann,dms,3,-", "line 2: answer may mean two things"),
        ("2026-03-05,Ann,dms,#REF!,dms", "line 2: level holds the spreadsheet's error “#REF!”"),
        ("2026-03-05,Ann,dms,2,5,dms", "line 2: has 6 cells where the header has 5; a comma"),
        ("2026-03-05,Ann,dms", "line 2: has 3 cells where the header has 5.*cut off here"),
    ],
)
def test_a_faulty_row_is_named_with_its_line_and_reason(read, row, reason):
    with pytest.raises(FileRefused, match=reason):
        read(HEAD + row)


@pytest.mark.parametrize(
    ("cells", "reason"),
    [
        ("33 ug,,3", "both a level and a dose"),
        ("33 ug,,", "a dose needs the volume"),
        ("33,330 ml,", "dose has no unit"),
        ("33 ug/l,330 ml,", "dose must be an amount"),
        ("33 ug,0 ml,", "the volume is 0"),
        ("0 ug,330 ml,", "a spiked glass has a level or dose of 0"),
    ],
)
def test_doses_must_be_whole_statements(read, cells, reason):
    with pytest.raises(FileRefused, match=f"line 2: {reason}"):
        read(f"date,panellist,compound,dose,volume,level,answer\n2026-03-05,Ann,dms,{cells},dms\n")


def test_a_blank_may_say_nought_and_a_volume(read):
    (row,) = read(
        "date,panellist,compound,dose,volume,level,answer\n2026-03-05,Ann,blank,0 ug,330 ml,0,?\n"
    ).rows
    assert (row.compound, row.level, row.dose_ug, row.volume_ml) == (None, None, None, None)


def test_a_volume_beside_a_level_is_left_out_with_a_note(read):
    found = read("date,panellist,compound,volume,level,answer\n2026-03-05,Ann,dms,1 l,3,dms\n")
    assert found.rows[0].volume_ml is None
    assert found.notes == ("The volume was ignored in 1 rows: they give a level and no dose.",)


def test_a_rating_counts_only_with_its_method(read):
    head = "date,panellist,method,compound,level,answer,rating\n"
    found = read(head + "2026-03-05,Ann,,dms,3,dms,7\n2026-03-05,Ann,intensity,dms,3,7,7.0\n")
    assert [row.rating for row in found.rows] == [None, 7]
    assert "rating was ignored in 1 rows" in found.notes[0]
    with pytest.raises(FileRefused, match="answer and rating are two different numbers"):
        read(head + "2026-03-05,Ann,intensity,dms,3,6,7\n")


def test_a_spilled_glass_without_an_answer_is_left_out_with_a_note(read):
    found = read(
        "date,panellist,compound,level,answer,set aside\n"
        "2026-03-05,Ann,dms,3,,spilled\n"
        "2026-03-05,Bram,dms,3,dms,no\n"
    )
    assert [(row.panellist, row.set_aside) for row in found.rows] == [("Bram", None)]
    assert found.notes == ("1 rows were set aside without an answer and left out.",)


def test_a_forced_choice_needs_a_compound(read):
    with pytest.raises(FileRefused, match="line 2: a forced choice needs the compound"):
        read("date,panellist,method,compound,answer\n2026-03-05,Ann,3-AFC,blank,right\n")


def test_dates_that_cannot_decide_ask_one_question(read):
    text = HEAD + ROW.replace("2026-03-05", "03/04/2026")
    with pytest.raises(DatesUndecided, match="line 2: .*--dates day-first or --dates month-first"):
        read(text)
    assert read(text, date_order="day-first").date_order == "day first"
    assert read(text, date_order="month-first").rows[0].session_on == date(2026, 3, 4)


def test_one_code_stands_for_one_sample_in_a_sitting(read):
    rows = "2026-03-05,early,Ann,1,351,dms,3,dms\n2026-03-05,{},Bram,1,351,dms,{},dms\n"
    with pytest.raises(
        FileRefused, match="line 3: the code “351” .* line 2 .*level 4 instead of 3"
    ):
        read(CODED + rows.format("early", 4))
    assert len(read(CODED + rows.format("early", 3)).rows) == 2
    assert len(read(CODED + rows.format("late", 4)).rows) == 2


@pytest.mark.parametrize(
    ("position", "code", "reason"),
    [(2, "351", "Ann has the code “351” already on line 2"), (1, "352", "position “1” already")],
)
def test_nobody_has_a_code_or_a_place_twice_in_a_sitting(read, position, code, reason):
    row = "2026-03-05,early,Ann,1,351,dms,3,dms\n"
    with pytest.raises(FileRefused, match=f"line 3: .*{reason}"):
        read(
            CODED
            + row
            + f"2026-03-05,early,ann,{position},{code},dms,3,dms\n".replace("ann", "Ann")
        )
    assert len(read(CODED + row + f"2026-03-05,late,Ann,{position},{code},dms,3,dms\n").rows) == 2


def test_capitals_do_not_make_two_people_of_one(read):
    row = "2026-03-05,early,{},1,351,dms,3,dms\n"
    with pytest.raises(FileRefused, match="line 3: ann has the code"):
        read(CODED + row.format("Ann") + row.format("ann"))


def test_a_code_twice_in_a_sheet_of_glasses_is_one_fault(read):
    with pytest.raises(FileRefused, match="already on line 2") as refused:
        read(
            "date,code,compound,level,Ann,Bram\n"
            "2026-03-05,351,dms,3,dms,dms\n2026-03-05,351,dms,3,dms,dms\n"
        )
    assert len(refused.value.faults) == 1


def test_one_glass_may_be_named_and_then_rated(read):
    head = "date,panellist,method,code,compound,level,answer\n"
    found = read(head + "2026-03-05,Ann,,351,dms,3,dms\n2026-03-05,Ann,intensity,351,dms,3,6\n")
    assert len(found.rows) == 2


def test_names_that_differ_by_accents_are_kept_and_noted(read):
    found = read(HEAD + ROW.replace("Ann", "José") + ROW.replace("Ann", "Jose"))
    assert found.panellists == ("José", "Jose")
    assert found.notes == (
        "“José” and “Jose” differ only by accents or marks; check whether they are one person.",
    )


def test_names_that_differ_by_capitals_are_kept_as_written(read):
    found = read(HEAD + ROW.replace("Ann", "ANN") + ROW)
    assert found.panellists == ("ANN", "Ann")
    assert found.notes == ()


def test_open_words_are_counted_whatever_their_spelling(read):
    answers = ("Sweetcorn", "sweet-corn", "SWEETCORN", "butter", "something", "sweetcorn")
    found = read(HEAD + "".join(f"2026-03-05,Ann,dms,3,{answer}\n" for answer in answers))
    assert found.open_words == {"Sweetcorn": 3, "sweet-corn": 1}
    assert [row.words for row in found.rows if row.words][:2] == ["Sweetcorn", "sweet-corn"]


@pytest.mark.parametrize(
    ("header", "reason"),
    [
        ("date,panellist,compound,level", "line 1: the header has no column answer"),
        ("panellist,answer", "line 1: the header has no column date, compound"),
        ("foo,bar", "no column date, compound. Not recognised: “foo”, “bar”. Known are: session,"),
        ("date,day,compound,level", "no answers; expected"),
        ("date,compound,level", "no column for answers"),
        ("date,Session date,compound,Ann", "“date” and “Session date” both stand for date"),
        ("date,compound,level,Ann,Ann", "two columns are headed “Ann”"),
        ("date,compound,level,Ann,ANN", "“Ann” and “ANN” both stand for one panellist"),
        (
            "date,compound,level,=Ann",
            "the heading of column 4, read as a panellist, must be a name",
        ),
    ],
)
def test_a_header_that_will_not_do_says_what_is_lacking(read, header, reason):
    with pytest.raises(FileRefused, match=reason):
        read(header + "\n")


def test_a_column_without_a_heading_must_be_empty(read):
    with pytest.raises(FileRefused, match="line 1: column 4 has content but no heading"):
        read("date,compound,level,,Ann\n2026-03-05,dms,3,dms,dms\n")


def test_glasses_nobody_tasted_and_panellists_who_said_nothing_are_noted(read):
    found = read("date,compound,level,Ann,Bram\n2026-03-05,dms,3,dms,\n2026-03-05,dms,3,,\n")
    assert found.notes == (
        "1 glasses were tasted by nobody and left out.",
        "No answer in this file from: Bram.",
    )


def test_an_answer_in_a_sheet_of_glasses_is_blamed_with_its_panellist(read):
    with pytest.raises(FileRefused, match="line 2: the answer of Bram may mean two things: “-”"):
        read("date,compound,level,Ann,Bram\n2026-03-05,dms,3,dms,-\n")


@pytest.mark.parametrize("text", ["", "\n\n", "\ufeff", " , ;\n"])
def test_an_empty_file_is_refused(read, text):
    with pytest.raises(FileRefused, match="the file is empty"):
        read(text)


def test_a_file_with_only_a_header_is_refused(read):
    with pytest.raises(FileRefused, match="the file holds no answers"):
        read(HEAD)


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (HEAD.encode() + b"2026-03-05,Ann\x00,dms,3,dms\n", "line 2: holds NUL bytes"),
        (HEAD.encode("utf-16-le"), "line 1: holds NUL bytes"),
        (b"\xff\xfe" + HEAD.encode("utf-16-le")[:-1], "breaks off at byte"),
        (HEAD.encode() + b"2026-03-05,\x81\x8d,dms,3,dms\n", "line 2: the encoding cannot be told"),
        ((HEAD + "Zoë,").encode() + b"\xe9\n", "line 2: the encoding cannot be told"),
        (b"\xd0\xcf\x11\xe0rest", "an old .xls workbook or locked by a password"),
    ],
)
def test_bytes_that_are_no_text_are_refused(read, data, reason):
    with pytest.raises(FileRefused, match=reason):
        read(data)


@pytest.mark.parametrize(
    "row",
    ['2026-03-05,"Ann,dms,3,dms\n', '2026-03-05,"Ann"x,dms,3,dms\n', '2026-03-05,Ann,dms,3,"d'],
)
def test_quotation_marks_that_do_not_pair_up_are_refused(read, row):
    with pytest.raises(FileRefused, match="line 3: the quotation marks do not pair up"):
        read(HEAD + ROW + row)


def test_a_cell_may_hold_marks_and_line_breaks_in_quotation_marks(read):
    found = read(
        'date,panellist,compound,level,answer,note\n2026-03-05,Ann,dms,"2,5",dms,"a\n""b"""\n'
        + "2026-03-05,Ann,dms,3,dms,\n"
    )
    assert found.rows[0].note == 'a "b"'
    assert found.rows[1].line == 4


def test_three_hundred_megabytes_are_refused_unread(tmp_path, vocabulary, read):
    path = tmp_path / "huge.csv"
    with path.open("wb") as file:
        file.truncate(300_000_000)
    with pytest.raises(FileRefused, match="has 300 MB; at most 100 MB are read"):
        read_results(path, vocabulary, date(2026, 11, 25))


@pytest.mark.parametrize("name", ["missing.csv", "", "a\0b.csv"])
def test_a_file_that_is_not_there_is_a_sentence(tmp_path, vocabulary, name):
    with pytest.raises(FileRefused, match="no such file|cannot be opened"):
        read_results(tmp_path / name, vocabulary, date(2026, 11, 25))


def test_a_sheet_of_a_text_file_is_refused(read):
    with pytest.raises(FileRefused, match="leave --sheet out"):
        read(HEAD + ROW, sheet="results")


def test_a_title_above_the_header_is_passed_over_and_said(tmp_path, vocabulary):
    path = tmp_path / "spring.csv"
    path.write_text(
        "Taste panel spring 2025;;;\n\ndate;panellist;compound;level;answer\n"
        "2025-03-06;Ada;dms;3;dms\n"
    )
    found = read_results(path, vocabulary, date(2026, 11, 25))
    assert [row.line for row in found.rows] == [4]
    assert "The header stands on line 3; what is above it was passed over." in found.notes
