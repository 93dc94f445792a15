/* event_pictures: see event_pictures.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/event_pictures.h"

#include <math.h>
#include <stdio.h>

static void sessions_words(Plot *plot, const SessionsPicture *p) {
    const PictureReading *r = p->reading;
    size_t stride = sizeof *r / sizeof r->none;
    text_add(&plot->alt,
             "Readiness as lines with ranges, on mornings around the event and "
             "before each of its sessions: no taper and %s. ",
             p->taper);
    if (p->readings == 0)
        return;
    plot_alt_line(plot, "No taper", &r->none, p->readings, stride);
    plot_alt_line(plot, p->taper, &r->taper, p->readings, stride);
    text_add(&plot->alt, "Normal training: %.4g. ", p->level);
}

StatusCode picture_sessions(const SessionsPicture *p, const Gallery *gallery,
                            const char *name, Text *path, Status *status) {
    Plot plot = {0};
    plot_start(&plot, p->title, p->subtitle);
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
    sessions_words(&plot, p);
    return plot_draw(&plot, gallery, "sessions.gp", name, path, status);
}

static void peaks_events(Plot *plot, const PeaksPicture *p) {
    plot_block(plot, "events");
    for (size_t i = 0; i < p->events; i++) {
        const PictureEvent *e = &p->event[i];
        const double row[] = {plot_seconds(e->start),
                              plot_seconds(e->start + e->days - 1),
                              plot_seconds(p->taper_from[i])};
        plot_row(plot, row, 3);
    }
    plot_block_end(plot);
    picture_event_names(plot, p->event, p->events);
}

static void peaks_words(Plot *plot, const PeaksPicture *p) {
    char date[DATE_TEXT];
    text_add(&plot->alt,
             "Daily load as bars and readiness as lines, with the tapers and "
             "with none. ");
    plot_alt_line(plot, "With none", p->none, p->days, 1);
    plot_alt_line(plot, "With the tapers", p->readiness, p->days, 1);
    for (size_t i = 0; i < p->events; i++) {
        Date start = p->event[i].start;
        text_add(&plot->alt, "%s, %s", p->event[i].name,
                 date_write(date, start));
        if (start >= p->first && start < p->first + (Date)p->days)
            text_add(&plot->alt, ": %.4g, with no taper %.4g",
                     p->readiness[start - p->first], p->none[start - p->first]);
        text_add(&plot->alt, ". ");
    }
}

StatusCode picture_peaks(const PeaksPicture *p, const Gallery *gallery,
                         const char *name, Text *path, Status *status) {
    Plot plot = {0};
    plot_start(&plot, p->title, p->subtitle);
    plot_string(&plot, "load_label", p->load_label);
    plot_string(&plot, "readiness_label", p->readiness_label);
    plot_number(&plot, "today", plot_seconds(p->today));
    plot_block(&plot, "days");
    for (size_t i = 0; i < p->days; i++) {
        const double row[] = {plot_seconds(p->first + (Date)i),
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
    peaks_words(&plot, p);
    return plot_draw(&plot, gallery, "peaks.gp", name, path, status);
}
