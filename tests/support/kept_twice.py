"""An evening that is kept twice, by the domain and by the model, and how the two are held against each other."""

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant

from monreq.domain.events import ChangeAsked, RequestsAnswered
from tests.support.invariants import check
from tests.support.model import Model
from tests.support.model_parts import Place, RowName, Wish
from tests.support.stage import Stage, small_stage

MIX_OF = {"singer": "front", "bass": "ears", "drummer": "ears"}
SENDS = {"front": ["voice", "drums", "guitar", "talk"], "ears": ["voice", "drums", "guitar", "talk", "click"]}
PLACES: list[Place] = [(mix, source) for mix, sends in SENDS.items() for source in (*sends, None)]
MUSICIANS = st.sampled_from(sorted(MIX_OF))
SOURCES = st.sampled_from(["voice", None])
# Few figures, so that sums of nothing, and the ends of the range, come about often.
AMOUNTS = st.sampled_from([10, -10, 20, -20, 30, 120])
CHANGES = st.sampled_from([10, -10, 30, -30, 0, 7, 250, -250, 600])


def figure(stage: Stage, place: Place, kind: str) -> int:
    setting = stage.setting(*place)
    return setting.pan_percent if kind == "pan" else setting.level_tenths


def moved(row: RowName, change: int) -> dict[tuple[Place, str], int]:
    mix, source, kind = row
    return {((mix, source), kind): change}


def model_of(stage: Stage) -> Model:
    return Model({(place, kind): figure(stage, place, kind) for place in PLACES for kind in ("level", "pan")})


class EveningKeptTwice(RuleBasedStateMachine):
    """Three musicians and a desk; after every step both accounts are compared. What they do is added by rules."""

    def __init__(self) -> None:
        super().__init__()
        self.stage = small_stage()
        self.model = model_of(self.stage)

    @invariant()
    def figures_agree(self) -> None:
        for place in PLACES:
            for kind in ("level", "pan"):
                assert figure(self.stage, place, kind) == self.model.figure(place, kind)

    @invariant()
    def queues_agree(self) -> None:
        rows = {(*(row.key.mix, row.key.source), row.key.kind.value): row for row in self.stage.rows}
        assert set(rows) == self.model.rows()
        for name, row in rows.items():
            assert [request.id for request in row.requests] == self.model.waiting(name)
            assert row.asked == self.model.total(name)
        aside = {one.id for one in self.stage.show.open_requests.values() if one.is_set_aside}
        assert aside == {wish for wish, one in self.model.wishes.items() if one.where == "aside"}

    @invariant()
    def show_is_in_order(self) -> None:
        check(self.stage.show, self.stage.log)

    @invariant()
    def gains_agree(self) -> None:
        turned = sum(preamp.change for preamp in self.model.preamps.values() if preamp.is_turned)
        assert self.stage.show.gains.get("voice", 0) == turned

    def teardown(self) -> None:
        assert self.stage.at(self.stage.show.revision) == self.stage.show

    def answered(
        self, decision: str, requests: list[str], changes: dict[tuple[Place, str], int], outcome: str
    ) -> None:
        """Tell the model of an answer; what it leaves of what was to be put back waits on, and nothing else."""
        self.model.answer(decision, requests, changes, outcome)
        row, left = self.model.decisions[decision].row, self.model.left_by(decision)
        (place,) = (
            place
            for place, one in enumerate(self.stage.log)
            if isinstance(one.event, RequestsAnswered) and one.event.decision == decision
        )
        self.waits_since(place, [(row, amount, group) for group, amount in left.items()])

    def waits_since(self, place: int, expected: list[tuple[RowName, int, str]]) -> None:
        """Give the model what the desk was given to do from a place of the log on, which must be as expected.

        Args:
            place: The place.
            expected: The row, how far, and for what; the last is empty for what an undo holds back.
        """
        asked = self.put_back_since(place)
        assert [(_row(one), one.amount) for one in asked] == [(row, amount) for row, amount, _ in expected]
        for one, (row, amount, group) in zip(asked, expected, strict=True):
            for_what = one.group.removeprefix("u")
            assert group in ("", for_what)
            if one.group in self.model.preamps:
                self.model.wishes[one.request] = Wish(row, "desk", amount, preamp=one.group)
            else:
                self.model.put_back(one.request, row, amount, for_what)

    def undone(self, decision: str) -> None:
        """Undo: down as far as it was up, up as far as is advised, aside or not; the rest waits to be put back.

        So does what the decision had put back, exactly. What stays lowered for a turned preamp waits for nothing.
        """
        first_new, undone = len(self.stage.log), self.model.decisions[decision]
        before = {place: figure(self.stage, *place) for place in undone.changes}
        up_again = {(undone.row[:2], undone.row[2]): self.model.is_up_again(decision)}
        rests = {one: rest for one, (_, rest) in self.model.put_back_by_undo(decision).items() if rest}
        self.stage.undo(decision)
        held_back = {
            (place, kind): before[place, kind]
            - change
            - figure(self.stage, place, kind)
            - up_again.get((place, kind), 0)
            for (place, kind), change in undone.changes.items()
        }
        held_back = {place: amount for place, amount in held_back.items() if amount}
        for (place, kind), amount in held_back.items():
            whole = -undone.changes[place, kind]
            assert amount == whole if kind == "pan" else 0 < amount <= whole
        in_place = self.model.in_place(decision, held_back)
        to_do_again = self.model.to_do_again(decision, in_place)
        self.model.undo(decision, held_back, in_place)
        place_of_row = (undone.row[:2], undone.row[2])
        held_back[place_of_row] = held_back.get(place_of_row, 0) - sum(in_place.values())
        expected = [((*place, kind), amount, "") for (place, kind), amount in held_back.items() if amount]
        expected += [(undone.row, amount, group) for group, amount in (*to_do_again.items(), *rests.items())]
        self.waits_since(first_new, expected)

    def put_back_since(self, first_new: int) -> list[ChangeAsked]:
        """Return what the desk was given to put back by the events from a place of the log on."""
        new = [one.event for one in self.stage.log[first_new:]]
        return [one for one in new if isinstance(one, ChangeAsked)]

    def compensated(self, preamp: str, *, is_expected: bool) -> None:
        """Give the model what makes up for a change of gain: one wish for each mix, for both hear the voice."""
        asked = [one.event for one in self.stage.log if isinstance(one.event, ChangeAsked)]
        wishes = [(one.mix, one.request) for one in asked if one.group == preamp]
        assert [mix for mix, _ in wishes] == (["front", "ears"] if is_expected else [])
        for mix, wish in wishes:
            self.model.compensate(wish, (mix, "voice", "level"), preamp)

    def some_of_a_row(self, data: st.DataObject) -> tuple[RowName, list[str]]:
        row = data.draw(st.sampled_from(sorted(self.model.rows(), key=repr)))
        requests = st.lists(st.sampled_from(self.model.waiting(row)), min_size=1, unique=True)
        return row, data.draw(requests)


def _row(asked: ChangeAsked) -> RowName:
    return asked.mix, asked.source, asked.kind.value
