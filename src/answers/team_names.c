/* team_names: see team_names.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/team_names.h"

#include "base/mem.h"

#include <stdlib.h>

static TeamName *find(TeamNames *names, const char *session) {
    for (size_t i = 0; i < names->count; i++)
        if (text_same(names->items[i].session, session))
            return &names->items[i];
    names->items = mem_grow(names->items, &names->room, names->count + 1,
                            sizeof *names->items);
    names->items[names->count] = (TeamName){.session = session};
    return &names->items[names->count++];
}

void team_names_add(TeamNames *names, const PlannedSession *session,
                    int weekday) {
    TeamName *name = find(names, session->session);
    unsigned day = 1u << weekday;
    name->team |= session->team ? day : 0;
    name->told |= session->told ? day : 0;
    name->alone |= session->team ? 0 : day;
}

void team_names_join(TeamNames *names, const TeamNames *others) {
    for (size_t i = 0; i < others->count; i++) {
        const TeamName *other = &others->items[i];
        TeamName *name = find(names, other->session);
        name->team |= other->team;
        name->told |= other->told;
        name->alone |= other->alone;
    }
}

bool team_names_any(const TeamNames *names) {
    for (size_t i = 0; i < names->count; i++)
        if (names->items[i].team)
            return true;
    return false;
}

bool team_names_alone(const TeamNames *names) {
    for (size_t i = 0; i < names->count; i++)
        if (names->items[i].alone)
            return true;
    return false;
}

bool team_names_told(const TeamNames *names) {
    for (size_t i = 0; i < names->count; i++)
        if (names->items[i].told)
            return true;
    return false;
}

void team_names_free(TeamNames *names) {
    free(names->items);
    *names = (TeamNames){0};
}
