/* pictures: what each picture shows, as values; how it looks is up to plots/.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef PRESENT_PICTURES_H
#define PRESENT_PICTURES_H

#include "base/date.h"
#include "present/plot.h"
#include "taper/search.h"

typedef struct {
    Date start;
    int days;
    const char *name;
} PictureEvent;

/* A week of a block of training to come. */
typedef struct {
    Date monday;
    const char *name; /* of the block; in its later weeks "" */
    int weeks;        /* of the block, from this one on */
} PictureWeek;

typedef struct {
    const char *title, *subtitle;
    const char *load_label, *readiness_label, *test_label;
    Date first; /* day 0 of the arrays */
    size_t days, log_days;
    const double *load, *fitness, *fatigue, *readiness;
    const double *low, *high; /* NULL: no band */
    const Date *test_date;
    const double *test_value;
    size_t tests;
    bool same_scale; /* readiness is in the unit of the tests */
    const PictureEvent *event;
    size_t events;
    const PictureWeek *week; /* of blocks */
    size_t weeks;
    Date taper_from, taper_to; /* DATE_NONE: no taper */
    bool handed; /* days to come are those of the plan handed out */
    Date today;
} SeasonPicture;

StatusCode picture_season(const SeasonPicture *picture, const Gallery *gallery,
                          const char *name, Text *path, Status *status);

/* Their names and how many they are, for a script that marks them. */
void picture_event_names(Plot *plot, const PictureEvent *event, size_t count);

typedef struct {
    const char *title, *subtitle;
    const Search *search;
    const Score *score;
    const Limits *limits;
    size_t longest;          /* [d] */
    const DrawScores *draws; /* for the chance to beat no taper; count 0: no
                                such lines */
} MapPicture;

StatusCode picture_map(const MapPicture *picture, const Gallery *gallery,
                       const char *name, Text *path, Status *status);

/* The influence of one unit of load, by its age. */
StatusCode picture_influence(const ResponseParams *params, const char *title,
                             const char *subtitle, const Gallery *gallery,
                             const char *name, Text *path, Status *status);

#endif
