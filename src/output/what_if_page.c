/* what_if_page: see what_if_page.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/what_if_page.h"

#include "answers/what_if.h"
#include "base/mem.h"

#include <math.h>
#include <stdlib.h>

void what_if_page_words(bool silent, Document *doc) {
    document_words(doc, WORDS_PLAIN,
                   "For the coach: what another taper would bring, by the same "
                   "models as this page. Move length and cut; the sentence "
                   "and the bar follow. The table has some of the steps (the "
                   "same cut on all days): expected gain, and in brackets in "
                   "how many of 100 likely models it helps. A sharp drop in "
                   "training is no small change: stay within the limits, and "
                   "leave pain, illness and injury to a physician.");
    if (silent)
        document_words(
            doc, WORDS_PLAIN,
            "Where these tests cannot tell what a taper brings, this "
            "is what the models say, and no forecast: the plan above "
            "does not follow it.");
}

/* ---- values for the sliders ---- */

/* With a decimal; what is not known is null. */
static void put_number(double value, Text *json) {
    if (isfinite(value))
        text_add(json, "%.1f", fabs(value) < .05 ? 0 : value);
    else
        text_add(json, "null");
}

static void put_cell(const WhatIfCell *c, Text *json) {
    if (!c->there) {
        text_add(json, "0");
        return;
    }
    text_add(json, "[");
    put_number(c->gain, json);
    text_add(json, ",");
    put_number(c->low, json);
    text_add(json, ",");
    put_number(c->high, json);
    if (isfinite(c->helps))
        text_add(json, ",%.0f", 100 * c->helps);
    else
        text_add(json, ",null");
    text_add(json, c->outside ? ",1]" : "]");
}

static void put_shape(const WhatIf *t, size_t shape, Text *json) {
    static const char *const names[WHAT_IF_SHAPES] = {
        "step: the same cut on all days",
        "straight fall: from no cut to this one",
        "exponential fall: from no cut to this one"};
    text_add(json,
             "%s{\"name\":\"%s\",\"more\":\"A fall by an equal share a day "
             "never comes to nothing: choose a smaller cut.\",\"days\":[",
             shape ? "," : "", names[shape]);
    for (size_t day = 0; day < t->days; day++) {
        text_add(json, day ? ",[" : "[");
        for (size_t cut = 0; cut < WHAT_IF_CUTS; cut++) {
            text_add(json, cut ? "," : "");
            put_cell(&t->cell[shape][day][cut], json);
        }
        text_add(json, "]");
    }
    text_add(json, "]}");
}

static void put_values(const Plan *p, const WhatIf *t, Text *json) {
    size_t days, cut, shape;
    double mark =
        what_if_unit(t, p->ideal - p->taper.search.items[0].readiness);
    what_if_place(t, &p->option, &days, &cut, &shape);
    text_add(json,
             "{\"first\":%d,\"step\":%d,\"start\":[%zu,%zu,%zu],\"mark\":",
             WHAT_IF_LEAST, WHAT_IF_STEP, days, cut, shape);
    put_number(mark, json);
    text_add(json, ",\"given\":\"%s (",
             p->handed ? "A new plan's taper" : "This page's taper");
    if (p->option.count)
        option_words(&p->option, json);
    else
        text_add(json, "no taper");
    text_add(json, ")\",\"unit\":\"%s\",\"shapes\":[",
             t->percent ? "readiness without a taper"
                        : "the largest gain possible");
    for (size_t i = 0; i < WHAT_IF_SHAPES; i++)
        put_shape(t, i, json);
    text_add(json, "]}");
}

/* ---- the table ---- */

static void table_cell(const WhatIfCell *c, Grid *grid) {
    Text text = {0};
    text_add(&text, "%+.1f %%", fabs(c->gain) < .05 ? 0 : c->gain);
    if (isfinite(c->helps))
        text_add(&text, " (%.0f)", 100 * c->helps);
    if (c->outside)
        text_add(&text, " *");
    grid_cell(grid, "%s", text_of(&text));
    text_free(&text);
}

static void add_table(const WhatIf *t, Document *doc) {
    static const GridColumn columns[] = {{"length", false},
                                         {"25 % cut", true},
                                         {"50 % cut", true},
                                         {"75 % cut", true},
                                         {"full rest", true}};
    static const size_t lengths[] = {3, 5, 7, 10, 14, 21, 28};
    Grid grid;
    grid_start(&grid, columns, 5);
    for (size_t i = 0; i < 7 && lengths[i] <= t->days; i++) {
        const WhatIfCell *row = t->cell[0][lengths[i] - 1];
        grid_cell(&grid, "%zu days", lengths[i]);
        for (size_t cut = 0; cut < WHAT_IF_CUTS; cut += WHAT_IF_CUTS / 3)
            table_cell(&row[cut], &grid);
    }
    document_table(
        doc, &grid,
        t->percent
            ? "Expected gain in % of readiness without a taper "
              "(helps in so many of 100 likely models); *: outside the limits"
            : "Expected gain in % of the largest gain possible "
              "(helps in so many of 100 likely models); *: outside the limits");
}

void what_if_page(const Plan *p, const char *name, Document *doc) {
    WhatIf *t = mem_new(1, sizeof *t);
    Text json = {0};
    document_words(doc, WORDS_HEADING, "%s", name);
    what_if_build(&p->taper, t);
    if (t->days == 0 || isnan(what_if_unit(t, 0))) {
        document_words(doc, WORDS_PLAIN, "No taper helps, of any length.");
    } else {
        put_values(p, t, &json);
        document_try(doc, name, text_of(&json));
        add_table(t, doc);
    }
    text_free(&json);
    free(t);
}
