/* context: see context.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/context.h"

#include "cases/athletes.h"
#include "cases/models.h"
#include "cases/squad_prior.h"
#include "season/check.h"
#include "season/plan_kept.h"

#include <stdlib.h>

/* A kind of test that nobody has would be answered from the literature. */
static void check_test(const Context *d, const char *asked, Notes *notes) {
    const Names *kinds = &d->season->test_names;
    Place place = {d->question->only_test ? "--only-test" : "--test", 0, NULL};
    char shown[TEXT_EXCERPT];
    Text list = {0};
    for (size_t i = 0; i < kinds->count; i++) {
        if (text_same(kinds->items[i], asked)) {
            text_free(&list);
            return;
        }
        text_add(&list, "%s%s", i ? ", " : "one of ",
                 text_excerpt(shown, kinds->items[i]));
    }
    notes_add(notes, LEVEL_ERROR, place,
              "%s is no kind of test of this season, expected %s",
              text_excerpt(shown, asked),
              kinds->count ? text_of(&list) : "tests in tests.csv");
    text_free(&list);
}

void context_older_plans(Context *d) {
    const Question *q = d->question;
    if (q->older_plans && q->event && !q->ignore_plan)
        plan_kept_take(d->season, q->event, &q->read, d->notes);
}

StatusCode context_open(const Question *question, Notes *notes, Context *d) {
    *d = (Context){.question = question, .notes = notes};
    d->season = season_read(question->season, &question->read, notes);
    if (notes->errors == 0) {
        check_alike(d->season, notes);
        check_squad_tests(d->season, notes);
        athletes_choose(d);
        context_older_plans(d);
    }
    if (question->test && notes->errors == 0)
        check_test(d, question->test, notes);
    if (question->parts && notes->errors == 0)
        athletes_choose_part(d);
    for (size_t i = 0; i < question->view_count && notes->errors == 0; i++)
        if (!text_same(question->views[i], "own"))
            models_named(d, question->views[i]);
    return notes_code(notes);
}

void context_joint_free(Context *d) {
    free(d->joint);
    for (size_t i = 0; d->joint_kept && i < d->season->athlete_count; i++)
        free(d->joint_kept[i]);
    free(d->joint_kept);
}

void context_close(Context *d) {
    models_free(d);
    free(d->chosen);
    models_free_kept(d);
    squad_prior_free(d->squad_prior);
    free(d->assigned);
    free(d->assigned_before);
    context_joint_free(d);
    free(d->weighed);
    season_free(d->season);
    *d = (Context){0};
}
