import pytest

from seatworthy.rules.reading_lines import lines_of_values, unquoted

TEXT = '''# one
name = "a = b # no comment"   # two
counted.months = 12
'quoted key' = 1

[seat]  # six
valid_months = 6
"notice_days" = 30

[[also]]
name = "first"
methods = [
  "naming",   # thirteen

  "triangle",
]
[[also]]
name = """two
lines"""
share = 0.5
inline = { left = 1, right = [1,
  2] }
[also.below]
deep = 1

[family."pale lager"]
critical = ["dms", ["h2s",
  "so2"]]
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("name",), 2),
        (("counted",), 3),
        (("counted", "months"), 3),
        (("quoted key",), 4),
        (("seat",), 6),
        (("seat", "notice_days"), 8),
        (("also", 0), 10),
        (("also", 0, "name"), 11),
        (("also", 0, "methods"), 12),
        (("also", 0, "methods", 0), 13),
        (("also", 0, "methods", 1), 15),
        (("also", 1), 17),
        (("also", 1, "share"), 20),
        (("also", 1, "inline", "left"), 21),
        (("also", 1, "inline", "right"), 21),
        (("also", 1, "inline", "right", 1), 22),
        (("also", 1, "below", "deep"), 24),
        (("family", "pale lager"), 26),
        (("family", "pale lager", "critical", 1), 27),
        (("family", "pale lager", "critical", 1, 1), 28),
    ],
)
def test_a_value_is_found_on_its_line(path, line):
    assert lines_of_values(TEXT)[path] == line


def test_lines_are_counted_alike_with_other_line_ends():
    assert lines_of_values(TEXT.replace("\n", "\r\n")) == lines_of_values(TEXT)


def test_a_head_at_the_very_end_is_found():
    assert lines_of_values("a = 1\n[seat]")[("seat",)] == 2


@pytest.mark.parametrize(
    ("token", "key"), [("plain", "plain"), ("'a b'", "a b"), ('"a\\u0062"', "ab"), ('"', '"')]
)
def test_a_key_is_read_without_its_quotation_marks(token, key):
    assert unquoted(token) == key
