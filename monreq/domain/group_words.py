"""Which sources a band usually asks for together: groups to offer, guessed from names (common practice, no source)."""

from collections.abc import Mapping
from enum import StrEnum
from typing import Final

from monreq.domain.input_words import words_of
from monreq.domain.setup import SourceKind, SourceUse
from monreq.domain.show import Show


class UsualGroup(StrEnum):
    """A group that most bands would want."""

    DRUMS = "drums"
    VOICES = "voices"
    HORNS = "horns"


_WORDS: Final[Mapping[UsualGroup, set[str]]] = {
    UsualGroup.DRUMS: words_of(
        "kick snare tom toms hat hats hihat overhead overheads oh ride cymbals drum drums"
    ),
    UsualGroup.VOICES: words_of("voice voices vox vocal vocals choir singer singers"),
    UsualGroup.HORNS: words_of("trumpet trombone sax saxophone horn horns flugelhorn tuba"),
}


def offered_groups(show: Show) -> Mapping[UsualGroup, tuple[str, ...]]:
    """Return the groups that the names of sources suggest, those of two sources or more, and that do not stand yet.

    A source that is in a group already is offered in no other.
    """
    grouped = {source for group in show.groups.values() for source in group.sources}
    offered = {
        usual: tuple(
            one.id
            for one in show.sources.values()
            if one.id not in grouped
            and one.use is SourceUse.MUSIC
            and one.kind is not SourceKind.RETURN
            and words_of(one.name) & words
        )
        for usual, words in _WORDS.items()
    }
    return {usual: sources for usual, sources in offered.items() if len(sources) > 1}
