/* squad_pictures: what a common plan costs each athlete.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_SQUAD_PICTURES_H
#define OUTPUT_SQUAD_PICTURES_H

#include "answers/squad_plans.h"
#include "present/plot.h"

StatusCode squad_pictures_draw(const SquadPlans *s, const Gallery *gallery,
                               size_t number, Text *paths, Status *status);

#endif
