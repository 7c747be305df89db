"""Running work: begun, watched, stopped. How far it is, is what the run itself notes in the shop's record."""

from starlette.responses import JSONResponse, Response

from hundredfold.web.asking import Ask, action, screen
from hundredfold.web.progress import WorkSeen, look_at_work
from hundredfold.web.said import Said
from hundredfold.workshop.work.background import Work


def seen(ask: Ask) -> WorkSeen:
    """The work as it stands."""
    return look_at_work(ask.shop, ask.keeping.work, ask.keeping.pace)


def now(ask: Ask) -> Response:
    """The same for the page's script."""
    return JSONResponse(seen(ask).as_json(), headers={"cache-control": "no-store"})


def begin(ask: Ask) -> Said:
    """Begin what the form names: the month, or the proofs."""
    work = Work.PROOF if ask.form.text("work") == Work.PROOF.value else Work.MONTH
    ask.keeping.work.start(work)
    return Said("", ask.form.text("goto", "/"))


def stop(ask: Ask) -> Said:
    """Ask the run to end."""
    ask.keeping.work.stop()
    return Said("Stopping: what is under way is finished and kept.", ask.form.text("goto", "/"))


ROUTES = (screen("/work.json", now), action("/work/start", begin), action("/work/stop", stop))
