/* worksheet: questions for a class, from easy to hard, each student's numbers
 * drawn about the model in use, and a separate answer key computed by the
 * kernel, the landmarks and the fit.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_WORKSHEET_H
#define LESSONS_WORKSHEET_H

#include "present/page.h"
#include "present/plot.h"
#include "response/params.h"

/* Adds a section for each of `sheets` students to both pages. Each has a curve
 * of its own to read, drawn into the gallery's folder. The same seed gives the
 * same sheets. */
StatusCode worksheet_write(const ResponseParams *params, int sheets,
                           unsigned long seed, const Gallery *gallery,
                           Page *questions, Page *answers, Status *status);

#endif
