/* compare: named options side by side.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/commands.h"

#include "base/mem.h"
#include "commands/curves.h"
#include "commands/verdict.h"
#include "present/grid.h"
#include "present/progress.h"
#include "present/squad_pictures.h"

#include <math.h>
#include <stdlib.h>

/* Compared when no --option is given. */
static const char *const usual_options[] = {"none", "7x50,7x75", "3x100",
                                            "14x50", "best"};
enum { USUAL_OPTIONS = 5 };

typedef struct {
    const char *name;
    Option option;
    bool outside; /* of the limits */
    double readiness, gain, kept;
    Spread spread;
} Row;

typedef struct {
    Verdict verdict;
    Row *rows;
    size_t count;
    size_t kept_days; /* [d] over which `kept` is counted */
} Comparison;

static void name_rows(const Verdict *v, Comparison *k) {
    const Question *q = v->c->desk->question;
    k->count = q->option_count ? q->option_count : USUAL_OPTIONS;
    k->rows = mem_new(k->count, sizeof *k->rows);
    for (size_t i = 0; i < k->count; i++) {
        Row *row = &k->rows[i];
        const char *spec =
            q->option_count ? q->options[i].spec : usual_options[i];
        row->name = q->option_count ? q->options[i].name : usual_options[i];
        row->option = verdict_option(&v->search, spec);
    }
}

static StatusCode compare(const Case *c, Comparison *k, Status *status) {
    StatusCode code = verdict_build(c, &k->verdict, status);
    Verdict *v = &k->verdict;
    if (code != STATUS_OK)
        return code;
    name_rows(v, k);
    k->kept_days = v->longest;
    for (size_t i = 0; i < k->count; i++)
        if ((size_t)option_days(&k->rows[i].option) > k->kept_days)
            k->kept_days = (size_t)option_days(&k->rows[i].option);
    for (size_t i = 0; i < k->count; i++) {
        Row *row = &k->rows[i];
        row->readiness = score_option(&v->score, &row->option);
        row->gain = row->readiness - v->search.items[0].readiness;
        row->kept = search_kept(&c->outlook, &row->option, k->kept_days);
        row->spread = verdict_spread(v, &row->option);
        row->outside = !search_allows(&c->outlook, &c->desk->question->limits,
                                      &row->option);
    }
    return STATUS_OK;
}

static void comparison_free(Comparison *k) {
    verdict_free(&k->verdict);
    free(k->rows);
}

static void print_csv_header(const Output *o) {
    output_header(o, "athlete,event,option,readiness,low,high,gain,"
                     "share,kept,beats_none,spec,gain_low,gain_high");
}

static void print_csv(const Comparison *k, FILE *to) {
    const Verdict *v = &k->verdict;
    for (size_t i = 0; i < k->count; i++) {
        const Row *row = &k->rows[i];
        Text spec = {0};
        Csv csv;
        option_write(&row->option, &spec);
        csv_begin(&csv, to);
        csv_text(&csv, v->c->name);
        csv_text(&csv, v->c->event->name);
        csv_text(&csv, row->name);
        csv_number(&csv, case_shown(v->c, row->readiness));
        csv_number(&csv, row->spread.readiness_low);
        csv_number(&csv, row->spread.readiness_high);
        csv_number(&csv, row->gain);
        csv_number(&csv, search_share(row->gain, v->possible));
        csv_number(&csv, row->kept);
        csv_number(&csv, row->option.count ? row->spread.beats_none : NAN);
        csv_text(&csv, text_of(&spec));
        csv_number(&csv, row->spread.gain_low);
        csv_number(&csv, row->spread.gain_high);
        csv_end(&csv);
        text_free(&spec);
    }
}

static void name_cell(Grid *grid, const Row *row) {
    Text spec = {0};
    option_write(&row->option, &spec);
    if (text_same(row->name, text_of(&spec)))
        grid_cell(grid, "%s%s", row->name, row->outside ? " *" : "");
    else
        grid_cell(grid, "%s: %s%s", row->name, text_of(&spec),
                  row->outside ? " *" : "");
    text_free(&spec);
}

