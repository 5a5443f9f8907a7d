"""The command about how a change sounds; see `commands` for their manner."""

from dataclasses import dataclass

from monreq.domain.hearing import Heard


@dataclass(frozen=True, slots=True)
class SayHeard:
    """Say how what a decision changed sounds now; too little and too much ask again by themselves."""

    mix: str
    musician: str | None
    decision: str
    heard: Heard
    by: str | None = None
    client_id: str = ""


HearingCommand = SayHeard
