/* plan_files: each athlete's plan, event week and calendar as files.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_PLAN_FILES_H
#define OUTPUT_PLAN_FILES_H

#include "answers/plan.h"
#include "output/output.h"

StatusCode plan_files_write(const Output *o, const Plan *p, size_t count,
                            Status *status);

#endif