static void print_table(const Comparison *k, FILE *to) {
    static const GridColumn columns[] = {{"option", false},
                                         {"readiness", true},
                                         {"gain", true},
                                         {"gain,\n5-95 %", true},
                                         {"of the\npossible", true},
                                         {"training\nkept", true},
                                         {"beats no\ntaper", true}};
    const Verdict *v = &k->verdict;
    char number[FIGURE_TEXT], high[FIGURE_TEXT];
    double scale = verdict_scale(v);
    Grid grid;
    grid_start(&grid, columns, 7);
    for (size_t i = 0; i < k->count; i++) {
        const Row *row = &k->rows[i];
        bool taper = row->option.count > 0;
        name_cell(&grid, row);
        grid_cell(&grid, "%s",
                  figure(number, case_shown(v->c, row->readiness), scale));
        grid_cell(&grid, "%s%s", row->gain >= 0 ? "+" : "",
                  figure(number, row->gain, scale));
        if (taper && isfinite(row->spread.gain_low))
            grid_cell(&grid, "%s to %s",
                      figure(number, row->spread.gain_low, scale),
                      figure(high, row->spread.gain_high, scale));
        else
            grid_cell(&grid, "-");
        grid_cell(&grid, "%s",
                  percent_cell(number, search_share(row->gain, v->possible)));
        grid_cell(&grid, "%s", percent_cell(number, row->kept));
        grid_cell(&grid, "%s",
                  percent_cell(number, taper ? row->spread.beats_none : NAN));
    }
    grid_print(&grid, to, 30);
    grid_free(&grid);
}

static void print_words(const Comparison *k, FILE *to) {
    for (size_t i = 0; i < k->count; i++) {
        Text text = {0};
        if (k->rows[i].option.count == 0)
            continue;
        text_add(&text, "%s: ", k->rows[i].name);
        option_words(&k->rows[i].option, &text);
        if ((size_t)option_days(&k->rows[i].option) >
            k->verdict.c->outlook.window)
            text_add(&text,
                     " (only the last %zu days can be cut: before them lies "
                     "what is done, or another event)",
                     k->verdict.c->outlook.window);
        print_wrapped(to, text_of(&text), 79, 2);
        text_free(&text);
    }
}

static bool any_outside(const Comparison *k) {
    for (size_t i = 0; i < k->count; i++)
        if (k->rows[i].outside)
            return true;
    return false;
}

/* What the star means, and what `taper` would say. */
static void print_remarks(const Comparison *k, FILE *to) {
    const Search *s = &k->verdict.search;
    Text text = {0};
    if (any_outside(k))
        text_add(&text, "*: outside the limits searched, so it may pass "
                        "100 %%");
    for (size_t i = 0, shown = 0; i < k->count; i++)
        if (k->rows[i].outside) {
            text_add(&text, "%s%s: ", shown++ ? "; " : " (", k->rows[i].name);
            search_outside(&k->verdict.c->outlook,
                           &k->verdict.c->desk->question->limits,
                           &k->rows[i].option, &text);
        }
    if (any_outside(k))
        text_add(&text, "). ");
    if (s->best > 0) {
        text_add(&text, "`peakward taper` recommends ");
        option_write(&s->items[s->recommended].option, &text);
        text_add(&text, ", which keeps the most training among those within "
                        "5 %% of the best gain.");
    }
    if (text.length)
        print_wrapped(to, text_of(&text), 79, 0);
    text_free(&text);
}

/* Is there anything to compare over draws, and room for it? */
static bool has_pairs(const Comparison *k) {
    return k->verdict.draws.count > 0 && k->count > 1 && k->count <= 8;
}

/* Gains of every option under every draw, option by option; to be freed. */
static double *all_gains(const Comparison *k) {
    size_t draws = k->verdict.draws.count;
    double *gain = mem_new(k->count * draws, sizeof *gain);
    for (size_t i = 0; i < k->count; i++)
        draw_scores_gains(&k->verdict.draws, &k->rows[i].option,
                          gain + i * draws);
    return gain;
}

/* Share of the likely models in which the row gains more than the column. */
static void print_pairs(const Comparison *k, FILE *to) {
    GridColumn columns[9] = {{"beats ...", false}};
    size_t draws = k->verdict.draws.count;
    char number[FIGURE_TEXT];
    double *gain;
    Grid grid;
    if (!has_pairs(k))
        return;
    gain = all_gains(k);
    for (size_t i = 0; i < k->count; i++)
        columns[i + 1] = (GridColumn){k->rows[i].name, true};
    grid_start(&grid, columns, (int)k->count + 1);
    for (size_t i = 0; i < k->count; i++) {
        grid_cell(&grid, "%s", k->rows[i].name);
        for (size_t j = 0; j < k->count; j++)
            grid_cell(
                &grid, "%s",
                percent_cell(number, i == j ? NAN
                                            : draw_scores_beat(gain + i * draws,
                                                               gain + j * draws,
                                                               draws)));
    }
    fputc('\n', to);
    grid_print(&grid, to, 20);
    grid_free(&grid);
    free(gain);
}

