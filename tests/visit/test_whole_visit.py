"""A whole visit by keys only, read back from the records and from the papers."""

from __future__ import annotations

from tests.visit.conftest import Walked


def test_it_is_signed(walked: Walked) -> None:
    for k, v in walked.walk.seen.items():
        print("==", k, "\n", v)
    for k, v in walked.papers.items():
        print("####", k, "\n", v)
    print(walked.hands.cut)
    assert 0
