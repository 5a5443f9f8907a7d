"""From the scan to the answer: a phone asks, the desk shows it and answers, the phone shows what was done."""

from playwright.sync_api import expect

from tests.browser.conftest import OpenContext, OpenDesk, OpenPhone
from tests.support.demo import Demo
from tests.support.hands import figures

NOT_MEASURED = "feedback margin not measured: at most +3"


def test_link_asks_who_you_are_once_and_leaves_the_address(demo: Demo, open_context: OpenContext) -> None:
    page = open_context().new_page()
    page.goto(demo.links["Bass"])
    expect(page.get_by_role("heading")).to_have_text("You are: Bass")

    page.get_by_role("button", name="yes, open my mix").click()

    expect(page.get_by_role("heading", level=1)).to_contain_text("Your mix Bass, wedge")
    assert page.url == f"http://desk.test:{demo.port}/mix/bass"
    assert page.evaluate("isSecureContext") is False
    expect(page.locator("#line")).to_have_text("live")
    page.goto(demo.links["Bass"])
    expect(page.locator("#line")).to_have_text("live")
    assert page.url == f"http://desk.test:{demo.port}/mix/bass"


def test_ask_is_answered_without_any_reload(open_phone: OpenPhone, open_desk: OpenDesk) -> None:
    phone, desk = open_phone("Bass"), open_desk()

    phone.ask("more Kick")

    phone.sees("Kick", "+3, waiting")
    desk.row("bass", "kick").shows("+3", "-8 to -5", cautions=[NOT_MEASURED])
    expect(desk.row("bass", "kick").place.locator("time")).to_have_text("now")
    desk.press("Enter")
    phone.sees("Kick", "done +3")
    desk.row("bass", "kick").is_gone()
    expect(desk.last_answers.first).to_have_text("Kick in Bass: done +3")
    expect(desk.page.get_by_text("Nothing waits.")).to_be_visible()


def test_two_asks_are_one_row_with_their_sum(open_phone: OpenPhone, open_desk: OpenDesk) -> None:
    phone, desk = open_phone("Bass"), open_desk()

    phone.choose("a lot")
    phone.ask("more Snare")
    phone.sees("Snare", "+6, waiting")
    phone.choose("a touch")
    phone.ask("less Snare")

    phone.sees("Snare", "+5, waiting")
    desk.row("bass", "snare").shows("+5", "-14 to -11", cautions=[NOT_MEASURED])
    expect(desk.row("bass", "snare").place).to_contain_text(figures("asked 2 times by Bass: +6 -1"))


def test_take_back_empties_the_row(open_phone: OpenPhone, open_desk: OpenDesk) -> None:
    phone, desk = open_phone("Bass"), open_desk()
    phone.ask("less Guitar")
    desk.row("bass", "guitar").shows("-3", "-16 to -19")

    phone.ask("take back Guitar -3")

    phone.sees("Guitar")
    desk.row("bass", "guitar").is_gone()


def test_opposite_asks_of_one_musician_leave_the_queue(
    demo: Demo, open_phone: OpenPhone, open_desk: OpenDesk
) -> None:
    phone, desk = open_phone("Bass"), open_desk()
    phone.ask("more Guitar")
    desk.row("bass", "guitar").shows("+3", "-16 to -13", cautions=[NOT_MEASURED])

    phone.ask("less Guitar")

    phone.sees("Guitar")
    desk.row("bass", "guitar").is_gone()
    assert demo.rows() == []


def test_pan_is_asked_and_done(open_phone: OpenPhone, open_desk: OpenDesk) -> None:
    phone, desk = open_phone("Drums"), open_desk()

    phone.unfold("Guitar")
    phone.ask("Guitar further left")

    phone.sees("Guitar", "20 to the left, waiting")
    desk.row("drums", "guitar", "pan").shows("20 to the left", "right 40 to right 20")
    desk.press("Enter")
    phone.sees("Guitar", "done 20 to the left")


def test_source_is_taken_out_and_put_in_again(demo: Demo, open_phone: OpenPhone, open_desk: OpenDesk) -> None:
    phone, desk = open_phone("Accordion"), open_desk()

    phone.unfold("Bass")
    phone.ask("take out Bass")
    row = desk.row("accord", "bass", "in_out")
    row.shows("out", "-14 to off")
    row.is_current()
    desk.press("Enter")

    phone.sees("Bass", "done out", "off in your mix")
    assert demo.level("accord", "bass") is None
    phone.ask("put in Bass")
    row.shows("in", "off to -14")
    row.is_current()
    desk.press("Enter")
    phone.sees("Bass", "done in")
    expect(phone.button("more Bass")).to_be_visible()


def test_whole_mix_moves_the_output(open_phone: OpenPhone, open_desk: OpenDesk) -> None:
    phone, desk = open_phone("Accordion"), open_desk()

    phone.ask("whole mix softer")

    expect(phone.whole).to_contain_text(figures("Whole mix: -3, waiting"))
    desk.row("accord").shows("-3", "-10 to -13")
    desk.press("Enter")
    expect(phone.whole).to_have_text(figures("Whole mix: done -3"))


def test_sound_is_asked_in_a_word(open_phone: OpenPhone, open_desk: OpenDesk) -> None:
    phone, desk = open_phone("Accordion"), open_desk()

    phone.unfold("Snare")
    phone.ask("Snare sounds boomy")

    phone.sees("Snare", "boomy: waiting")
    row = desk.row("accord", "snare", "sound")
    expect(row.place).to_contain_text("asked once by Accordion: boomy")
    expect(row.place.locator("[data-key=Enter]")).to_have_text("enter done: some lows taken out")
    desk.press("Enter")
    phone.sees("Snare", "done: some lows taken out")


def test_chosen_amount_stays_chosen_over_a_reload(open_phone: OpenPhone) -> None:
    phone = open_phone("Bass")
    phone.choose("a touch")

    phone.page.reload()

    expect(phone.page.get_by_label("a touch")).to_be_checked()


def test_call_takes_two_taps_and_comes_first(demo: Demo, open_phone: OpenPhone, open_desk: OpenDesk) -> None:
    phone, desk = open_phone("Lead voice"), open_desk()
    demo.ask("bass", "lead", 3)
    desk.row("bass", "lead").is_current()

    phone.call("hurts")

    expect(phone.calls).to_contain_text("Desk called: hurts")
    expect(phone.calls).to_contain_text("Step away from the wedge.")
    expect(desk.rows.first).to_contain_text("Lead voice, centre, aux 1: HURTS")
    desk.row("lead", kind="call").is_current()
    desk.press("Enter")
    expect(phone.calls).to_have_text("Your call: done")
    desk.row("bass", "lead").is_current()


def test_call_of_an_in_ear_pair_says_take_both_out(open_phone: OpenPhone) -> None:
    phone = open_phone("Drums")

    phone.call("hurts")

    expect(phone.calls).to_contain_text("Turn the pack down or take BOTH out.")


def test_call_is_taken_back(open_phone: OpenPhone, open_desk: OpenDesk) -> None:
    phone, desk = open_phone("Drums"), open_desk()
    phone.call("talk")
    expect(desk.row("drums", kind="call").place).to_contain_text("Drums, back, aux 9 and 10: TALK")

    phone.ask("take back talk")

    desk.row("drums", kind="call").is_gone()
    expect(phone.calls).to_have_text("")
