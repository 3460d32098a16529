"""Labels for 240 bottles: time against writing the same words bare, in the same run.

    python tests/bench/bench_labels.py

The reference is fpdf2 itself with the same faces: every piece of text that stands on the labels set
by one bare `text` at a fixed size, nothing measured, shrunk or cut.
"""

import sys
import time
from collections.abc import Callable
from pathlib import Path

from fpdf import FPDF

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "paper"))
from invented_papers import invented_recipes
from printed_text import pages_of

from seatworthy.paper.label_sheets import LabelSheet
from seatworthy.paper.labels import labels_pdf
from seatworthy.paper.lettering import take_faces

SHEET = LabelSheet("A4", 3, 8, 0, 0.5, 70, 37, 70, 37)


def main() -> None:
    """Print both times, their ratio, and the size of the file."""
    view = invented_recipes(per_sample=20)
    pdf = labels_pdf(view, "bottles", SHEET)
    pages = [[piece.text for piece in page] for page in pages_of(pdf)]
    labels = sum(words == "made" for page in pages for words in page)
    reference = _best_of(lambda: _bare(pages))
    ours = _best_of(lambda: labels_pdf(view, "bottles", SHEET))
    print(f"{labels} labels on {len(pages)} sheets, {len(pdf) / 1000:.0f} kB")
    print(f"{'bare text':28} {1000 * reference:8.1f} ms {1:8.1f} x reference")
    print(f"{'labels_pdf':28} {1000 * ours:8.1f} ms {ours / reference:8.1f} x reference")


def _bare(pages: list[list[str]]) -> bytes:
    pdf = FPDF("P", "mm", "A4")
    take_faces(pdf)
    for page in pages:
        pdf.add_page()
        pdf.set_font("asap", "", 9)
        for number, words in enumerate(page):
            pdf.text(10 + 45 * (number % 4), 10 + number, words)
    return bytes(pdf.output())


def _best_of(work: Callable[[], bytes], times: int = 5) -> float:
    took = []
    for _ in range(times):
        started = time.perf_counter()
        work()
        took.append(time.perf_counter() - started)
    return min(took)


if __name__ == "__main__":
    main()