static void print_one(const Comparison *k, FILE *to) {
    Text text = {0};
    text_add(&text, "%s: ", k->verdict.c->name);
    event_words(k->verdict.c, &text);
    print_wrapped(to, text_of(&text), 79, 2);
    text_free(&text);
    print_table(k, to);
    print_pairs(k, to);
    fputc('\n', to);
}

static void print_text(const Desk *d, const Comparison *k, size_t count,
                       FILE *to) {
    for (size_t i = 0; i < count; i++)
        print_one(&k[i], to);
    print_words(&k[0], to);
    print_remarks(&k[0], to);
    {
        Text text = {0};
        text_add(&text,
                 "'of the possible': share of the most that any daily loads "
                 "within the limits could gain. 'training kept': of the load "
                 "planned for the last %zu days. 'beats': share of the likely "
                 "models in which the row gains more.%s",
                 k[0].kept_days < k[0].verdict.c->outlook.window
                     ? k[0].kept_days
                     : k[0].verdict.c->outlook.window,
                 case_model(k[0].verdict.c)->scaled
                     ? ""
                     : " Readiness is in the model's own scale: read the "
                       "shares, not the numbers.");
        print_wrapped(to, text_of(&text), 79, 0);
        text_free(&text);
    }
    for (size_t i = 0; i < count; i++)
        verdict_print_warnings(&k[i].verdict, to);
    fputc('\n', to);
    desk_print_evidence(to);
    verdict_print_limits(&k[0].verdict, to);
    desk_print_basis(d, k[0].verdict.c, to);
    desk_print_cautions(d, to);
}

/* ---- picture ---- */

enum {
    DAYS_SHOWN = 35,  /* [d] before the event */
    OPTIONS_SHOWN = 8 /* more cannot be told apart in a picture */
};

static size_t options_shown(const Comparison *k) {
    return k->count < OPTIONS_SHOWN ? k->count : OPTIONS_SHOWN;
}

/* What the pictures of one athlete show: [days * options], day by day. */
typedef struct {
    size_t from, days, options;
    double *readiness, *low, *high; /* low and high NAN without draws */
} Strands;

static void strands_build(const Comparison *k, Strands *s) {
    const Outlook *o = &k->verdict.c->outlook;
    size_t cells;
    s->from = o->event_day > DAYS_SHOWN ? o->event_day - DAYS_SHOWN : 0;
    s->days = o->event_day + o->event_days + 10 - s->from;
    s->options = options_shown(k);
    cells = s->days * s->options;
    s->readiness = mem_new(cells, sizeof *s->readiness);
    s->low = mem_new(cells, sizeof *s->low);
    s->high = mem_new(cells, sizeof *s->high);
    for (size_t i = 0; i < s->options; i++) {
        Curves curves;
        curves_build(k->verdict.c, &k->rows[i].option, READ_BEFORE,
                     s->from + s->days, true, &curves);
        for (size_t d = 0; d < s->days; d++) {
            size_t cell = d * s->options + i, day = s->from + d;
            s->readiness[cell] = curves.readiness[day]; /* as shown */
            s->low[cell] = curves.low ? curves.low[day] : NAN;
            s->high[cell] = curves.high ? curves.high[day] : NAN;
        }
        curves_free(&curves);
    }
}

static void strands_free(Strands *s) {
    free(s->readiness);
    free(s->low);
    free(s->high);
}

/* Readiness at the event: "34.1 (32.8 to 36.0)". */
static char *row_words(const Comparison *k, const Row *row) {
    const Verdict *v = &k->verdict;
    char number[FIGURE_TEXT], high[FIGURE_TEXT];
    double scale = verdict_scale(v);
    Text text = {0};
    char *words;
    text_add(&text, "%s",
             figure(number, case_shown(v->c, row->readiness), scale));
    if (isfinite(row->spread.readiness_low))
        text_add(&text, " (%s to %s)",
                 figure(number, row->spread.readiness_low, scale),
                 figure(high, row->spread.readiness_high, scale));
    words = mem_copy(text_of(&text));
    text_free(&text);
    return words;
}

