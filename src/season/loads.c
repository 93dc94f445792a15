/* loads: chooses the load method of a season and gives each session its load.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "season/files.h"

#include <math.h>
#include <stdlib.h>

/* The load method that is asked for, else the first that scores all rows, else
 * the one that scores most. */
static LoadMethod method_of(const Season *s, const SeasonOptions *options) {
    LoadMethod best = LOAD_GIVEN;
    size_t most = 0;
    if (options->load != LOAD_FIRST_COMPLETE)
        return options->load;
    for (int m = 0; m < LOAD_METHODS; m++) {
        if (s->scored[m] == s->session_count)
            return (LoadMethod)m;
        if (s->scored[m] > most) {
            most = s->scored[m];
            best = (LoadMethod)m;
        }
    }
    return best;
}

static const char *needs(LoadMethod method) {
    static const char *const columns[] = {
        "load",
        "minutes and rpe",
        "minutes and hr_mean, and in athletes.csv sex, hr_rest and hr_max",
        "minutes_z1 to minutes_z5",
        "sets, reps and kg (or lb)",
    };
    return columns[method];
}

/* Refuses rows that the method cannot score although another one can: mixing
 * methods would add kilograms to minutes. */
static void refuse_mixture(Season *s, Notes *notes) {
    for (size_t i = 0; i < s->session_count; i++) {
        const Session *session = &s->sessions[i];
        Place place = {s->log_path, session->line, NULL};
        char date[DATE_TEXT], shown[TEXT_EXCERPT];
        if (isfinite(session->load) || !session->scored)
            continue;
        notes_add(notes, LEVEL_ERROR, place,
                  "%s on %s has no load by method '%s' but would by another, "
                  "and methods are not mixed; expected %s (or --load METHOD "
                  "for another method, --fill for the athlete's median)",
                  text_excerpt(shown, s->athletes[session->athlete].name),
                  date_write(date, session->date), load_method_names[s->method],
                  needs(s->method));
    }
}

/* Median load of an athlete's sessions of a kind; any kind with KINDS. */
static double median_of(const Athlete *a, int kind, double *values) {
    size_t count = 0;
    for (size_t i = 0; i < a->session_count; i++) {
        const Session *session = &a->sessions[i];
        if (!session->filled && isfinite(session->load) &&
            (kind == KINDS || session->kind == kind))
            values[count++] = session->load;
    }
    return load_median(values, count);
}

static size_t fill_athlete(Athlete *a, double *values) {
    double median[KINDS + 1];
    size_t filled = 0;
    for (int kind = 0; kind <= KINDS; kind++)
        median[kind] = median_of(a, kind, values);
    for (size_t i = 0; i < a->session_count; i++) {
        Session *session = &a->sessions[i];
        if (isfinite(session->load))
            continue;
        session->load = isfinite(median[session->kind]) ? median[session->kind]
                                                        : median[KINDS];
        session->filled = isfinite(session->load);
        filled += session->filled;
    }
    return filled;
}

void loads_fill(Season *s, Notes *notes) {
    double *values = mem_new(s->session_count, sizeof *values);
    Place place = {s->log_path, 0, NULL};
    for (size_t i = 0; i < s->athlete_count; i++)
        s->filled += fill_athlete(&s->athletes[i], values);
    free(values);
    if (s->filled)
        notes_add(notes, LEVEL_NOTICE, place,
                  "--fill gave %zu session%s without a load the athlete's "
                  "median for that kind of session",
                  s->filled, s->filled == 1 ? "" : "s");
}

static void none_scored(Season *s, Notes *notes) {
    Place place = {s->log_path, 0, NULL};
    if (s->method_given)
        notes_add(notes, LEVEL_ERROR, place,
                  "no row has a load by --load %s, expected %s",
                  load_method_names[s->method], needs(s->method));
    else
        notes_add(notes, LEVEL_ERROR, place,
                  "no row has a load; expected one of: load; minutes and rpe; "
                  "minutes and hr_mean (with sex, hr_rest, hr_max in "
                  "athletes.csv); minutes_z1 to minutes_z5; sets, reps and kg "
                  "(or --map load=HEADING)");
}

void loads_choose(Season *s, const SeasonOptions *options, Notes *notes) {
    s->method_given = options->load != LOAD_FIRST_COMPLETE;
    s->method = method_of(s, options);
    if (s->session_count == 0)
        return;
    for (size_t i = 0; i < s->session_count; i++)
        if (s->sessions[i].scored >> s->method & 1)
            s->sessions[i].load = s->score[s->method][i];
    for (int m = 0; m < LOAD_METHODS; m++) {
        free(s->score[m]);
        s->score[m] = NULL;
    }
    if (s->scored[s->method] == 0)
        none_scored(s, notes);
    else if (!options->fill)
        refuse_mixture(s, notes);
}
