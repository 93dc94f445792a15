/* play: see play.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "lessons/play.h"

#include "base/terminal.h"
#include "lessons/curves.h"
#include "present/grid.h"

#include <ctype.h>
#include <math.h>

enum { SHOWN = 28 /* [d] before the event in the table */, BAR = 20 };

typedef struct {
    const Model *model;
    ResponseParams params;
    double usual;     /* [load/d] */
    double days, cut; /* [d], [%] of the taper */
    int chosen;       /* control that the arrows change */
} Play;

/* A value that keys change: the small letter less, the capital more. */
typedef struct {
    char key;
    const char *name, *unit;
    Param param; /* PARAMS: of the taper */
    double step, low, high;
} Control;

static const Control controls[] = {
    {'t', "tau1, how slowly fitness fades", "d", PARAM_TAU1, 1, 3, 120},
    {'f', "tau2, how slowly fatigue fades", "d", PARAM_TAU2, 1, 1, 60},
    {'k', "k2/k1, how much a session tires", "", PARAM_K2, .1, 0, 6},
    {'k', "k3, % of the model's", "%", PARAM_K3, 5, 0, 400},
    {'l', "length of the taper", "d", PARAMS, 1, 0, 42},
    {'c', "cut of each day's volume", "%", PARAMS, 5, 0, 100}};
enum { CONTROLS = 6 };

static bool there(const Play *p, int i) {
    return controls[i].param == PARAMS ||
           response_has(p->params.kind, controls[i].param);
}

static double get(const Play *p, int i) {
    const double *v = p->params.value;
    if (controls[i].param == PARAMS)
        return controls[i].key == 'l' ? p->days : p->cut;
    if (controls[i].param == PARAM_K2)
        return v[PARAM_K2] / v[PARAM_K1];
    if (controls[i].param == PARAM_K3)
        return 100 * v[PARAM_K3] / p->model->params.value[PARAM_K3];
    return v[controls[i].param];
}

/* fatigue fades before fitness, whatever is asked */
static void set(Play *p, int i, double value) {
    double *v = p->params.value;
    const Control *c = &controls[i];
    value = fmin(c->high, fmax(c->low, value));
    if (c->param == PARAMS && c->key == 'l')
        p->days = value;
    else if (c->param == PARAMS)
        p->cut = value;
    else if (c->param == PARAM_K2)
        v[PARAM_K2] = value * v[PARAM_K1];
    else if (c->param == PARAM_K3)
        v[PARAM_K3] = value / 100 * p->model->params.value[PARAM_K3];
    else
        v[c->param] = value;
    if (response_has(p->params.kind, PARAM_TAU2))
        v[PARAM_TAU2] = fmin(v[PARAM_TAU2], .9 * v[PARAM_TAU1]);
}

static void reset(Play *p) {
    p->params = p->model->params;
    p->days = 14;
    p->cut = 50;
}

static void choose(Play *p, int way) {
    do
        p->chosen = (p->chosen + way + CONTROLS) % CONTROLS;
    while (!there(p, p->chosen));
}

/* False for the key that quits. */
static bool press(Play *p, int key) {
    const Control *c = &controls[p->chosen];
    if (key == KEY_QUIT || key == 'q' || key == 'Q')
        return false;
    if (key == 'r' || key == 'R')
        reset(p);
    else if (key == KEY_UP || key == KEY_DOWN)
        choose(p, key == KEY_UP ? -1 : 1);
    else if (key == KEY_LEFT || key == KEY_RIGHT)
        set(p, p->chosen,
            get(p, p->chosen) + (key == KEY_LEFT ? -1 : 1) * c->step);
    for (int i = 0; i < CONTROLS && key > 0 && key < 256; i++)
        if (there(p, i) && tolower(key) == controls[i].key) {
            set(p, i, get(p, i) + (islower(key) ? -1 : 1) * controls[i].step);
            p->chosen = i;
        }
    return true;
}

/* ---- what is shown ---- */

static Option taper_of(const Play *p) {
    return (Option){.count = p->days > 0 && p->cut > 0,
                    .part = {{(int)p->days, p->cut, p->cut, 'x'}}};
}

