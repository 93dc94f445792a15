/* changed_text: see changed_text.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/changed_text.h"

#include "answers/changed.h"
#include "base/mem.h"
#include "output/record_text.h"
#include "output/words.h"
#include "present/grid.h"

#include <math.h>
#include <stdlib.h>

static void add_share(Grid *grid, double value, double gain) {
    double percent = 100 * value / gain;
    if (gain > 0)
        grid_cell(grid, "%+.0f %%", fabs(percent) < .5 ? 0 : percent);
    else
        grid_cell(grid, "-");
}

static void table_row(Grid *grid, const BestTaper *v, const Change *k) {
    const Search *s = &v->search;
    double scale = best_taper_scale(v);
    double now =
        k->handed ? v->handed.readiness : score_option(&v->score, &k->plan);
    char number[FIGURE_TEXT], other[FIGURE_TEXT];
    Text plan = {0};
    grid_cell(grid, "%s", v->c->name);
    if (k->handed)
        text_add(&plan, "handed out");
    else
        option_write(&k->plan, &plan);
    grid_cell(grid, "%s", text_of(&plan));
    grid_cell(grid, "%s", words_level(number, v->c, now - k->change, scale));
    grid_cell(grid, "%s", words_level(number, v->c, now, scale));
    if (isfinite(k->low) && case_has_figures(v->c))
        grid_cell(grid, "%s to %s", words_figure(number, k->low, scale),
                  words_figure(other, k->high, scale));
    else
        grid_cell(grid, "-");
    add_share(grid, k->counted, k->gain);
    text_clear(&plan);
    option_write(&s->items[s->recommended].option, &plan);
    grid_cell(grid, "%s", text_of(&plan));
    add_share(grid, k->replanned, k->gain);
    text_free(&plan);
}

static void add_days(const Question *q, Text *text) {
    const char *between = q->change_count ? "; " : "";
    char day[DATE_TEXT];
    for (size_t i = 0; i < q->change_count; i++) {
        const DayChange *change = &q->changes[i];
        text_add(text, "%s%s ", i ? ", " : "",
                 date_write_short(day, change->date));
        if (change->load > 0)
            text_add(text, "a load of %g", change->load);
        else
            text_add(text, "no training");
    }
    for (int d = 0; d < 7; d++)
        if (q->weekdays & 1u << d) {
            text_add(text, "%s%s", between, date_weekday_name(d));
            between = " and ";
        }
    if (q->weekdays)
        text_add(text, " only, from now on");
}

/* What to do. */
static void print_advice(const BestTaper *v, const Change *k, size_t count,
                         FILE *to) {
    Text keep = {0}, team = {0}, change = {0}, silent = {0}, take = {0};
    Text text = {0};
    for (size_t i = 0; i < count; i++) {
        Text *list = !k[i].carry_on                       ? &change
                     : best_taper_silent(&v[i])           ? &silent
                     : best_taper_takes(&v[i])            ? &take
                     : v[i].follows && !v[i].handed.there ? &team
                                                          : &keep;
        text_add(list, "%s%s", list->length ? ", " : "", v[i].c->name);
    }
    if (keep.length)
        text_add(&text,
                 "%s: carry on with the plan as it was; a new one would bring "
                 "less than 15 %% of the taper's gain. ",
                 text_of(&keep));
    if (team.length)
        text_add(&text,
                 "%s: carry on with the plan as it was, which is the team's. ",
                 text_of(&team));
    if (take.length) {
        record_text_takes(text_of(&take), &text);
        text_add(&text, ". ");
    }
    if (silent.length)
        text_add(&text,
                 "%s: carry on with the plan as it was; what the change does, "
                 "these tests cannot tell. ",
                 text_of(&silent));
    if (change.length)
        text_add(&text, "%s: change to the plan for the days left. ",
                 text_of(&change));
    text_add(&text, "A missed load is missed: it is never added back.");
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&keep);
    text_free(&team);
    text_free(&silent);
    text_free(&take);
    text_free(&change);
    text_free(&text);
}

static void print_legend(const BestTaper *v, const Change *k, size_t count,
                         FILE *to) {
    const Question *q = v->c->context->question;
    const BestTaper *weighed = NULL;
    bool better = false, unknown = false;
    Text text = {0};
    for (size_t i = 0; i < count; i++) {
        better = better || k[i].change > 0;
        unknown = unknown || !case_has_figures(v[i].c);
        weighed = !weighed && v[i].handed.weighed ? &v[i] : weighed;
    }
    text_add(&text, "'change', 'new plan brings': share of the original plan's "
                    "gain");
    if (weighed) {
        text_add(&text, " at ");
        record_text_events(v->c->context, weighed->c->athlete, &text);
        text_add(&text, " together, weighed (readiness is at %s)",
                 weighed->c->event->name);
    }
    text_add(&text, "; 'carried on': the loads changed, the plan not. "
                    "Where the 90 %% range holds 0 it may help or harm.");
    if (unknown)
        text_add(&text, " Of readiness '-': no test of their own tells its "
                        "level.");
    if (q->weekdays && better)
        text_add(&text, " To the model fewer days of training are a taper "
                        "begun early; it knows nothing of skill, nor of the "
                        "weeks after the event, so what looks like a gain is "
                        "no reason for them.");
    if (count > 1)
        text_add(&text, " The change is made for all of them; --athlete ID "
                        "makes it for one.");
    print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

static void print_table(const BestTaper *v, const Change *k, size_t count,
                        FILE *to) {
    static const GridColumn columns[] = {{"athlete", false},
                                         {"plan as\nit was", false},
                                         {"readiness\nbefore", true},
                                         {"carried\non", true},
                                         {"90 %\nrange", true},
                                         {"change", true},
                                         {"plan for\ndays left", false},
                                         {"new plan\nbrings", true}};
    Grid grid;
    grid_start(&grid, columns, 8);
    for (size_t i = 0; i < count; i++)
        table_row(&grid, &v[i], &k[i]);
    grid_print(&grid, to, 18);
    grid_free(&grid);
}

/* Is there anybody whose tests can tell? */
static bool any_told(const BestTaper *v, size_t count) {
    for (size_t i = 0; i < count; i++)
        if (!best_taper_silent(&v[i]))
            return true;
    return false;
}

StatusCode changed_text_print(const BestTaper *v, size_t count, FILE *to,
                              Status *status) {
    const Question *q = v->c->context->question;
    Change *k;
    Text text = {0};
    StatusCode code = STATUS_OK;
    if (!changed_asked(q))
        return STATUS_OK;
    k = mem_new(count, sizeof *k);
    for (size_t i = 0; i < count && code == STATUS_OK; i++)
        code = changed_find(&v[i], &k[i], status);
    if (code == STATUS_OK) {
        text_add(&text, "What changes for %s: ", v->c->event->name);
        add_days(q, &text);
        text_add(&text, ".");
        print_wrapped(to, text_of(&text), 79, 2);
        fputc('\n', to);
        print_advice(v, k, count, to);
        fputc('\n', to);
        if (any_told(v, count)) {
            print_table(v, k, count, to);
            print_legend(v, k, count, to);
            fputc('\n', to);
        }
    }
    text_free(&text);
    free(k);
    return code;
}
