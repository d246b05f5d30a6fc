"""(e) Labels: a roll of 5,000 tags as a PDF, beside a plain loop over the qrcode library that makes the codes alone."""

from __future__ import annotations

import time
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

import qrcode
from qrcode.constants import ERROR_CORRECT_Q

from intake.tagging.labels import label_pdf, labels_of, sheet_named
from intake.tagging.tags import codes, qr_text

ADDRESS = "https://intake.example.org"
QUICK_TAGS, TAGS = 500, 5000


def measure_labels(folder: Path, quick: bool) -> Iterator[str]:
    """How many labels a second, how many bytes each, and the plain loop's pace."""
    tags = list(islice(codes(5000), QUICK_TAGS if quick else TAGS))
    began = time.perf_counter()
    pdf = label_pdf(list(labels_of(iter(tags), kind="tag")), sheet_named("a4-70x37"), address=ADDRESS)
    ours = time.perf_counter() - began
    (folder / "labels.pdf").write_bytes(pdf)
    began = time.perf_counter()
    for tag in tags:
        code = qrcode.QRCode(error_correction=ERROR_CORRECT_Q)
        code.add_data(qr_text(tag, ADDRESS))
        code.make(fit=True)
    plain = time.perf_counter() - began
    pace, bare = len(tags) / ours, len(tags) / plain
    yield (
        f"{len(tags):,} tags in {ours:.1f} s: {pace:,.0f} a second, {len(pdf) / len(tags):.0f} bytes a tag; "
        f"the library's plain loop, codes only: {bare:,.0f} a second (ratio {pace / bare:.2f})"
    )
