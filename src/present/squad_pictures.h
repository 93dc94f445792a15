/* squad_pictures: what a plan costs each of a squad, as values; how it looks is
 * up to plots/.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_SQUAD_PICTURES_H
#define PRESENT_SQUAD_PICTURES_H

#include "present/plot.h"

#include <stdbool.h>
#include <stddef.h>

typedef struct {
    const char *title, *subtitle;
    const char *const *athletes; /* [rows] */
    size_t rows;
    const char *const *plans; /* [columns] */
    size_t columns;
    size_t common;          /* the first so many columns are the squad's plans,
                               the others athletes' own best */
    const double *loss;     /* [rows * columns] share of what is possible; not
                               finite: not within their limits */
    const double *possible; /* [rows * columns] share that the plan gains; below
                               0: worse than no taper */
    const size_t *given;    /* [rows] column of the assigned taper */
} LossesPicture;

StatusCode picture_losses(const LossesPicture *picture, const Gallery *gallery,
                          const char *name, Text *path, Status *status);

#endif
