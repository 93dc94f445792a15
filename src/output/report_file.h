/* report_file: the page written whole, into a folder or to standard output.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_REPORT_FILE_H
#define OUTPUT_REPORT_FILE_H

#include "output/report_page.h"

/* Pictures are drawn into a folder that is gone afterwards. */
StatusCode report_file_write(Report *r, Status *status);

#endif
