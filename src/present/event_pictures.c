/* event_pictures: see event_pictures.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/event_pictures.h"

#include <math.h>
#include <stdio.h>

static double seconds(Date date) {
    return date == DATE_NONE ? NAN : 86400.0 * date;
}

StatusCode picture_sessions(const SessionsPicture *p, const Gallery *gallery,
                            const char *name, Text *path, Status *status) {
    Plot plot = {0};
    plot_string(&plot, "title", p->title);
    plot_string(&plot, "subtitle", p->subtitle);
    plot_string(&plot, "readiness_label", p->readiness_label);
    plot_string(&plot, "taper_name", p->taper);
    plot_string(&plot, "session_labels", p->labels);
    plot_number(&plot, "level", p->level);
    plot_number(&plot, "event_days", p->event_days);
    plot_block(&plot, "readings");
    for (size_t i = 0; i < p->readings; i++) {
        const PictureReading *r = &p->reading[i];
        const double row[] = {r->time,      r->session,   r->none,
                              r->none_low,  r->none_high, r->taper,
                              r->taper_low, r->taper_high};
        plot_row(&plot, row, 8);
    }
    plot_block_end(&plot);
    return plot_draw(&plot, gallery, "sessions.gp", name, path, status);
}

static void peaks_events(Plot *plot, const PeaksPicture *p) {
    char variable[64];
    plot_block(plot, "events");
    for (size_t i = 0; i < p->events; i++) {
        const PictureEvent *e = &p->event[i];
        const double row[] = {seconds(e->start),
                              seconds(e->start + e->days - 1),
                              seconds(p->taper_from[i])};
        plot_row(plot, row, 3);
    }
    plot_block_end(plot);
    for (size_t i = 0; i < p->events; i++) {
        snprintf(variable, sizeof variable, "event_name_%zu", i + 1);
        plot_string(plot, variable, p->event[i].name);
    }
    plot_number(plot, "events_count", (double)p->events);
}

StatusCode picture_peaks(const PeaksPicture *p, const Gallery *gallery,
                         const char *name, Text *path, Status *status) {
    Plot plot = {0};
    plot_string(&plot, "title", p->title);
    plot_string(&plot, "subtitle", p->subtitle);
    plot_string(&plot, "load_label", p->load_label);
    plot_string(&plot, "readiness_label", p->readiness_label);
    plot_number(&plot, "today", seconds(p->today));
    plot_block(&plot, "days");
    for (size_t i = 0; i < p->days; i++) {
        const double row[] = {seconds(p->first + (Date)i),
                              p->planned[i],
                              p->load[i],
                              p->none[i],
                              p->readiness[i],
                              p->low ? p->low[i] : NAN,
                              p->high ? p->high[i] : NAN};
        plot_row(&plot, row, 7);
    }
    plot_block_end(&plot);
    peaks_events(&plot, p);
    return plot_draw(&plot, gallery, "peaks.gp", name, path, status);
}
