/* report_page: one HTML page for the squad or one athlete: who is how fit for
 * the event, what to do, and how sure that is.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_REPORT_PAGE_H
#define OUTPUT_REPORT_PAGE_H

#include "answers/plan.h"
#include "answers/review.h"
#include "output/output.h"
#include "present/document.h"

typedef struct {
    const Output *output;
    const Context *context;
    const Case *cases;
    Plan *plans;
    size_t count;           /* 0: the event is over, and is reviewed */
    const Reviews *reviews; /* of the plan handed out; NULL: none was */
    Gallery gallery; /* a folder of our own, for the pictures on their way */
    Text *drawn;     /* of each athlete the paths of the two pictures */
    Notes notes;     /* what looks wrong in the files */
} Report;

StatusCode report_page_write(Report *r, FILE *to, Status *status);

#endif
