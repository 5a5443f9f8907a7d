"""The low start: where a mix begins of which nobody knows how loud it is at the ear, the one home of that rule.

A new mix, one that is heard through another kind of output from now on, and one that is carried over into in-ears, on
packs that nobody has seen: loudest send and output are low, the balance is kept.
"""

from collections.abc import Iterable

from monreq.domain.levels import Levels
from monreq.domain.setup import Mix, Output, Setting

# chosen: low enough to be safe at any usual gain structure, high enough to be found by ear at once
START_TENTHS = {Output.WEDGE: -200, Output.IN_EAR_PAIR: -250}
START_OUTPUT_TENTHS = {Output.WEDGE: 0, Output.IN_EAR_PAIR: -100}

# Both ears of a pair fed mono get the whole of what was shared between them: 10 lg 2 = 3.01 dB.
FED_MONO_TENTHS = -30


def stands_low(levels: Levels, output: Output) -> bool:
    """Whether a mix stands no higher than a new one on its output, so that hardly anything is to be heard yet."""
    return levels.output.setting.level_tenths <= START_OUTPUT_TENTHS[output] and all(
        position.setting.level_tenths <= START_TENTHS[output] for position in levels.sends.values()
    )


def is_fed_mono_now(before: Mix, after: Mix) -> bool:
    """Whether an in-ear pair that had left and right is fed from one output from now on."""
    return before.output is after.output and before.is_stereo and after.is_fed_mono


def has_other_output(before: Mix, after: Mix) -> bool:
    """Whether a mix comes from another output from now on, so that its levels say nothing about the ear."""
    return before.output is not after.output or is_fed_mono_now(before, after)


def low_shift(after: Mix, sends: Iterable[Setting]) -> int:
    """Return by how much all sends of a mix go down, so that the loudest starts no higher than a new one. [0.1 dB]."""
    # A send that is off counts too: it may be asked for, and must not come in loud.
    loudest = max((one.level_tenths for one in sends), default=START_TENTHS[after.output])
    return min(0, START_TENTHS[after.output] - loudest)


def low_output(before: Mix, after: Mix, level_tenths: int) -> int:
    """Return where an output starts that stood at a level: no higher than a new one, lower if it was. [0.1 dB]."""
    fed_mono = FED_MONO_TENTHS if is_fed_mono_now(before, after) else 0
    return min(START_OUTPUT_TENTHS[after.output], level_tenths + fed_mono)
