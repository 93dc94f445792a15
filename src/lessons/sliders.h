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

#include "base/status.h"

/* Writes the page with the model files at hand that its sliders can show (one
 * and two components, and graded ones), whole or not at all. A model file that
 * cannot be read is noted. */
StatusCode sliders_write(const char *path, Notes *notes, Status *status);

#endif
