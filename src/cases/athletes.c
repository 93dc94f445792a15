/* athletes: see athletes.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cases/athletes.h"

#include "base/mem.h"

#include <string.h>

static void list_athletes(const Season *s, Text *list) {
    char shown[TEXT_EXCERPT];
    for (size_t i = 0; i < s->athlete_count && i < 10; i++)
        text_add(list, "%s%s", i ? ", " : "",
                 text_excerpt(shown, s->athletes[i].name));
    if (s->athlete_count > 10)
        text_add(list, " and %zu more", s->athlete_count - 10);
}

static void choose(Context *d, size_t athlete) {
    for (size_t i = 0; i < d->chosen_count; i++)
        if (d->chosen[i] == athlete)
            return;
    d->chosen[d->chosen_count++] = athlete;
}

void athletes_choose(Context *d) {
    const Question *q = d->question;
    d->chosen =
        mem_new(d->season->athlete_count + q->athlete_count, sizeof *d->chosen);
    for (size_t i = 0; i < d->season->athlete_count && !q->athlete_count; i++)
        d->chosen[d->chosen_count++] = i;
    for (size_t i = 0; i < q->athlete_count; i++) {
        size_t found = season_athlete(d->season, q->athletes[i]);
        Place place = {"--athlete", 0, NULL};
        char shown[TEXT_EXCERPT];
        Text list = {0};
        if (found != NAMES_NONE) {
            choose(d, found);
            continue;
        }
        list_athletes(d->season, &list);
        notes_add(d->notes, LEVEL_ERROR, place,
                  "%s is not in this season, expected one of %s",
                  text_excerpt(shown, q->athletes[i]), text_of(&list));
        text_free(&list);
    }
}

void athletes_choose_part(Context *d) {
    size_t part = d->question->part, parts = d->question->parts;
    size_t all = d->chosen_count;
    size_t from = (part - 1) * all / parts, to = part * all / parts;
    Place place = {"--part", 0, NULL};
    if (parts > all)
        notes_add(d->notes, LEVEL_ERROR, place,
                  "%zu parts of %zu athlete%s, expected at most as many parts "
                  "as athletes",
                  parts, all, all == 1 ? "" : "s");
    if (from > 0)
        memmove(d->chosen, d->chosen + from, (to - from) * sizeof *d->chosen);
    d->chosen_count = to - from;
}

bool athletes_have_log(Context *d, size_t athlete) {
    Place place = {d->season->log_path, 0, "athlete"};
    char shown[TEXT_EXCERPT];
    if (d->season->athletes[athlete].session_count > 0)
        return true;
    notes_add(d->notes,
              d->question->athlete_count ? LEVEL_ERROR : LEVEL_WARNING, place,
              "%s has no sessions%s",
              text_excerpt(shown, d->season->athletes[athlete].name),
              d->question->athlete_count ? ", expected an athlete with a log"
                                         : " and is left out");
    notes_about(d->notes, d->season->athletes[athlete].name, NULL);
    return false;
}
