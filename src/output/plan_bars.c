/* plan_bars: see plan_bars.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/plan_bars.h"

#include <math.h>

enum {
    WIDE = 320,
    HIGH = 130,
    FOOT = 110, /* where bars stand */
    TALLEST = 84,
    DAYS_MOST = 28, /* before the event and its days */
    LEAST_STEP = 10 /* a day, for the date of each Monday to have room */
};

/* Loads of a day. */
typedef struct {
    double now, usual;
    bool event;
} Day;

static Day day_of(const Plan *p, Date date) {
    Day day = {0};
    for (size_t i = 0; i < p->sheet.count; i++) {
        const PlanRow *row = &p->sheet.rows[i];
        if (row->date != date || row->exercise)
            continue;
        day.now += row->load;
        day.usual += row->usual_load;
        day.event = day.event || row->event;
    }
    return day;
}

static void bar(Text *svg, double x, double width, double share,
                const char *look) {
    double tall = TALLEST * share;
    text_add(svg,
             "<rect x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\" %s/>",
             x, FOOT - tall, width, tall, look);
}

/* Mondays, and the event's first day. */
static void label(Text *svg, double x, Date date, bool event) {
    char day[DATE_TEXT];
    date_write_short(day, date);
    text_add(svg, "<text x=\"%.1f\" y=\"%d\"%s>%s</text>", x,
             event ? FOOT - TALLEST - 14 : FOOT + 14,
             event ? " text-anchor=\"end\"" : "", event ? "event" : day);
}

static double tallest(const Plan *p, Date from, Date to) {
    double most = 0;
    for (Date date = from; date < to; date++) {
        Day day = day_of(p, date);
        if (!day.event)
            most = fmax(most, fmax(day.now, day.usual));
    }
    return most > 0 ? most : 1;
}

void plan_bars(const Plan *p, Text *svg) {
    const Event *event = p->taper.c->event;
    const Outlook *o = &p->taper.c->outlook;
    Date first = o->first + (Date)o->log_days, to = event->start + event->days;
    Date from =
        event->start - first > DAYS_MOST ? event->start - DAYS_MOST : first;
    double step = (double)WIDE / (double)(to - from), most;
    most = tallest(p, from, event->start);
    text_add(svg,
             "<svg viewBox=\"0 0 %d %d\"><g font-family=\"sans-serif\" "
             "font-size=\"12\" fill=\"#1c1c1c\">",
             WIDE, HIGH);
    for (Date date = from; date < to; date++) {
        Day day = day_of(p, date);
        double x = step * (double)(date - from) + .1 * step;
        if (day.event) {
            bar(svg, x, .8 * step, 1.05, "fill=\"#1c1c1c\"");
        } else {
            bar(svg, x, .8 * step, day.usual / most,
                "fill=\"none\" stroke=\"#6b6b6b\"");
            bar(svg, x, .8 * step, day.now / most, "fill=\"#2f5d8a\"");
        }
        if (date_weekday(date) == 0 && to - date > 5 &&
            (step > LEAST_STEP || (date - from) / 7 % 2 == 0))
            label(svg, x, date, false);
        if (date == event->start)
            label(svg, x + .8 * step, date, true);
    }
    text_add(svg, "</g></svg>");
}
