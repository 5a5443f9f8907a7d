"""Who plays, as people paste it: chairs, names, how they hear and where they stand."""

import pytest

from monreq.domain.chair_list import ListedChair, ListedMix, read_chair_list
from monreq.domain.input_list import LineNotRead, ListedTwice, NothingListed
from monreq.domain.setup import Output

WEDGE, IN_EARS = Output.WEDGE, Output.IN_EAR_PAIR


def test_a_line_says_chair_name_output_and_place() -> None:
    listed = read_chair_list("Bass: Ada, in-ears, back left")

    assert listed == [ListedMix((ListedChair("Ada", "Bass", is_lead=False),), IN_EARS, "back left")]
    assert listed[0].name == "Bass"


def test_a_name_alone_gets_a_wedge() -> None:
    assert read_chair_list("Ada") == [ListedMix((ListedChair("Ada", "", is_lead=False),), WEDGE, "")]


@pytest.mark.parametrize("said", ["in-ears", "in ears", "in-ear pair", "ears", "IEM"])
def test_in_ears_are_known_by_their_usual_names(said: str) -> None:
    assert read_chair_list(f"Drums, {said}")[0].output is IN_EARS


@pytest.mark.parametrize(
    ("said", "output"),
    [
        ("retours", WEDGE),
        ("bain de pied", WEDGE),
        ("Bains de pied", WEDGE),
        ("bains de pieds", WEDGE),
        ("paire d'in-ears", IN_EARS),
        ("paire d\N{RIGHT SINGLE QUOTATION MARK}in-ears", IN_EARS),
        ("oreillettes", IN_EARS),
    ],
)
def test_outputs_are_known_by_what_french_stages_call_them(said: str, output: Output) -> None:
    assert read_chair_list(f"Basse, {said}, fond")[0] == ListedMix(
        (ListedChair("Basse", "", is_lead=False),), output, "fond"
    )


@pytest.mark.parametrize(
    ("said", "output"),
    [
        ("イヤモニ", IN_EARS),
        ("コロガシ", WEDGE),
        ("ころがし", WEDGE),
        ("転がし", WEDGE),
        ("返し", WEDGE),
    ],
)
def test_outputs_are_known_by_what_japanese_stages_call_them(said: str, output: Output) -> None:
    assert read_chair_list(f"ベース、{said}、下手") == [
        ListedMix((ListedChair("ベース", "", is_lead=False),), output, "下手")
    ]


def test_output_and_place_stand_in_any_order() -> None:
    assert read_chair_list("Drums, back, in-ears") == read_chair_list("Drums, in-ears, back")


def test_chairs_joined_by_a_plus_share_one_mix() -> None:
    (mix,) = read_chair_list("Trumpet: Ida + Saxophone: Bo, wedge")

    assert [one.name for one in mix.chairs] == ["Ida", "Bo"]
    assert mix.name == "Trumpet + Saxophone"


def test_a_full_width_plus_joins_chairs_too() -> None:
    colon, plus = "\N{FULLWIDTH COLON}", "\N{FULLWIDTH PLUS SIGN}"
    (mix,) = read_chair_list(f"トランペット{colon}花子{plus}サックス{colon}太郎、イヤモニ")

    assert [(one.chair, one.name) for one in mix.chairs] == [("トランペット", "花子"), ("サックス", "太郎")]
    assert mix.output is IN_EARS


@pytest.mark.parametrize("line", ["Lead voice: Ada", "Lead vox"])
def test_a_lead_singer_is_known_by_the_chair(line: str) -> None:
    assert read_chair_list(line)[0].chairs[0].is_lead


@pytest.mark.parametrize("line", ["Lead guitar: Bo", "Voice: Cy"])
def test_others_are_not_taken_for_a_lead_singer(line: str) -> None:
    assert not read_chair_list(line)[0].chairs[0].is_lead


def test_what_cannot_be_read_is_refused() -> None:
    with pytest.raises(NothingListed):
        read_chair_list("\n")
    with pytest.raises(ListedTwice, match="bass"):
        read_chair_list("Bass: Ada\nbass: Bo")
    with pytest.raises(LineNotRead, match="Line 2"):
        read_chair_list("Bass\n: Ada")


@pytest.mark.parametrize(
    ("line", "output", "place"),
    [
        ("Leadgesang: Ada, Wedge, Mitte", WEDGE, "Mitte"),
        ("Chant lead : Ada, retour, centre", WEDGE, "centre"),
        ("Voz principal: Ada, cuña, centro", WEDGE, "centro"),
        ("リードボーカル\N{FULLWIDTH COLON}Ada、インイヤー、中央", IN_EARS, "中央"),
        ("المغني الرئيسي: Ada، سماعات أذن، الوسط", IN_EARS, "الوسط"),
    ],
)
def test_a_lead_singer_is_read_in_the_languages_of_the_pages(line: str, output: Output, place: str) -> None:
    (mix,) = read_chair_list(line)

    assert (mix.output, mix.place) == (output, place)
    assert [(one.name, one.is_lead) for one in mix.chairs] == [("Ada", True)]
