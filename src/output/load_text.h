/* load_text: daily and weekly load, as text and CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_LOAD_TEXT_H
#define OUTPUT_LOAD_TEXT_H

#include "output/output.h"

void load_text_present(const Context *d, const Daily *daily, const Output *o);

#endif
