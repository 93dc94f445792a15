/* report_page: one HTML page for the squad or one athlete: who is how fit for
 * the event, what to do, and how sure that is.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_REPORT_PAGE_H
#define OUTPUT_REPORT_PAGE_H

#include "answers/plan.h"
#include "output/output.h"
#include "present/document.h"

typedef struct {
    const Output *output;
    const Context *context;
    const Case *cases;
    Plan *plans;
    size_t count;
    Gallery gallery; /* a folder of our own, for the pictures on their way */
    Notes notes;     /* what looks wrong in the files */
} Report;

StatusCode report_page_write(Report *r, FILE *to, Status *status);

#endif
