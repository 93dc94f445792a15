/* event_sheet: see event_sheet.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/event_sheet.h"

#include "present/grid.h"

#include <math.h>

const char event_sheet_taken[] =
    "Assumed: events.csv gives only the first start_time, so each later "
    "session is taken 6 h after the one before; \"09:00 15:30\" names each.";

/* Amounts of some size are told to 50 or 5, grams of food to 5, masses to a
 * tenth. */
static void add_value(double value, const char *unit, Text *text) {
    if (value >= 1000)
        text_add(text, "%.0f", 50 * floor(value / 50 + .5));
    else if (value >= 200 || (value >= 20 && *unit == 'g'))
        text_add(text, "%.0f", 5 * floor(value / 5 + .5));
    else if (value >= 100)
        text_add(text, "%.0f", value);
    else
        text_add(text, "%.3g", value);
}

static void add_range(double low, double high, const char *unit, Text *text) {
    add_value(low, unit, text);
    if (high > low) {
        text_add(text, "-");
        add_value(high, unit, text);
    }
    text_add(text, " %s", unit);
}

static void add_amount(const EventWeek *s, const EventAmount *a, Text *text) {
    if (s->minor) {
        text_add(text, "%s", eventweek_minor);
        return;
    }
    add_range(a->low, a->high, a->unit, text);
    if (!isfinite(a->factor))
        return;
    text_add(text, " (");
    add_range(a->low * a->factor, a->high * a->factor, a->other, text);
    text_add(text, ")");
}

void event_sheet_amount(const EventWeek *s, const EventAmount *a,
                        const char *caution, Text *text) {
    text_add(text, "%s, %s: ", a->what, a->when);
    add_amount(s, a, text);
    if (!s->minor)
        text_add(text, ". %s", a->source);
    if (a->caution)
        text_add(text, ". %s: %s", caution, a->caution);
    text_add(text, ".");
}

void event_sheet_time(const EventWeek *s, const EventStep *step, Text *text) {
    char day[DATE_TEXT];
    int minute = step->minute;
    Date date = s->c->event->start + step->day;
    while (minute < 0) {
        minute += 1440;
        date--;
    }
    date += minute / 1440;
    minute %= 1440;
    text_add(text, "%-11s", date_write_short(day, date));
    if (step->clock)
        text_add(text, "%02d:%02d", minute / 60, minute % 60);
}

static void print_amounts(const EventWeek *s, FILE *to) {
    for (size_t i = 0; i < s->amount_count; i++) {
        Text text = {0};
        text_add(&text, "- ");
        event_sheet_amount(s, &s->amounts[i], "CAUTION", &text);
        print_wrapped(to, text_of(&text), 79, 2);
        text_free(&text);
    }
}

static void print_steps(const EventWeek *s, FILE *to) {
    for (size_t i = 0; i < s->step_count; i++) {
        Text text = {0};
        event_sheet_time(s, &s->steps[i], &text);
        while (text.length < 18)
            text_add(&text, " ");
        text_add(&text, "%s", s->steps[i].what);
        print_wrapped(to, text_of(&text), 79, 18);
        text_free(&text);
    }
}

static void print_head(const EventWeek *s, FILE *to) {
    const Case *c = s->c;
    Text text = {0};
    text_add(&text, "%s: event week for %s", c->name, c->event->name);
    if (s->minor)
        text_add(&text, ". Under 18, so there are no amounts here: %s",
                 eventweek_minor);
    else if (season_mass_doubtful(&c->context->season->athletes[c->athlete]))
        text_add(&text,
                 "; the mass in athletes.csv (%.3g kg) looks like another "
                 "unit, so amounts are per kilogram of body mass",
                 c->context->season->athletes[c->athlete].mass);
    else if (isfinite(s->mass))
        text_add(&text, ", for a body mass of %.3g kg (%.0f lb)", s->mass,
                 s->mass / .45359237);
    else
        text_add(&text, "; athletes.csv has no mass_kg or mass_lb, so amounts "
                        "are per kilogram of body mass");
    text_add(&text, ".");
    print_wrapped(to, text_of(&text), 79, 2);
    text_free(&text);
}

void event_sheet_print(const EventWeek *s, FILE *to) {
    print_head(s, to);
    fputc('\n', to);
    print_wrapped(to, eventweek_cautions[0], 79, 0);
    fputc('\n', to);
    print_amounts(s, to);
    fputc('\n', to);
    fputs("Hours and habits (common practice, no source)\n\n", to);
    if (s->c->event->minute < 0)
        print_wrapped(to,
                      "events.csv gives no start_time: the day's order without "
                      "the hours. Warm-ups begin 45 min before a start.",
                      79, 0);
    if (event_minutes_taken(s->c->event))
        print_wrapped(to, event_sheet_taken, 79, 0);
    print_steps(s, to);
    fputc('\n', to);
    for (int i = 1; eventweek_cautions[i]; i++)
        print_wrapped(to, eventweek_cautions[i], 79, 0);
}
