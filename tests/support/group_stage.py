"""The small stage with a kit of drums in it, which is asked for as a group."""

from monreq.domain import group_commands as g
from monreq.domain.groups import Group
from monreq.domain.setup import SourceKind
from tests.support.stage import Stage, small_stage

KIT = Group("kit", "Kit", ("kick", "snare", "overhead"))


def group_stage() -> Stage:
    """Return `small_stage` with `kick` (direct), `snare` and `overhead` (open mics), and the group `kit` of the three.

    In `front` they stand at -20.0 dB, in `ears` at -25.0 dB.
    """
    stage = small_stage()
    stage.source("kick", kind=SourceKind.DIRECT)
    stage.source("snare")
    stage.source("overhead")
    stage.do(g.PutGroup(KIT))
    return stage
