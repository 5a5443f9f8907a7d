"""One evening from a seed, from the pasted list to the end of the next show, with all judges looking."""

import tempfile
from dataclasses import dataclass
from pathlib import Path

from tests.evenings import leaving, playing, preparing, programs, tearing, visiting
from tests.evenings.bench import Bench
from tests.evenings.company import Company
from tests.evenings.coverage import Reached
from tests.evenings.house import house


@dataclass(frozen=True)
class Told:
    """What one evening showed.

    Attributes:
        steps: How many requests were sent.
        gaps: How often each desk page showed none of the open calls.
    """

    reached: Reached
    steps: int
    gaps: dict[str, int]


class Failed(AssertionError):  # noqa: N818 - said to a person; the name says what it is
    """An evening on which something was found; its text has the seed and the last steps."""


def play(seed: int) -> Told:
    """Play an evening.

    Args:
        seed: The same one plays the same evening.

    Raises:
        Failed: Something was found, or broke.
    """
    with tempfile.TemporaryDirectory() as folder, house(Path(folder) / "data", seed) as stage:
        bench = Bench(stage)
        bench.catch_up()
        try:
            _play(Company(stage, bench))
            stage.check_log()
        except Exception as found:
            told = f"seed {seed}: {type(found).__name__}: {found}\nlast steps:\n{stage.trail.told()}"
            again = f"play it again: python -m tests.evenings {seed}"
            raise Failed(f"{told}\n{again}") from found
        return Told(stage.reached, stage.trail.count, dict(bench.gaps))


def _play(company: Company) -> None:
    line_up = company.house.seed % 2
    preparing.prepare(company, company.desk, line_up)
    preparing.prepare(company, company.elsewhere, 1 - line_up)
    company.second.come()
    company.tablet.set_up(company.desk.go("/desk/codes"))
    company.phones = company.phones_of(company.desk.browser.show_id)
    company.connect()
    _before_the_show(company)
    playing.songs(company, 3)
    visiting.look_at_all(company)
    programs.speak(company, company.phones[0])
    tearing.answer_from_another_show(company)
    playing.everybody_wants_more(company, 2)
    _after_the_show(company, 1 - line_up)


def _before_the_show(company: Company) -> None:
    visiting.print_all(company.desk)
    playing.soundcheck(company)
    first, *_, last = company.phones
    for phone in (first, last):
        phone.pry(next(mix for mix in company.house.show(phone.browser.show_id).mixes if mix != phone.mix))
    visiting.be_another(company)
    playing.around(company)


def _after_the_show(company: Company, line_up: int) -> None:
    leaving.keep(company)
    leaving.another_band(company)
    visiting.replace_codes(company, company.phones[0])
    visiting.visit(company)
    leaving.next_show(company, line_up)
    playing.songs(company, 1)
    programs.mark(company.desk)
    leaving.bands(company.desk)
    leaving.close(company.desk)
    visiting.look_at_all(company)
    company.disconnect()