static StatusCode draw_fan(const Comparison *k, const Strands *s,
                           const ComparisonPicture *like,
                           const Gallery *gallery, const char *name,
                           Text *paths, Status *status) {
    char *words[OPTIONS_SHOWN];
    Text subtitle = {0};
    StatusCode code;
    FanPicture fan = {.title = like->title,
                      .readiness_label = like->readiness_label,
                      .names = like->names,
                      .words = (const char *const *)words,
                      .options = s->options,
                      .readiness = s->readiness,
                      .low = s->low,
                      .high = s->high,
                      .days = s->days,
                      .first_offset = like->first_offset,
                      .event_days = like->event_days};
    for (size_t i = 0; i < s->options; i++)
        words[i] = row_words(k, &k->rows[i]);
    model_short(case_model(k->verdict.c), &subtitle);
    if (!case_model(k->verdict.c)->scaled && k->verdict.draws.count)
        text_add(&subtitle, "; likely range of the change since today");
    fan.subtitle = text_of(&subtitle);
    code = picture_fan(&fan, gallery, name, paths, status);
    for (size_t i = 0; i < s->options; i++)
        free(words[i]);
    text_free(&subtitle);
    return code;
}

static StatusCode draw_one(const void *answers, size_t at,
                           const Gallery *gallery, Text *paths,
                           Status *status) {
    const Comparison *k = (const Comparison *)answers + at;
    const Outlook *o = &k->verdict.c->outlook;
    const char **names = mem_new(k->count, sizeof *names);
    Text title = {0}, words = {0}, label = {0}, name = {0};
    Strands s;
    StatusCode code;
    strands_build(k, &s);
    for (size_t i = 0; i < k->count; i++)
        names[i] = k->rows[i].name;
    text_add(&title, "%s: readiness to %s and after", k->verdict.c->name,
             k->verdict.c->event->name);
    model_words(case_model(k->verdict.c), &words);
    readiness_label(case_model(k->verdict.c), &label);
    output_file_name(k->verdict.c, "comparison", &name);
    {
        ComparisonPicture picture = {.title = text_of(&title),
                                     .subtitle = text_of(&words),
                                     .readiness_label = text_of(&label),
                                     .names = names,
                                     .options = s.options,
                                     .readiness = s.readiness,
                                     .days = s.days,
                                     .first_offset =
                                         (int)s.from - (int)o->event_day,
                                     .event_days = (int)o->event_days};
        code = picture_comparison(&picture, gallery, text_of(&name), paths,
                                  status);
        text_clear(&name);
        output_file_name(k->verdict.c, "fan", &name);
        if (code == STATUS_OK)
            code = draw_fan(k, &s, &picture, gallery, text_of(&name), paths,
                            status);
    }
    strands_free(&s);
    free(names);
    text_free(&title);
    text_free(&words);
    text_free(&label);
    text_free(&name);
    return code;
}

static StatusCode answer(const Call *call, const Desk *d, const Case *cases,
                         size_t count, Status *status) {
    Comparison *k = mem_new(count, sizeof *k);
    StatusCode code = STATUS_OK;
    Progress progress =
        progress_begin("athletes compared", count, call->output.quiet);
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        progress_step(&progress, i);
        code = compare(&cases[i], &k[i], status);
    }
    progress_end(&progress);
    if (code == STATUS_OK && call->output.csv)
        print_csv_header(&call->output);
    for (size_t i = 0; i < count && code == STATUS_OK && call->output.csv; i++)
        print_csv(&k[i], call->output.to);
    if (code == STATUS_OK && !call->output.csv)
        print_text(d, k, count, call->output.to);
    if (code == STATUS_OK && call->output.folder)
        code = output_draw(&call->output, &(Drawing){k, count, draw_one},
                           k[0].count > OPTIONS_SHOWN
                               ? "Pictures (the first 8 options)"
                               : "Pictures",
                           status);
    for (size_t i = 0; i < count; i++)
        comparison_free(&k[i]);
    free(k);
    return code;
}

StatusCode command_compare(const Call *call, Status *status) {
    return command_on_cases(call, true, answer, status);
}
