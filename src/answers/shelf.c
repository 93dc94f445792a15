/* shelf: see shelf.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "answers/shelf.h"

#include "base/home.h"
#include "base/mem.h"

#include <stdlib.h>

static void add_model(Shelf *shelf, const char *name, Notes *notes) {
    shelf->models = mem_grow(shelf->models, &shelf->room, shelf->count + 1,
                             sizeof *shelf->models);
    model_find(name, shelf->folder, &shelf->models[shelf->count++], notes);
}

void shelf_read(Shelf *shelf, const char *model, Notes *notes) {
    char **names;
    shelf->folder = home_folder("models");
    if (model) {
        add_model(shelf, model, notes);
        return;
    }
    names = model_names(shelf->folder);
    if (!names) {
        Place place = {shelf->folder, 0, NULL};
        notes_add_system(notes, place,
                         "cannot be read, expected the folder of the models "
                         "(PEAKWARD_HOME names its parent)");
    }
    for (size_t i = 0; names && names[i]; i++)
        add_model(shelf, names[i], notes);
    model_names_free(names);
}

void shelf_free(Shelf *shelf) {
    for (size_t i = 0; i < shelf->count; i++)
        model_free(&shelf->models[i]);
    free(shelf->models);
    free(shelf->folder);
}
