/* footer: the lines under every answer: model, day convention, what is default
 * and what was given, what published experience says, cautions.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_FOOTER_H
#define OUTPUT_FOOTER_H

#include "cases/case.h"

#include <stdio.h>

/* The lines under every answer: model, day convention, what is default and
 * what was given. */
void footer_basis(const Context *context, const Case *c, FILE *to);

/* What published experience says beside the model, and the cautions. */
void footer_evidence(FILE *to);

void footer_cautions(const Context *context, FILE *to);

/* The same for a sheet that one athlete gets: of no other it speaks. */
void footer_case_cautions(const Case *c, FILE *to);

bool footer_note_is_about(const Note *note, const Case *c);

/* Prints the warnings said so far about one case: those that name the athlete
 * or the event. footer_note_is_about() tells which. */
void footer_notes(const Case *c, FILE *to);

#endif
