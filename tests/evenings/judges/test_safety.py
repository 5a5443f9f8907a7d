"""The judge of safety on made-up evenings, good and bad; the figures are worked by hand."""

from monreq.domain.measuring_commands import ConfirmPreamp
from monreq.domain.requests import Call
from tests.evenings.judges.safety import Safety
from tests.support.stage import Stage, small_stage


class Watched:
    """A stage whose every step the judge is told of, with how it was taken."""

    def __init__(self, bound_tenths: int = 60) -> None:
        self.stage: Stage = small_stage()
        self.safety = Safety(bound_tenths)
        self._told = 0
        self.tell()

    def tell(self, *, is_suggested: bool = False) -> None:
        """Tell the judge of what was recorded since."""
        self.safety.take(self.stage.log[self._told :], is_suggested=is_suggested)
        self._told = len(self.stage.log)

    def done(self, mix: str, source: str | None, tenths: int, *, is_typed: bool = False) -> str:
        """Ask for more or less, and do it: as suggested by a program that bounds nothing, or typed."""
        asker = "bass" if mix == "ears" else None
        decision = self.stage.done(self.stage.ask(mix, source, tenths, asker), change=tenths)
        self.tell(is_suggested=not is_typed)
        return decision

    def mark(self) -> None:
        self.stage.mark()
        self.tell()

    def read(self, source: str, margin: int, mics: int = 1) -> None:
        self.stage.read_margin("front", source, margin, mics)
        self.tell()

    @property
    def found(self) -> list[str]:
        return [str(one).partition(": ")[2] for one in self.safety.breaches]


def test_raises_that_come_to_the_bound_are_good() -> None:
    evening = Watched()
    evening.mark()

    evening.done("ears", "voice", 30)
    evening.done("ears", None, 30)

    assert evening.found == []


def test_send_and_whole_mix_add_up_at_the_ear() -> None:
    evening = Watched()
    evening.mark()

    evening.done("ears", "voice", 30)
    evening.done("ears", None, 31)

    assert evening.found == ["suggested at an ear +6.1 dB"]


def test_a_gain_that_was_turned_is_heard_too() -> None:
    evening = Watched()
    evening.mark()

    planned = evening.stage.plan_preamp("voice", 40)
    evening.stage.do(ConfirmPreamp(planned, though_rows_wait=True))
    evening.tell()
    evening.done("ears", "voice", 30)

    assert evening.found == ["suggested at an ear +7.0 dB"]


def test_a_second_mark_forgives_nothing() -> None:
    evening = Watched()
    evening.mark()
    evening.done("ears", "voice", 50)
    evening.mark()

    evening.done("ears", "voice", 20)

    assert evening.found == ["suggested at an ear +7.0 dB"]


def test_before_the_first_mark_nothing_counts() -> None:
    evening = Watched()

    evening.done("ears", "voice", 90)
    evening.mark()

    assert evening.found == []


def test_what_is_typed_is_a_persons_own_and_what_they_lower_counts() -> None:
    evening = Watched()
    evening.mark()

    evening.done("ears", "voice", 90, is_typed=True)
    evening.done("ears", "voice", -30, is_typed=True)
    evening.done("ears", "voice", 90)

    assert evening.found == []


def test_what_is_taken_back_counts_no_more() -> None:
    evening = Watched()
    evening.mark()
    evening.stage.undo(evening.done("ears", "voice", 50))
    evening.tell()

    evening.done("ears", "voice", 50)

    assert evening.found == []


def test_one_mic_may_be_raised_to_the_reserve_and_no_further() -> None:
    good, bad = Watched(), Watched()
    for evening, tenths in ((good, 60), (bad, 61)):
        evening.read("voice", 90)
        evening.done("front", "voice", tenths)

    assert good.found == []
    assert bad.found == ["margin left +2.9 dB"]


def test_mics_that_were_read_alone_share_the_margin() -> None:
    """9 dB and 9 dB: together 9 - 10 lg 2 = 6 dB. One 6 dB up: -10 lg(10^-0.3 + 10^-0.9) = 2.0 dB."""
    evening = Watched()
    evening.read("voice", 90)
    evening.read("drums", 90)

    evening.done("front", "voice", 60)

    assert evening.found == ["margin left +2.0 dB"]


def test_mics_that_were_read_together_have_each_others_share_in_it() -> None:
    """Each read 9 dB with both open: together 9 dB, and 3 dB up for both by the output leaves 6 dB."""
    evening = Watched()
    evening.read("voice", 90, mics=2)
    evening.read("drums", 90, mics=2)

    evening.done("front", None, 30)

    assert evening.found == []


def test_less_is_always_good() -> None:
    evening = Watched()
    evening.read("voice", 10)
    evening.stage.done(evening.stage.call("front", Call.SQUEAL))
    evening.tell(is_suggested=True)

    evening.done("front", "voice", -30)

    assert evening.found == []


def test_readings_that_were_said_to_be_stale_prove_nothing() -> None:
    evening = Watched()
    evening.read("voice", 10)
    evening.stage.make_stale("front")
    evening.tell()

    evening.done("front", "voice", 30)

    assert evening.found == []


def test_what_rings_already_must_not_be_brought_nearer() -> None:
    evening = Watched()
    evening.read("voice", 20)

    evening.done("front", "voice", 10)

    assert evening.found == ["margin left +1.0 dB"]
