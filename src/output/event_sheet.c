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
    Date date = s->event->start + step->day;
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

static void add_amounts(const EventWeek *s, Document *doc) {
    for (size_t i = 0; i < s->amount_count; i++) {
        Text text = {0};
        event_sheet_amount(s, &s->amounts[i], "Caution", &text);
        document_words(doc, WORDS_ITEM, "%s", text_of(&text));
        text_free(&text);
    }
}

static void add_steps(const EventWeek *s, Document *doc) {
    static const GridColumn columns[] = {{"", false}, {"", false}};
    Grid grid;
    grid_start(&grid, columns, 2);
    for (size_t i = 0; i < s->step_count; i++) {
        Text text = {0};
        event_sheet_time(s, &s->steps[i], &text);
        while (text.length > 0 && text.data[text.length - 1] == ' ')
            text.data[--text.length] = '\0';
        grid_cell(&grid, "%s", text_of(&text));
        grid_cell(&grid, "%s", s->steps[i].what);
        text_free(&text);
    }
    document_table(doc, &grid, "");
}

/* Whose amounts these are, and for which body mass. */
static void add_mass(const EventWeek *s, Document *doc) {
    const Case *c = s->c;
    const Athlete *a = &c->context->season->athletes[c->athlete];
    if (s->minor)
        document_words(doc, WORDS_PLAIN,
                       "Under 18, so there are no amounts here: %s.",
                       eventweek_minor);
    else if (season_mass_doubtful(a))
        document_words(doc, WORDS_PLAIN,
                       "The mass in athletes.csv (%.3g kg) looks like another "
                       "unit, so amounts are per kilogram of body mass.",
                       a->mass);
    else if (isfinite(s->mass))
        document_words(doc, WORDS_PLAIN,
                       "For a body mass of %.3g kg (%.0f lb).", s->mass,
                       s->mass / .45359237);
    else
        document_words(doc, WORDS_PLAIN,
                       "athletes.csv has no mass_kg or mass_lb, so amounts are "
                       "per kilogram of body mass.");
}

static void add_sheet(const EventWeek *s, Document *doc) {
    Text cautions = {0};
    document_words(doc, WORDS_HEADING, "%s: event week for %s", s->c->name,
                   s->event->name);
    add_mass(s, doc);
    document_words(doc, WORDS_CAUTION, "%s", eventweek_cautions[0]);
    add_amounts(s, doc);
    document_words(doc, WORDS_HEADING,
                   "Hours and habits (common practice, no source)");
    if (s->event->minute < 0)
        document_words(doc, WORDS_PLAIN,
                       "events.csv gives no start_time: the day's order "
                       "without the hours. Warm-ups begin 45 min before a "
                       "start.");
    if (event_minutes_taken(s->event))
        document_words(doc, WORDS_PLAIN, "%s", event_sheet_taken);
    add_steps(s, doc);
    for (int i = 1; eventweek_cautions[i]; i++)
        text_add(&cautions, "%s ", eventweek_cautions[i]);
    document_words(doc, WORDS_CAUTION, "%s", text_of(&cautions));
    text_free(&cautions);
}

void event_sheet(const Plan *p, Document *doc) {
    if (case_off(p->taper.c)) {
        document_words(doc, WORDS_CAUTION,
                       "%s is off when %s begins (absences.csv): no order of "
                       "the day, food or fluid for them; when and how they "
                       "return is a physician's decision.",
                       p->taper.c->name, p->taper.c->event->name);
        return;
    }
    for (size_t k = 0; k < plan_events(p); k++) {
        EventWeek sheet;
        event_week_build(p->taper.c, plan_event(p, k), &sheet);
        add_sheet(&sheet, doc);
    }
}
