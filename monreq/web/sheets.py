"""Sheets to print: the input list, the stage plan, and the mixes."""

from flask import Blueprint, Response, render_template, request
from flask.typing import ResponseReturnValue

from monreq.web.context import web
from monreq.web.desk import desk_show
from monreq.web.sheet_view import mix_sheet, show_sheets
from monreq.web.stage_drawing import stage_drawing

blueprint = Blueprint("sheets", __name__, url_prefix="/desk/sheets")


@blueprint.get("")
def show_all_sheets() -> ResponseReturnValue:
    """Show every sheet of the show, or that of one mix alone, ready to be printed."""
    show = desk_show()
    mix = request.args.get("mix")
    if mix is not None:
        return render_template("print/sheets.html", show=show, sheets=[mix_sheet(show, mix)], drawing=None)
    return render_template(
        "print/sheets.html", show=show, sheets=show_sheets(show), drawing=stage_drawing(show)
    )


@blueprint.get("/sheets.pdf")
def send_sheets() -> ResponseReturnValue:
    """Send every sheet of the show as a PDF."""
    return Response(web().printed.sheets_pdf(desk_show()), mimetype="application/pdf")
