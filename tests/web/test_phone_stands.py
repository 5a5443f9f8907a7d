"""A phone is told of a change by its mix's revision alone: what any command leaves at that revision must look as it did."""

from hypothesis import given, settings
from hypothesis import strategies as st

from monreq.domain.refusals import Refusal
from monreq.web.phone_view import phone_places
from tests.domain.test_any_commands import OFTEN, anything_of
from tests.support.stage import small_stage


@given(st.data())
@settings(max_examples=100, deadline=None)
def test_a_phone_looks_as_it_did_where_its_revision_stands(data: st.DataObject) -> None:
    stage = small_stage()

    for kind in data.draw(st.lists(st.sampled_from(OFTEN), min_size=10, max_size=40)):
        before = stage.show
        try:
            stage.do(data.draw(anything_of(kind, "", before)))
        except Refusal:
            continue
        for mix, revision in stage.show.changed_at.items():
            if before.changed_at.get(mix) == revision:
                assert phone_places(before, mix) == phone_places(stage.show, mix)
