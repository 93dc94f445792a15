/* fit_files: model files of fits, with their draws.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_FIT_FILES_H
#define OUTPUT_FIT_FILES_H

#include "answers/athlete_fit.h"
#include "output/output.h"

StatusCode fit_files_write(const Output *o, const AthleteFit *f, size_t count,
                           Status *status);

#endif
