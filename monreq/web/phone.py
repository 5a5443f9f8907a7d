"""The phone page of one mix: what its musicians see, ask, take back and call."""

from flask import Blueprint, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import generate_csrf

from monreq.domain import commands as c
from monreq.domain import hearing_commands as h
from monreq.domain import telling_commands as t
from monreq.domain.band_commands import AnswerKeep
from monreq.domain.notes import Reply
from monreq.domain.refusals import Refusal, UnknownMusician
from monreq.domain.requests import Amount, Call
from monreq.domain.show import Show
from monreq.services.band_shows import keep_what_all_agreed
from monreq.web import amounts
from monreq.web.access import (
    Principal,
    admit,
    admitted,
    as_musician,
    check_pace,
    check_still_hears,
    check_still_valid,
    with_present_musician,
)
from monreq.web.context import web
from monreq.web.forms import AdmitForm, AskForm
from monreq.web.heard_view import HEARD_BUTTONS
from monreq.web.no_longer_waiting import told_on_phone
from monreq.web.phone_view import call_choices, phone_places
from monreq.web.posting import accepted, refused
from monreq.web.show_marks import PageOutOfDate, mark_of
from monreq.web.submitting import from_form
from monreq.web.tablet import FORGETS_AFTER_S, is_at_tablet
from monreq.web.wording import SOUND_WORDS

blueprint = Blueprint("phone", __name__, url_prefix="/mix/<mix>")

_OWN_WORDS = "own"
_CALL = "call-"

REPLY_BUTTONS = {reply.value.replace("_", "-"): reply for reply in Reply}


@blueprint.get("")
def show_mix(mix: str) -> ResponseReturnValue:
    """Show the musicians' own mix."""
    principal, show = _whose(mix)
    is_taken_out = admitted(mix).musician not in (None, principal.musician)
    form = AskForm(client_id=web().new_id())
    return render_template(
        "phone/mix.html",
        show_mark=mark_of(show.id),
        mix=show.mix(mix),
        you=show.musician_name(principal.musician) if principal.musician else "",
        is_taken_out=is_taken_out,
        form=form,
        call_choices=call_choices(show.mix(mix)),
        amounts=amounts.choices(request.args.get("amount", "")),
        is_writing="write" in request.args,
        revision=show.changed_at.get(mix, show.revision),
        now_ms=web().shows.now_ms(),
        forgets_after_s=FORGETS_AFTER_S if is_at_tablet(show.id, mix) else None,
        places=web().renderer.everything(phone_places(show, mix)),
    )


@blueprint.get("/places")
def places(mix: str) -> ResponseReturnValue:
    """Give a page that missed something all its places again."""
    _, show = _whose(mix)
    fragments = web().renderer.everything(phone_places(show, mix))
    return jsonify(
        revision=show.changed_at.get(mix, show.revision),
        fragments=fragments,
        csrf_token=generate_csrf(),
        now_ms=web().shows.now_ms(),
    )


@blueprint.post("")
def ask(mix: str) -> ResponseReturnValue:
    """Take whatever a button of the phone asks for; a script is told in short, a plain form sees the page again."""
    principal, show = _whose(mix)
    form = AskForm()
    try:
        if not form.validate():
            raise PageOutOfDate
        if not (form.do.data or "").startswith(_CALL):  # who is hurt is heard, whoever they are
            check_still_hears(show, admitted(mix))
        check_pace(principal)
        said = {
            "do": form.do.data,
            "amount": form.amount.data,
            "musician": principal.musician,
            "words": form.words.data,
        }
        command = _command(principal, mix, form)
        submission = from_form(mix, form.client_id.data or "", said)
        web().shows.submit(principal.show_id, command, submission)
        if isinstance(command, AnswerKeep):
            keep_what_all_agreed(web().shows, web().bands, principal.show_id, mix)
    except Refusal as refusal:
        told = told_on_phone(web().shows.state(show.id), refusal, mix)
        return refused(told, _page(mix, form))
    return accepted(_page(mix, form))


@blueprint.get("/who")
def ask_who(mix: str) -> ResponseReturnValue:
    """Let another of those who share the mix say so."""
    _, show = _whose(mix)
    musicians = [show.musicians[one] for one in show.mix(mix).musicians]
    form = AdmitForm()
    return render_template("entry/who.html", form=form, show=show, mix=show.mix(mix), musicians=musicians)


@blueprint.post("/who")
def say_who(mix: str) -> ResponseReturnValue:
    """Take note of who holds this phone."""
    principal, show = _whose(mix)
    form = AdmitForm()
    who = form.musician.data or principal.musician
    if not form.validate() or who not in show.mix(mix).musicians:
        raise UnknownMusician
    admit(as_musician(principal, who))
    return redirect(url_for("phone.show_mix", mix=mix), 303)


def _whose(mix: str) -> tuple[Principal, Show]:
    principal = admitted(mix)
    show = web().shows.state(principal.show_id)
    check_still_valid(show, principal)
    return with_present_musician(show, principal), show


def _command(principal: Principal, mix: str, form: AskForm) -> c.Command:
    """Turn a button into a command: `more:kick`, `less-lot:kick`, `out:kick`, `sound-muddy:kick`, `call-hurts:`."""
    verb, _, target = (form.do.data or "").partition(":")
    who, client_id = principal.musician, form.client_id.data or ""
    source = target or None
    match verb.split("-", 1):
        case ["more" | "less" as way, *after] if set(after) <= set(Amount):
            amount = Amount(after[0] if after else form.amount.data or Amount.SOME)
            change = c.NamedAmount(amount, way == "more")
            return c.AskForLevel(mix, who, source, change, client_id=client_id)
        case ["left" | "right"]:
            step = web().shows.state(principal.show_id).settings.pan_step_percent
            return c.AskForPan(mix, who, source, step if verb == "right" else -step, client_id=client_id)
        case ["in" | "out"]:
            return c.AskForInOrOut(mix, who, source, verb == "in", client_id=client_id)
        case ["sound", word] if word in (*SOUND_WORDS, _OWN_WORDS):
            words = (form.words.data or "") if word == _OWN_WORDS else word
            return c.AskAboutSound(mix, who, source, words, client_id=client_id)
        case ["call", call] if call in list(Call):
            return c.CallDesk(mix, who, Call(call), client_id=client_id)
    return _about_earlier(verb, target, mix, who, client_id)


def _about_earlier(verb: str, target: str, mix: str, who: str | None, client_id: str) -> c.Command:
    """Turn a button about what is there already into a command: `withdraw:r9`, `sounds-right:d8`, `note-ok:n7`, `heard-yes:l8`."""
    if verb in HEARD_BUTTONS:
        return h.SayHeard(mix, who, target, HEARD_BUTTONS[verb], client_id=client_id)
    match verb.split("-", 1):
        case ["withdraw"]:
            return c.Withdraw(target, mix, by=who)
        case ["note", said] if said in REPLY_BUTTONS:
            return t.AnswerNote(target, mix, who, REPLY_BUTTONS[said])
        case ["keep", "yes" | "no" as said]:
            return AnswerKeep(mix, target, who, said == "yes")
        case ["heard", "yes" | "no" as said]:
            return t.AnswerLineCheck(target, mix, who, said == "yes")
    raise PageOutOfDate


def _page(mix: str, form: AskForm) -> str:
    return url_for("phone.show_mix", mix=mix, amount=form.amount.data)
