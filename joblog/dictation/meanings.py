"""What each meaning of the tables becomes: one builder a meaning, from matched words to entries.

A builder returns True when it made its entry and False when the words do not carry that meaning
after all (a clock of 47:90, a count without a verb); the chart then looks for another cover.
"""

from __future__ import annotations

from joblog.dictation.corrections import (
    add_adjust,
    add_again,
    add_drop,
    add_drop_that,
    add_drop_those,
    add_instead,
    add_instead_of_that,
    add_kept,
    add_less,
    add_like_this,
    add_maybe_instead,
    add_moved,
    add_new_crew,
    add_new_day,
    add_new_duration,
    add_new_price,
    add_not_this,
    add_shorter,
    add_this_not_that,
    add_time_instead,
    add_time_not_that,
)
from joblog.dictation.days import add_day
from joblog.dictation.draft import Builder, Draft
from joblog.dictation.errands import add_drive, add_errand, add_expense, add_price_now
from joblog.dictation.grammar import Stretch
from joblog.dictation.labor import (
    add_attendance,
    add_break,
    add_crew,
    add_labor,
    add_labor_done,
    add_moment,
    add_pay,
    add_share,
    add_span,
)
from joblog.dictation.lengths import (
    add_area,
    add_measure,
    add_pieces,
    add_pitch,
    add_range,
    add_second_side,
)
from joblog.dictation.places import add_nothing, add_place, add_position
from joblog.dictation.stock import (
    add_more,
    add_named_more,
    add_price,
    add_price_of,
    add_request,
    add_stock,
    add_subject,
)
from joblog.dictation.talk import add_tally, add_weather, add_words
from joblog.dictation.transfers import add_carried
from joblog.dictation.walks import (
    add_corner,
    add_corner_instead,
    add_drop_walked,
    add_interruption,
    add_top,
    add_wall_opening,
)


def build(draft: Draft, stretch: Stretch) -> bool:
    """Add what `stretch` means to the draft; False when it does not carry its meaning."""
    return _BUILDERS[stretch.meaning](draft, stretch.parts, stretch)


_BUILDERS: dict[str, Builder] = {
    "kept": add_kept,
    "shorter": add_shorter,
    "place": add_place,
    "numbered place": add_place,
    "subject": add_subject,
    "position": add_position,
    "about it": add_nothing,
    "crew": add_crew,
    "measure": add_measure,
    "second side": add_second_side,
    "area": add_area,
    "pitch": add_pitch,
    "range": add_range,
    "used": add_stock,
    "spoiled": add_stock,
    "delivered": add_stock,
    "returned": add_stock,
    "on_hand": add_stock,
    "needed": add_stock,
    "carried": add_carried,
    "request": add_request,
    "price": add_price,
    "price of": add_price_of,
    "more": add_more,
    "named more": add_named_more,
    "moment": add_moment,
    "start": add_attendance,
    "stop": add_attendance,
    "span": add_span,
    "break": add_break,
    "labor": add_labor,
    "labor done": add_labor_done,
    "pay": add_pay,
    "more labor": add_labor,
    "share": add_share,
    "weather": add_weather,
    "tally": add_tally,
    "covered": add_words,
    "problem": add_words,
    "note": add_words,
    "talk": add_words,
    "photo": add_words,
    "drop": add_drop,
    "drop that": add_drop_that,
    "drop those": add_drop_those,
    "time not that": add_time_not_that,
    "less": add_less,
    "new day": add_new_day,
    "new price": add_new_price,
    "instead": add_instead,
    "instead of that": add_instead_of_that,
    "like this not that": add_like_this,
    "maybe instead": add_maybe_instead,
    "not this": add_not_this,
    "this not that": add_this_not_that,
    "moved": add_moved,
    "new duration": add_new_duration,
    "pieces": add_pieces,
    "again": add_again,
    "new crew": add_new_crew,
    "adjust": add_adjust,
    "adjust instead": add_adjust,
    "clock": add_time_instead,
    "day": add_day,
    "todo": add_errand,
    "extra": add_errand,
    "inspection": add_errand,
    "visit": add_errand,
    "price now": add_price_now,
    "expense": add_expense,
    "drive": add_drive,
    "corner": add_corner,
    "corner instead": add_corner_instead,
    "drop walked": add_drop_walked,
    "top": add_top,
    "wall opening": add_wall_opening,
    "interruption": add_interruption,
}
