/* shelf: the model files at hand.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef ANSWERS_SHELF_H
#define ANSWERS_SHELF_H

#include "response/model.h"

typedef struct {
    Model *models;
    size_t count, room;
    char *folder;
} Shelf;

void shelf_read(Shelf *shelf, const char *model, Notes *notes);

void shelf_free(Shelf *shelf);

#endif
