"""The desk's keys in words: the letter of each reason, and what the help lists."""

from collections.abc import Mapping, Sequence

from monreq.web.speech import N_

REASON_LETTERS: Mapping[str, str] = {
    "closer_to_mic": "c",
    "amp_down": "a",
    "near_feedback": "f",
    "less_of_another": "l",
    "checking_polarity": "p",
    "after_this_song": "s",
}
"""By code; `w` leads to own words."""

SOUND_LETTERS: Mapping[str, str] = {
    "low_mids_cut": "m",
    "highs_cut": "h",
    "lows_cut": "l",
    "polarity_turned": "p",
    "drier": "d",
    "wetter": "e",
}
"""By the code of what was done about a sound; `w` leads to own words, `j` is just done."""

KEY_HELP: Sequence[tuple[tuple[str, ...], str]] = (
    (("enter",), N_("done as suggested")),
    (("+", "-"), N_("done, with another figure: type it, enter")),
    (("@",), N_("done: the level read off the desk, enter")),
    (("=",), N_("done at the same loudness")),
    (("r",), N_("done: the rest down")),
    (("d",), N_("done plainly, where another way stands first")),
    (("s",), N_("set aside")),
    (("x",), N_("not done; then the letter of the reason, or w for own words")),
    (("y",), N_("a sound: done, in words; then their letter, or w for own words")),
    (("p",), N_("the preamp of a source that many ask up")),
    (("c",), N_("corrected from the desk: type the level that stands there, enter")),
    (("enter",), N_("what was typed is asked about: take it as it stands")),
    (("a",), N_("a call is seen")),
    (("k",), N_("keep the mix of this row")),
    (("u",), N_("take the last answer, song or gap back")),
    (("↑", "↓"), N_("another row")),
    (("g",), N_("song runs, gap")),
    ((",", "."), N_("the song before, the song after")),
    (("t",), N_("go to a song: its number or the beginning of its name, enter")),
    (("w",), N_("on without the moves for this song")),
    (("n",), N_("ask for somebody: mix or name, source, figure, enter")),
    (("m", "2"), N_("open mix 2")),
    (("q",), N_("back to the queue")),
    (("esc",), N_("leave a field, close reasons")),
)
