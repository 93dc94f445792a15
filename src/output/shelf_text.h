/* shelf_text: the model files at hand, as text, CSV and pictures.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_SHELF_TEXT_H
#define OUTPUT_SHELF_TEXT_H

#include "answers/shelf.h"
#include "output/output.h"

void shelf_text_csv(const Shelf *shelf, FILE *to);

void shelf_text(const Shelf *shelf, Document *doc);

StatusCode shelf_text_draw(const Shelf *shelf, const Output *o, Status *status);

#endif
