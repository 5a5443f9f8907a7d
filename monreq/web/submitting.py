"""Submissions as the pages and the JSON interface make them: an id, and a fingerprint of all that was said."""

import hashlib
import json
from collections.abc import Mapping

from monreq.services.ports import Submission

DESK_SCOPE = "@desk"  # no mix can be called so


def fingerprint(said: Mapping[str, object]) -> str:
    """Return a digest of everything a submission says, whatever the order of its fields."""
    text = json.dumps(said, sort_keys=True, separators=(",", ":"), default=str)
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def from_form(scope: str, page_id: str, said: Mapping[str, object]) -> Submission:
    """Return the submission of a form whose id was drawn with its page.

    One page holds many buttons under one id. So the id sent on is the page's with what was said: the same button
    twice is one submission, another button of the same page is another.
    """
    print_of_said = fingerprint(said)
    return Submission(scope, f"{page_id}.{print_of_said[:12]}", print_of_said)