static void print_controls(const Play *p, FILE *to) {
    for (int i = 0; i < CONTROLS; i++)
        if (there(p, i))
            fprintf(to, " %c %c/%c  %-34s %6.4g %s\n",
                    i == p->chosen ? '>' : ' ', controls[i].key,
                    toupper(controls[i].key), controls[i].name, get(p, i),
                    controls[i].unit);
}

static void print_marks(const Play *p, FILE *to) {
    Landmarks m = lesson_marks(&p->params, p->usual);
    Option taper = taper_of(p);
    Option rest = {.count = p->days > 0,
                   .part = {{(int)p->days, 100, 100, 'x'}}};
    fprintf(to, "Halves in: fitness %.1f d", m.half_life_fitness);
    if (isfinite(m.half_life_fatigue))
        fprintf(to, ", fatigue %.1f d", m.half_life_fatigue);
    if (isfinite(m.t_n))
        fprintf(to, ".\nHurts in the last %.1f d before the event (t_n)",
                m.t_n);
    else
        fprintf(to, ".\nTraining never hurts");
    if (isfinite(m.t_g))
        fprintf(to, ", helps most at %.1f d (t_g)", m.t_g);
    fprintf(to,
            ".\nGain at the event over no taper: %.4g (full rest as long: "
            "%.4g).\n",
            lesson_gain(&p->params, p->usual, &taper),
            lesson_gain(&p->params, p->usual, &rest));
}

/* A bar from the middle, as long as `share` of the widest says. */
static void print_bar(double share, FILE *to) {
    int length = (int)lround(fabs(share) * BAR / 2);
    for (int i = -BAR / 2; i <= BAR / 2; i++)
        fputc(i == 0                               ? '|'
              : share < 0 && i < 0 && -i <= length ? '-'
              : share > 0 && i > 0 && i <= length  ? '+'
                                                   : ' ',
              to);
    fputs("\n", to);
}

static void print_days(const Play *p, FILE *to) {
    enum { DAYS = OPTION_LONGEST + 1, FIRST = OPTION_LONGEST - SHOWN };
    double load[DAYS] = {0}, cut[OPTION_LONGEST], usual[DAYS] = {0};
    double fitness[DAYS], fatigue[DAYS], with[DAYS], without[DAYS], widest = 0;
    Option taper = taper_of(p);
    LessonRun run = {fitness, fatigue, with}, plain = {NULL, NULL, without};
    option_cuts(&taper, OPTION_LONGEST, cut);
    for (int i = 0; i < OPTION_LONGEST; i++) {
        usual[i] = p->usual;
        load[i] = p->usual * (1 - cut[OPTION_LONGEST - 1 - i]);
    }
    lesson_run(&p->params, load, DAYS, p->usual, &run);
    lesson_run(&p->params, usual, DAYS, p->usual, &plain);
    for (int i = FIRST; i < DAYS; i++)
        widest = fmax(widest, fabs(with[i] - without[i]));
    fprintf(to,
            "  day    load   fitness   fatigue readiness     change against no "
            "taper\n");
    for (int i = FIRST; i < DAYS; i += 4) {
        double change = with[i] - without[i];
        fprintf(to, "%5d %7.4g %9.4g %9.4g %9.4g %10.3g ", i - OPTION_LONGEST,
                load[i], fitness[i], fatigue[i], with[i],
                fabs(change) < 1e-9 * widest ? 0 : change);
        print_bar(widest > 0 ? change / widest : 0, to);
    }
}

static void show(const Play *p, FILE *to) {
    Text name = {0};
    text_shorten(&name, p->model->name, 40);
    terminal_clear();
    print_shown(to, text_of(&name));
    text_free(&name);
    fprintf(to, " (%s), %.4g a day in usual training, then a taper.\n\n",
            response_kind_names[p->params.kind], p->usual);
    print_controls(p, to);
    fputs("\n", to);
    print_marks(p, to);
    fputs("\n", to);
    print_days(p, to);
    fputs("\nSmall letter less, capital more; arrows do the same. r: as it "
          "was. q: "
          "quit\n",
          to);
    fflush(to);
}

StatusCode play(const Model *model, FILE *to, Status *status) {
    Play p = {.model = model, .usual = lesson_usual_load(&model->params)};
    reset(&p);
    if (terminal_open("lesson --play", status) != STATUS_OK)
        return status->code;
    do
        show(&p, to);
    while (press(&p, terminal_key()));
    terminal_close();
    return STATUS_OK;
}
