/* models_text: one athlete under several models, as text and CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_MODELS_TEXT_H
#define OUTPUT_MODELS_TEXT_H

#include "answers/models_compared.h"
#include "output/output.h"

void models_text_csv_header(const Output *o);

void models_text_csv(const ModelsCompared *w, FILE *to);

void models_text(const ModelsCompared *w, Document *doc);
/* What is said once, behind all of them. */
void models_text_foot(const ModelsCompared *w, Document *doc);

#endif
