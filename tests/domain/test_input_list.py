"""Input lists as people paste them: what a line says, what its name lets guess, what is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.input_list import (
    LINES_LIMIT,
    LineNotRead,
    Listed,
    ListedTwice,
    NothingListed,
    TooManyListed,
    read_input_list,
)
from monreq.domain.input_words import says_low
from monreq.domain.setup import SourceKind, SourceUse

MIC, DIRECT, RETURN = SourceKind.OPEN_MIC, SourceKind.DIRECT, SourceKind.RETURN


def test_each_line_is_a_source_in_order() -> None:
    listed = read_input_list("Kick\n\n  Snare  \nBass\n")

    assert listed == [
        Listed("Kick", MIC, SourceUse.MUSIC, is_stereo=False),
        Listed("Snare", MIC, SourceUse.MUSIC, is_stereo=False),
        Listed("Bass", DIRECT, SourceUse.MUSIC, is_stereo=False),
    ]


@pytest.mark.parametrize(
    "line", ["1 Kick", "1. Kick", "01) Kick", "1: Kick", "1\tKick", "1 - Kick", "ch 1 Kick", "Ch. 12: Kick"]
)
def test_a_number_before_the_name_is_left_out(line: str) -> None:
    assert [one.name for one in read_input_list(line)] == ["Kick"]


@pytest.mark.parametrize("line", ["12-string guitar", "8bit synth", "3"])
def test_a_figure_that_belongs_to_the_name_stays(line: str) -> None:
    assert [one.name for one in read_input_list(line)] == [line]


def test_what_stands_in_further_columns_helps_to_guess_only() -> None:
    listed = read_input_list("5\tGuitar\tDI\n6;Piano;mic")

    assert [(one.name, one.kind) for one in listed] == [("Guitar", DIRECT), ("Piano", MIC)]


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("Bass", DIRECT),
        ("Bass drum", MIC),
        ("Bass voice", MIC),
        ("Keys", DIRECT),
        ("Playback", DIRECT),
        ("Voice reverb", RETURN),
        ("Delay", RETURN),
        ("Lead vox", MIC),
        ("ボーカル", MIC),
    ],
)
def test_the_kind_is_guessed_from_the_name_and_an_open_mic_where_nothing_says(
    name: str, kind: SourceKind
) -> None:
    assert read_input_list(name)[0].kind is kind


@pytest.mark.parametrize(
    "name",
    [
        "Acoustic guitar DI",
        "A. Gtr DI",
        "Ac guitar pickup",
        "Double bass",
        "Upright bass DI",
        "Violin pick-up",
        "Fiddle DI",
        "Viola line",
        "Cello direct",
        "Mandolin DI L/R",
        "Ukulele pickup",
        "Banjo\tDI",
        "Akustikgitarre DI",
        "Geige Tonabnehmer",
        "Kontrabass DI",
        "Guitarra acústica pastilla",
        "Contrabajo DI",
        "Guitare acoustique DI",
        "Violoncelle capteur",
        "Violão linha",
        "Cavaquinho acústico captador",
        "عود مباشر",
        "كمان DI",
        "アコギDI",
        "ウッドベース ピックアップ",
    ],
)
def test_a_pickup_in_a_body_that_sounds_is_known_by_name_in_every_language(name: str) -> None:
    (listed,) = read_input_list(name)

    assert (listed.kind, listed.is_acoustic) == (DIRECT, True)


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("Acoustic guitar", MIC),
        ("Violin mic", MIC),
        ("Double bass mic", MIC),
        ("Acoustic guitar DI + mic", MIC),
        ("Double bass drum", MIC),
        ("Geige Mikro", MIC),
        ("Contrebasse micro DI", MIC),
        ("Violín micrófono", MIC),
        ("كمان ميكروفون", MIC),
        ("アコギマイク DI", MIC),
        ("Cello reverb", RETURN),
        ("Bass DI", DIRECT),
        ("E-Bass", DIRECT),
        ("Electric violin DI", DIRECT),
        ("E-Cello DI", DIRECT),
        ("Guitar A DI", DIRECT),
        ("Violin pad", DIRECT),
        ("Cello samples", DIRECT),
    ],
)
def test_what_has_a_mic_or_no_body_is_no_acoustic_pickup(name: str, kind: SourceKind) -> None:
    (listed,) = read_input_list(name)

    assert (listed.kind, listed.is_acoustic) == (kind, False)


def test_a_left_and_a_right_pickup_stay_acoustic_as_one() -> None:
    assert read_input_list("Banjo DI L\nBanjo DI R") == [
        Listed("Banjo DI", DIRECT, SourceUse.MUSIC, is_stereo=True, is_acoustic=True)
    ]


@pytest.mark.parametrize(
    ("name", "use"),
    [
        ("Click", SourceUse.CLICK),
        ("Talkback", SourceUse.TALKBACK),
        ("Audience left", SourceUse.AUDIENCE_MIC),
        ("Kick", SourceUse.MUSIC),
    ],
)
def test_the_use_is_guessed_from_the_name(name: str, use: SourceUse) -> None:
    assert read_input_list(name)[0].use is use


@pytest.mark.parametrize(
    "text", ["Keys L\nKeys R", "Keys left\nKeys right", "Keys (L)\nKeys (R)", "Keys L/R", "Keys L+R"]
)
def test_a_left_and_a_right_are_one_stereo_source(text: str) -> None:
    assert read_input_list(text) == [Listed("Keys", DIRECT, SourceUse.MUSIC, is_stereo=True)]


@pytest.mark.parametrize("text", ["Keys R\nKeys L", "Keys L\nPads R", "Keys L\nKick\nKeys R"])
def test_sides_that_do_not_follow_one_another_stay_apart(text: str) -> None:
    listed = read_input_list(text)

    assert [one.name for one in listed] == text.splitlines()
    assert not any(one.is_stereo for one in listed)


@pytest.mark.parametrize("text", ["", "  \n\t\n"])
def test_an_empty_list_is_refused(text: str) -> None:
    with pytest.raises(NothingListed):
        read_input_list(text)


def test_as_many_lines_as_allowed_are_read_and_one_more_is_refused() -> None:
    longest = "\n".join(f"Source {number}" for number in range(LINES_LIMIT))

    assert len(read_input_list(longest)) == LINES_LIMIT
    with pytest.raises(TooManyListed):
        read_input_list(f"{longest}\none more")


def test_a_name_in_two_lines_is_refused_by_name() -> None:
    with pytest.raises(ListedTwice, match="KICK stands in two lines"):
        read_input_list("Kick\nSnare\nKICK")


def test_a_line_that_cannot_be_read_is_named_by_its_number() -> None:
    with pytest.raises(LineNotRead, match="Line 3"):
        read_input_list("Kick\n\n" + "x" * 61)


@given(st.lists(st.text("abcdefgxyzäßあئ", min_size=3, max_size=20), min_size=1, unique_by=str.casefold))
def test_plain_names_in_any_script_come_back_as_they_are(names: list[str]) -> None:
    listed = read_input_list("\n".join(names))

    assert len(listed) == len(names)


@pytest.mark.parametrize(
    "name",
    [
        "Kick in",
        "Bass DI",
        "Bass drum",
        "BASSDRUM",
        "E-Bass",
        "Kontrabass",
        "Bombo",
        "Bajo",
        "Grosse caisse",
        "Basse",
        "Contrebasse",
        "Bumbo",
        "Baixo",
        "キック",
        "エレキベース",
        "バスドラム",
        "كيك",
        "باص",
    ],
)
def test_a_kick_and_a_bass_are_known_by_name_in_every_language(name: str) -> None:
    assert says_low(name)


@pytest.mark.parametrize(
    "name",
    [
        "Bass vox",
        "Bass voice",
        "Gesang Bass",
        "Voz bajo",
        "Chœur basse",
        "ベースボーカル",
        "Snare",
        "Caisse claire",
        "Bassoon",
        "Kickstand",
        "キーボード",
        "",
    ],
)
def test_who_sings_beside_the_bass_and_all_else_is_neither(name: str) -> None:
    assert not says_low(name)
