"""What was typed and not saved, named before the app ends."""

from __future__ import annotations

from collections.abc import Iterator

from tui.base import RoundsApp


def words(app: RoundsApp) -> str:
    """Return the rows that were typed in and not saved, as ``pH: 5 was``; "" for none."""
    rows = list(dict.fromkeys(_rows(app)))
    return f"{', '.join(rows)} {'was' if len(rows) == 1 else 'were'}" if rows else ""


def _rows(app: RoundsApp) -> Iterator[str]:
    from tui.widgets.form import Form

    for form in (form for screen in app.screen_stack for form in screen.query(Form)):
        drafts = form.drafts()
        yield from (f"{f.label.strip()}: {drafts[f.key]}" for f in form.fields if f.key in drafts)
    if any(app.drafts.values()):
        from tui.workup.stage import Stage

        # What a stage held when it was left stands in its own form once it is open again.
        stages = (stage for screen in app.screen_stack for stage in screen.query(Stage))
        open_now = {stage._where() for stage in stages}
        for where, held in app.drafts.items():
            if where not in open_now:
                yield from (f"{where[2]}: {text}" for text in held.values())
