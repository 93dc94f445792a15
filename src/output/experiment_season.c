/* experiment_season: see experiment_season.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "output/experiment_season.h"

#include "base/outfile.h"
#include "present/grid.h"

static void write_sessions(const void *season, FILE *to) {
    const Season *s = season;
    char day[DATE_TEXT];
    csv_header(to, "date,athlete,load");
    for (size_t i = 0; i < s->session_count; i++) {
        Csv csv;
        csv_begin(&csv, to);
        csv_text(&csv, date_write(day, s->sessions[i].date));
        csv_text(&csv, s->athletes[s->sessions[i].athlete].name);
        csv_number(&csv, s->sessions[i].load);
        csv_end(&csv);
    }
}

static void write_tests(const void *season, FILE *to) {
    const Season *s = season;
    char day[DATE_TEXT];
    csv_header(to, "date,athlete,test,value,better");
    for (size_t i = 0; i < s->athlete_count; i++)
        for (size_t k = 0; k < s->athletes[i].test_count; k++) {
            const Test *test = &s->athletes[i].tests[k];
            Csv csv;
            csv_begin(&csv, to);
            csv_text(&csv, date_write(day, test->date));
            csv_text(&csv, s->athletes[i].name);
            csv_text(&csv, s->test_names.items[test->test]);
            csv_number(&csv, test->value);
            csv_text(&csv, "higher");
            csv_end(&csv);
        }
}

static void write_week(const void *season, FILE *to) {
    static const char *const names[] = {"mon", "tue", "wed", "thu",
                                        "fri", "sat", "sun"};
    const Season *s = season;
    csv_header(to, "weekday,session,load");
    for (size_t i = 0; i < s->week_count; i++) {
        Csv csv;
        csv_begin(&csv, to);
        csv_text(&csv, names[s->week[i].weekday]);
        csv_text(&csv, s->week[i].session);
        csv_number(&csv, s->week[i].load);
        csv_end(&csv);
    }
}

static void write_events(const void *season, FILE *to) {
    const Season *s = season;
    char day[DATE_TEXT];
    Csv csv;
    csv_header(to, "event,start");
    csv_begin(&csv, to);
    csv_text(&csv, s->events[0].name);
    csv_text(&csv, date_write(day, s->events[0].start));
    csv_end(&csv);
}

StatusCode experiment_season_write(const Output *o, const ExperimentTask *task,
                                   Status *status) {
    static const struct {
        const char *name;
        void (*fill)(const void *, FILE *);
    } files[] = {{"sessions", write_sessions},
                 {"tests", write_tests},
                 {"week", write_week},
                 {"events", write_events}};
    Season *season = experiment_first_squad(task);
    Text folder = {0}, paths = {0};
    StatusCode code = STATUS_OK;
    if (!season)
        return code;
    text_add(&folder, "%s/first-squad", o->folder);
    code = outfile_make_folder(text_of(&folder), status);
    for (int i = 0; i < 4 && code == STATUS_OK; i++) {
        Text path = {0};
        text_add(&path, "%s/%s.csv", text_of(&folder), files[i].name);
        code = outfile_write(text_of(&path), files[i].fill, season, status);
        text_add(&paths, "%s\n", text_of(&path));
        text_free(&path);
    }
    if (code == STATUS_OK && !o->csv)
        output_list(o, "Files (the first squad, a season)", &paths);
    text_free(&folder);
    text_free(&paths);
    season_free(season);
    return code;
}
