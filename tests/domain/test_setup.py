"""What sources and mixes are, apart from their levels."""

import pytest

from monreq.domain.setup import Mix, Output, Source, SourceKind


@pytest.mark.parametrize(
    ("kind", "can_ring"),
    [(SourceKind.OPEN_MIC, True), (SourceKind.RETURN, True), (SourceKind.DIRECT, False)],
)
def test_source_can_ring_unless_it_is_direct(kind: SourceKind, *, can_ring: bool) -> None:
    assert Source("voice", "Voice", kind).can_ring is can_ring


def test_a_direct_source_in_a_body_that_sounds_can_ring() -> None:
    assert Source("cello", "Cello", SourceKind.DIRECT, is_acoustic=True).can_ring


@pytest.mark.parametrize(
    ("output", "is_fed_mono", "is_stereo"),
    [
        (Output.IN_EAR_PAIR, False, True),
        (Output.IN_EAR_PAIR, True, False),
        (Output.WEDGE, False, False),
    ],
)
def test_mix_is_stereo_only_as_a_pair_fed_by_two(
    output: Output, *, is_fed_mono: bool, is_stereo: bool
) -> None:
    assert Mix("m", "M", output, (), is_fed_mono=is_fed_mono).is_stereo is is_stereo
