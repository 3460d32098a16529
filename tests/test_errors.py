from seatworthy.errors import Fault, FileRefused


def test_a_fault_that_recurs_is_said_once_with_its_lines():
    faults = [Fault(line, "compound is empty.") for line in range(2, 15)]
    said = str(FileRefused("march.csv", [*faults, Fault(3, "answer is empty.")]))
    assert said.splitlines() == [
        "march.csv was not imported; correct these lines:",
        "- lines 2, 3, 4, 5, 6, 7, 8, 9 and 5 more: compound is empty.",
        "- line 3: answer is empty.",
    ]


def test_a_fault_of_the_whole_file_names_no_line():
    assert str(FileRefused("a.csv", [Fault(None, "it is empty.")])).endswith("\n- it is empty.")


def test_very_many_different_faults_are_cut_and_counted():
    faults = [Fault(line, f"fault {line}.") for line in range(1, 101)]
    assert str(FileRefused("a.csv", faults)).endswith("- and 60 other faults; correct these first.")
