/* squad_hear: hears what a squad's tests tell of each other's shape.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef CASES_SQUAD_HEAR_H
#define CASES_SQUAD_HEAR_H

#include "cases/case.h"

/* Hears everybody of the season who has tests and no model asked for, whoever
 * was asked for, each in their squad; nobody where the question says so (--pool
 * none). Fills context->squad_prior. */
void squad_hear(Context *context);

#endif
