/* read_athletes: reads athletes.csv, one row an athlete.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "season/files.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double kg_per_lb = 0.45359237; /* by definition, 1959 */

enum {
    A_NAME,
    A_SQUAD,
    A_KG,
    A_LB,
    A_SEX,
    A_REST,
    A_MAX,
    A_MINOR,
    A_BORN,
    A_MODEL
};

const Column read_athletes_columns[] = {
    {"athlete", true},  {"squad", false}, {"mass_kg", false},
    {"mass_lb", false}, {"sex", false},   {"hr_rest", false},
    {"hr_max", false},  {"minor", false}, {"born", false},
    {"model", false},   {NULL, false}};

static bool read_mass(Reader *r, Athlete *a) {
    double lb = NAN;
    bool good = reader_number(r, A_KG, 20, 250, &a->mass);
    good = reader_number(r, A_LB, 45, 550, &lb) && good;
    if (isfinite(a->mass) && isfinite(lb) &&
        fabs(a->mass / (lb * kg_per_lb) - 1) > .02) {
        reader_error(r, A_LB,
                     "'%g' is %.1f kg, expected the %g of mass_kg, or one of "
                     "the two blank",
                     lb, lb * kg_per_lb, a->mass);
        return false;
    }
    if (!isfinite(a->mass))
        a->mass = lb * kg_per_lb;
    return good;
}

static bool read_heart(Reader *r, Athlete *a) {
    static const char *const sexes[] = {"f", "m", NULL};
    int sex = -1;
    bool good = reader_word(r, A_SEX, sexes, &sex);
    a->sex_given = sex >= 0;
    a->female = sex == 0;
    good = reader_number(r, A_REST, 20, 120, &a->hr_rest) && good;
    good = reader_number(r, A_MAX, 100, 250, &a->hr_max) && good;
    if (good && isfinite(a->hr_rest) && isfinite(a->hr_max) &&
        a->hr_rest >= a->hr_max) {
        reader_error(r, A_MAX, "'%g', expected more than hr_rest '%g'",
                     a->hr_max, a->hr_rest);
        good = false;
    }
    return good;
}

static void read_model(Season *s, Reader *r, Athlete *a) {
    const char *model;
    Text path = {0};
    if (reader_blank(r, A_MODEL) || !reader_text(r, A_MODEL, &model))
        return;
    if (model[0] != '/' && (strchr(model, '/') || strstr(model, ".csv")))
        text_add(&path, "%s/", s->folder); /* else a preset's name */
    text_add(&path, "%s", model);
    free(a->model);
    a->model = mem_copy(text_of(&path));
    text_free(&path);
}

static void read_squad(Season *s, Reader *r, Athlete *a) {
    const char *squad;
    if (!reader_blank(r, A_SQUAD) && reader_text(r, A_SQUAD, &squad))
        a->squad = (uint32_t)names_add(&s->squad_names, squad, strlen(squad));
}

static void read_athlete_row(Season *s, Reader *r) {
    const char *name;
    size_t who, before = s->athlete_count;
    if (!reader_text(r, A_NAME, &name))
        return;
    who = season_add_athlete(s, name, strlen(name));
    if (who < before) {
        char shown[TEXT_EXCERPT];
        reader_error(r, A_NAME,
                     "%s stands here twice, expected one row an athlete",
                     text_excerpt(shown, s->athletes[who].name));
        return;
    }
    s->athletes[who].listed = true;
    read_squad(s, r, &s->athletes[who]);
    read_mass(r, &s->athletes[who]);
    read_heart(r, &s->athletes[who]);
    reader_yes(r, A_MINOR, &s->athletes[who].minor);
    if (!reader_blank(r, A_BORN))
        reader_date(r, A_BORN, &s->athletes[who].born);
    read_model(s, r, &s->athletes[who]);
}

void read_athletes(Season *s, const char *path, const SeasonOptions *options,
                   Notes *notes) {
    rows_read(s, path, read_athletes_columns, options, notes, read_athlete_row);
}
