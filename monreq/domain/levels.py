"""Where the sends and the output of one mix stand."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from monreq.domain.setup import Setting


@dataclass(frozen=True, slots=True)
class Position:
    """Where a send or an output stands, and what became of it.

    Attributes:
        setting: As last entered or done.
        confirmed_at_ms: When somebody last looked at the desk for it; None if never. [ms since 1970, UTC]
        done_tenths: Sum of the changes done since the soundcheck mark. [0.1 dB]
        entered_at: The revision of the show at which a hand entered another level than was known, or the place began:
            what was done before says nothing of where it stands now.
    """

    setting: Setting
    confirmed_at_ms: int | None = None
    done_tenths: int = 0
    entered_at: int = 0

    def entered(self, level_tenths: int, revision: int) -> int:
        """Return when its level was entered last once it is entered as this."""
        return self.entered_at if level_tenths == self.setting.level_tenths else revision


@dataclass(frozen=True, slots=True)
class Levels:
    """The output and the sends of one mix, by source id in no particular order."""

    output: Position
    sends: Mapping[str, Position] = field(default_factory=dict)

    @property
    def settings(self) -> dict[str | None, Setting]:
        """Where the output (None) and the sends stand, whatever became of them before."""
        return {None: self.output.setting, **{source: send.setting for source, send in self.sends.items()}}

    def at(self, source: str | None) -> Position | None:
        """Return the position of a send, or of the output (None); None if the source is not in the mix."""
        return self.output if source is None else self.sends.get(source)

    def with_position(self, source: str | None, position: Position) -> "Levels":
        """Return these levels with one position replaced or added."""
        if source is None:
            return replace(self, output=position)
        return replace(self, sends={**self.sends, source: position})
