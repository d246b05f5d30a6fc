"""Building blocks against the standards' own examples."""

from __future__ import annotations

import hashlib
import struct
import uuid

import httpx
import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from intake.ids import uuid7
from intake.sync.answers import as_text, kept
from intake.sync.canonical import canonical, names_in_order
from tests.conftest import Office
from tests.phone import Phone


def test_uuid7_as_in_rfc_9562() -> None:
    """Source: RFC 9562 appendix A.6."""
    made = uuid7(0x017F22E279B0, (0xCC3 << 68 | 0x18C4DC0C0C07398F).to_bytes(10, "big"))
    assert made == "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"
    assert uuid.UUID(made).version == 7
    assert uuid.UUID(made).variant == uuid.RFC_4122


def test_canonical_json_as_in_rfc_8785() -> None:
    """Source: RFC 8785 section 3.2.2; keys sort by UTF-16 code unit (section 3.2.3)."""
    value = {
        "numbers": [333333333.33333329, 1e30, 4.50, 2e-3, 0.000000000000000000000000001],
        "string": '€$\u000f\nA\'B"\\\\"/',
        "literals": [None, True, False],
    }
    expected = (
        '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
        '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
    )
    assert canonical(value) == expected
    names = ["\r", "1", "\u0080", "\u00f6", "\u20ac", "\U0001f600", "\ufb33"]
    written = canonical(dict.fromkeys(reversed(names), 0))
    places = [written.index(name if name != "\r" else "\\r") for name in names]
    assert places == sorted(places)


@pytest.mark.parametrize(
    ("bits", "written"),
    [
        ("0000000000000000", "0"),
        ("8000000000000000", "0"),
        ("0000000000000001", "5e-324"),
        ("444b1ae4d6e2ef4f", "999999999999999900000"),
        ("444b1ae4d6e2ef50", "1e+21"),
        ("44b52d02c7e14af6", "1e+23"),
        ("3eb0c6f7a0b5ed8c", "9.999999999999997e-7"),
        ("3eb0c6f7a0b5ed8d", "0.000001"),
        ("41b3de4355555555", "333333333.3333333"),
        ("3ff0000000000000", "1"),
    ],
)
def test_numbers_are_written_as_in_rfc_8785(bits: str, written: str) -> None:
    """Source: RFC 8785 appendix B, IEEE 754 bit patterns and what becomes of them."""
    (number,) = struct.unpack(">d", bytes.fromhex(bits))
    assert canonical(number) == written
    assert canonical({"typed": [number]}) == f'{{"typed":[{written}]}}'


@pytest.mark.parametrize("none", [float("nan"), float("inf"), -float("inf"), 2**53])
def test_what_is_no_number_of_json_is_refused(none: float) -> None:
    """Source: RFC 8785 section 3.2.2.3, and 2**53 - 1 as the largest whole number that everybody reads the same."""
    with pytest.raises(rfc8785.CanonicalizationError):
        canonical([none])


PLAIN = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**60), 2**60)
    | st.text(st.characters(exclude_categories=["Cs"])),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=4), inner, max_size=4),
)


@given(PLAIN)
def test_both_ways_to_write_canonical_json_agree(value: object) -> None:
    """Source: the rfc8785 library, which `canonical` leaves out where the standard library writes the same."""
    try:
        expected = rfc8785.dumps(value).decode()  # type: ignore[arg-type]
    except rfc8785.CanonicalizationError:
        with pytest.raises(rfc8785.CanonicalizationError):
            canonical(value)
    else:
        assert canonical(value) == expected


@given(st.dictionaries(st.text(max_size=4), st.integers(0, 3), max_size=4))
def test_names_that_came_before_are_written_in_the_same_order(value: dict[str, int]) -> None:
    """The order of some names is remembered, whichever order they come in the next time."""
    names_in_order.cache_clear()
    first, turned = canonical(value), dict(reversed(value.items()))
    assert (canonical(value), canonical(turned)) == (first, first)
    assert first == rfc8785.dumps(value).decode()


@given(
    st.uuids().map(str),
    st.integers(1, 2**53 - 1),
    st.booleans(),
    st.sampled_from(["", "ruled", "clock_off_s"]),
)
def test_an_answer_that_is_put_together_is_canonical(
    operation_id: str, office_seq: int, disagreement: bool, more: str
) -> None:
    answer = kept(operation_id, office_seq, disagreement=disagreement) | ({more: 1} if more else {})
    assert as_text(answer) == rfc8785.dumps(answer).decode()
    problem = {"code": "words_erased"}
    assert as_text({**answer, "problem": problem}) == rfc8785.dumps({**answer, "problem": problem}).decode()
    refusal = {**answer, "outcome": "refused"}
    assert as_text(refusal) == rfc8785.dumps(refusal).decode()


@pytest.mark.parametrize(
    ("message", "expected"),
    [
        (b"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
        (
            b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
        ),
        (
            b"abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmnhijklmnoijklmnopjklmnopqklmnopqrlmnopqrs"
            b"mnopqrstnopqrstu",
            "cf5b16a778af8380036ce59e7b0492370b249b11e8f07a51afac45037afee9d1",
        ),
        (b"a" * 10**6, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"),
    ],
)
def test_sha_256_as_in_fips_180(phone: Phone, message: bytes, expected: str) -> None:
    """Source: NIST's examples for FIPS 180-4; the upload path names the bytes by the same digest."""
    assert hashlib.sha256(message).hexdigest() == expected
    begun = phone.client.patch(
        f"/photos/{expected}",
        content=message,
        headers={"Upload-Offset": "0", "Upload-Length": str(len(message))},
    )
    # The digest holds, so what is wrong with it is only that it is no picture.
    assert begun.json()["code"] == "not_a_picture"
    wrong = phone.client.patch(
        f"/photos/{'0' * 64}",
        content=message,
        headers={"Upload-Offset": "0", "Upload-Length": str(len(message))},
    )
    assert wrong.json()["code"] == "wrong_digest"


def test_problems_have_the_members_of_rfc_9457(office: Office) -> None:
    """Source: RFC 9457 section 3.1: type, title, status and detail, as application/problem+json."""
    answers = [
        office.client().get("/queue"),
        office.client().get("/no/such/place"),
        office.client().post("/pairing", json={"code": "0000-0000"}),
        httpx.post(f"{office.address}/pairing", json={"code": "0000-0000"}, headers={"Origin": "http://x"}),
    ]
    for answer in answers:
        body = answer.json()
        assert answer.headers["content-type"] == "application/problem+json"
        assert body["status"] == answer.status_code >= 400
        assert {"type", "title", "status", "detail", "code", "hint"} <= body.keys()
