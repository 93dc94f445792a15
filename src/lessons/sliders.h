/* sliders: the page on which a reader moves the model's numbers and a taper,
 * data/lessons/sliders.html with the models at hand.
 *
 * One HTML file that asks for nothing outside of itself: its policy names the
 * hashes of its one script and one style sheet (W3C, Content Security Policy
 * Level 3), so nothing else can run in it.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef LESSONS_SLIDERS_H
#define LESSONS_SLIDERS_H

#include "base/text.h"
#include "response/model.h"

/* Appends the template with its marks filled in: @PRESETS@ by those of the
 * models that the page's sliders can show (one and two components, and graded
 * ones), @VERSION@, @POLICY@. */
void sliders_fill(const char *page, const Model *models, size_t count,
                  Text *filled);

/* Writes the page, whole or not at all. */
StatusCode sliders_write(const char *path, const Model *models, size_t count,
                         Status *status);

#endif
