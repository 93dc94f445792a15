/* plot: see plot.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "present/plot.h"

#include "base/mem.h"
#include "base/outfile.h"
#include "base/signals.h"
#include "present/svg.h"

#include <assert.h>
#include <ctype.h>
#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

extern char **environ;

const char *const picture_format_names[] = {"svg", "png", "pdf", "text", NULL};

/* ---- what is sent ---- */

void plot_number(Plot *plot, const char *variable, double value) {
    if (isfinite(value))
        text_add(&plot->script, "%s = %.12g\n", variable, value);
    else
        text_add(&plot->script, "%s = NaN\n", variable);
}

/* Bytes that mean themselves in gnuplot's double-quoted strings. */
static bool means_itself(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
           (c >= '0' && c <= '9') || (c && strchr(" -_.,:()/%", c));
}

/* In double quotes, all else as octal escapes: gnuplot 5.4 refuses some
 * single-quoted strings with quotes in them, and runs what stands between
 * backquotes in double-quoted ones. It reads three digits, but four where the
 * first is 0. */
static void put_quoted(Text *to, const char *text) {
    text_put(to, "\"", 1);
    for (; *text; text++)
        if (means_itself(*text))
            text_put(to, text, 1);
        else
            text_add(to, (unsigned char)*text < 0100 ? "\\%04o" : "\\%03o",
                     (unsigned)(unsigned char)*text);
    text_put(to, "\"", 1);
}

/* What is to be read in a picture: control characters are blanks. */
static void put_shown(Text *to, const char *text) {
    Text shown = {0};
    for (; *text; text++) {
        unsigned char c = (unsigned char)*text;
        text_put(&shown, c < 0x20 || c == 0x7F ? " " : text, 1);
    }
    put_quoted(to, text_of(&shown));
    text_free(&shown);
}

void plot_string(Plot *plot, const char *variable, const char *text) {
    text_add(&plot->script, "%s = ", variable);
    put_shown(&plot->script, text);
    text_add(&plot->script, "\n");
}

void plot_start(Plot *plot, const char *title, const char *subtitle) {
    text_add(&plot->title, "%s", title);
    plot_string(plot, "title", title);
    plot_string(plot, "subtitle", subtitle);
}

void plot_nth_string(Plot *plot, const char *what, size_t nth,
                     const char *text) {
    char variable[64];
    snprintf(variable, sizeof variable, "%s_%zu", what, nth + 1);
    plot_string(plot, variable, text);
}

void plot_strings(Plot *plot, const char *what, const char *const *texts,
                  size_t count) {
    for (size_t i = 0; i < count; i++)
        plot_nth_string(plot, what, i, texts[i]);
}

double plot_seconds(Date date) {
    return date == DATE_NONE ? NAN : 86400.0 * date;
}

void plot_block(Plot *plot, const char *name) {
    text_add(&plot->script, "$%s << END_OF_ROWS\n", name);
}

void plot_row(Plot *plot, const double *values, int count) {
    for (int i = 0; i < count; i++) {
        text_add(&plot->script, i ? " " : "");
        if (isfinite(values[i]))
            text_add(&plot->script, "%.10g", values[i]);
        else
            text_add(&plot->script, "NaN");
    }
    text_add(&plot->script, "\n");
}

void plot_block_end(Plot *plot) {
    text_add(&plot->script, "END_OF_ROWS\n");
}

const char *plot_figure(char buffer[PLOT_FIGURE], double value) {
    snprintf(buffer, PLOT_FIGURE, fabs(value) < 1000 ? "%.4g" : "%.0f", value);
    return buffer;
}

void plot_alt_line(Plot *plot, const char *name, const double *value,
                   size_t count, size_t stride) {
    double first = NAN, last = NAN, low = NAN, high = NAN;
    char shown[4][PLOT_FIGURE];
    for (size_t i = 0; i < count; i++) {
        double v = value[i * stride];
        if (!isfinite(v))
            continue;
        first = isfinite(first) ? first : v;
        last = v;
        low = fmin(low, v);
        high = fmax(high, v);
    }
    if (isfinite(first))
        text_add(&plot->alt,
                 "%s begins at %s, ends at %s, lies between %s and %s. ", name,
                 plot_figure(shown[0], first), plot_figure(shown[1], last),
                 plot_figure(shown[2], low), plot_figure(shown[3], high));
}

void plot_free(Plot *plot) {
    text_free(&plot->script);
    text_free(&plot->title);
    text_free(&plot->alt);
}

void plot_file_name(Text *name, const char *text) {
    size_t length = 0;
    for (; *text && length < 60; text++, length++) {
        unsigned char c = (unsigned char)*text;
        bool inside = (c & 0xC0) == 0x80; /* of a character of many bytes */
        bool plain = c < 0x80 && (isalnum(c) || c == '-' || c == '_' ||
                                  (c == '.' && length > 0));
        if (!inside)
            text_put(name, plain ? text : "_", 1);
    }
}

/* ---- gnuplot ---- */

static const char *extension(PictureFormat format) {
    static const char *const endings[] = {"svg", "png", "pdf",
                                          "txt", "gif", "svg"};
    return endings[format];
}

static const char *terminal(PictureFormat format) {
    static const char *const terminals[] = {
        "svg size 1000,620 dynamic font 'DejaVu Sans,14' "
        "background '#ffffff' noenhanced",
        "pngcairo size 1500,930 font 'DejaVu Sans,16' linewidth 1.4 "
        "background '#ffffff' noenhanced",
        "pdfcairo size 25cm,15.5cm font 'DejaVu Sans,11' noenhanced",
        "dumb size 100,36 noenhanced",
        "gif animate delay 25 loop 3 optimize size 1024,640 "
        "font 'DejaVu Sans,13' background '#ffffff' noenhanced",
        "svg dynamic font 'DejaVu Sans,12' background '#ffffff' noenhanced",
    };
    return terminals[format];
}

enum { NARROW_HEIGHT = 460 };

static void set_out(Text *script, const Gallery *gallery, const Plot *plot,
                    const char *file) {
    int height = plot->height ? plot->height : NARROW_HEIGHT;
    bool narrow = gallery->format == PICTURE_NARROW;
    text_add(script, "reset\nset encoding utf8\nset terminal %s",
             terminal(gallery->format));
    if (narrow)
        text_add(script, " size 320,%d", height);
    text_add(script, "\nset output ");
    put_quoted(script, file);
    text_add(script, "\nplain_text = %d\nnarrow = %d\nscripts = ",
             gallery->format == PICTURE_TEXT, narrow ? height : 0);
    put_quoted(script, gallery->scripts);
    text_add(script, "\n");
}

static void set_script(Text *script, const Gallery *gallery, const char *name) {
    Text path = {0};
    text_add(&path, "%s/%s", gallery->scripts, name);
    text_add(script, "load ");
    put_quoted(script, text_of(&path));
    text_add(script, "\nunset output\n");
    text_free(&path);
}

/* Is there a program of this name on the PATH? Asked first, since a shell-less
 * start may tell a missing one from a failing one by its exit code only. */
static bool is_installed(const char *name) {
    const char *path = getenv("PATH");
    Text file = {0};
    bool found = false;
    while (path && *path && !found) {
        size_t length = strcspn(path, ":");
        text_clear(&file);
        text_add(&file, "%.*s/%s", (int)length, path, name);
        found = length > 0 && access(text_of(&file), X_OK) == 0;
        path += length + (path[length] == ':');
    }
    text_free(&file);
    return found;
}

static pid_t at_work; /* gnuplot; 0: none. Changes while signals are held. */

void plot_abandon(void) {
    int outcome;
    if (at_work <= 0)
        return;
    kill(at_work, SIGKILL);
    while (waitpid(at_work, &outcome, 0) < 0 && errno == EINTR)
        ;
}

/* What gnuplot's process begins with: the signals as they were before they
 * were held, SIGPIPE as usual. */
static void set_signals(posix_spawnattr_t *attributes, const sigset_t *before) {
    sigset_t pipe_signal;
    sigemptyset(&pipe_signal);
    sigaddset(&pipe_signal, SIGPIPE);
    posix_spawnattr_setsigdefault(attributes, &pipe_signal);
    posix_spawnattr_setsigmask(attributes, before);
    posix_spawnattr_setflags(attributes,
                             POSIX_SPAWN_SETSIGDEF | POSIX_SPAWN_SETSIGMASK);
}

/* Starts gnuplot with the pipe's reading end as its input and `errors` for
 * what it says. `-d` keeps the user's own start file out. */
static int start(int input, int other_end, FILE *errors, pid_t *child) {
    char *const words[] = {"gnuplot", "-d", NULL};
    posix_spawn_file_actions_t actions;
    posix_spawnattr_t attributes;
    sigset_t before;
    int error;
    posix_spawn_file_actions_init(&actions);
    posix_spawnattr_init(&attributes);
    error = posix_spawn_file_actions_adddup2(&actions, input, 0);
    if (!error)
        error =
            posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", 1, 0);
    if (!error)
        error = posix_spawn_file_actions_adddup2(&actions, fileno(errors), 2);
    if (!error && input != 0)
        error = posix_spawn_file_actions_addclose(&actions, input);
    if (!error)
        error = posix_spawn_file_actions_addclose(&actions, other_end);
    signals_hold(&before);
    set_signals(&attributes, &before);
    if (!error)
        error = posix_spawnp(child, words[0], &actions, &attributes, words,
                             environ);
    if (!error)
        at_work = *child;
    signals_let(&before);
    posix_spawn_file_actions_destroy(&actions);
    posix_spawnattr_destroy(&attributes);
    return error;
}

enum { PATIENCE = 60 }; /* [s] gnuplot gets for a picture */

static double seconds_now(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* Writes all, until `deadline`; a reader that went away is not an error here,
 * since its exit status tells more. */
static void feed(int to, const char *bytes, size_t length, double deadline) {
    struct pollfd pipe_end = {.fd = to, .events = POLLOUT};
    (void)fcntl(to, F_SETFL, fcntl(to, F_GETFL) | O_NONBLOCK);
    while (length > 0 && seconds_now() < deadline) {
        ssize_t put = write(to, bytes, length);
        if (put < 0 && (errno == EINTR || errno == EAGAIN)) {
            poll(&pipe_end, 1, 200);
            continue;
        }
        if (put <= 0)
            return;
        bytes += put;
        length -= (size_t)put;
    }
}

/* Has it ended? */
static bool ended(pid_t child, int how, int *outcome) {
    sigset_t before;
    pid_t done;
    signals_hold(&before);
    done = waitpid(child, outcome, how);
    if (done != 0)
        at_work = 0;
    signals_let(&before);
    return done != 0;
}

/* Waits for gnuplot, and ends it at the deadline. False if it was ended. */
static bool await(pid_t child, double deadline, int *outcome) {
    struct timespec nap = {0, 2000000};
    for (;;) {
        if (ended(child, WNOHANG, outcome))
            return true;
        if (seconds_now() >= deadline)
            break;
        nanosleep(&nap, NULL);
    }
    kill(child, SIGKILL);
    (void)ended(child, 0, outcome);
    return false;
}

/* The first lines that gnuplot said, on one line. */
static void words_of(FILE *errors, char text[STATUS_TEXT / 2]) {
    size_t length;
    Text shown = {0};
    rewind(errors);
    length = fread(text, 1, STATUS_TEXT / 2 - 1, errors);
    text[length] = '\0';
    text_show(&shown, text);
    snprintf(text, STATUS_TEXT / 2, "%s", text_of(&shown));
    text_free(&shown);
}

static StatusCode judge(PictureFormat format, bool in_time, int outcome,
                        const char *said, Status *status) {
    if (!in_time)
        return status_fail(status, STATUS_SYSTEM,
                           "gnuplot did not finish within %d s and was ended",
                           PATIENCE);
    if (!WIFEXITED(outcome))
        return status_fail(status, STATUS_SYSTEM,
                           "gnuplot was ended by signal %d: %s",
                           WTERMSIG(outcome), said);
    if (format == PICTURE_GIF && strstr(said, "terminal type"))
        return status_fail(status, STATUS_SYSTEM,
                           "this gnuplot makes no animations (it has no "
                           "terminal gif); the one of Debian package "
                           "gnuplot-nox does");
    if (WEXITSTATUS(outcome) != 0)
        return status_fail(status, STATUS_SYSTEM,
                           "gnuplot failed (exit %d): %s", WEXITSTATUS(outcome),
                           said);
    return STATUS_OK;
}

/* A gnuplot that is at work. */
typedef struct {
    pid_t child;
    int to; /* its input */
    FILE *errors;
    bool late; /* it took in nothing for too long */
} Gnuplot;

static StatusCode gnuplot_start(Gnuplot *g, Status *status) {
    int ends[2], error;
    *g = (Gnuplot){.to = -1};
    if (!is_installed("gnuplot"))
        return status_fail(status, STATUS_SYSTEM,
                           "gnuplot, which draws the pictures, is not "
                           "installed: Debian package gnuplot-nox");
    g->errors = tmpfile();
    if (!g->errors || pipe(ends) != 0) {
        error = errno;
    } else {
        error = start(ends[0], ends[1], g->errors, &g->child);
        close(ends[0]);
        if (error)
            close(ends[1]);
        g->to = ends[1];
    }
    if (error == 0)
        return STATUS_OK;
    if (g->errors)
        fclose(g->errors);
    return status_fail(status, STATUS_SYSTEM, "gnuplot cannot be started: %s",
                       strerror(error));
}

static void gnuplot_feed(Gnuplot *g, const Text *script) {
    double deadline = seconds_now() + PATIENCE;
    feed(g->to, text_of(script), script->length, deadline);
    g->late = g->late || seconds_now() >= deadline;
}

static StatusCode gnuplot_end(Gnuplot *g, PictureFormat format,
                              Status *status) {
    int outcome = 0;
    char said[STATUS_TEXT / 2];
    bool in_time;
    close(g->to);
    in_time = await(g->child, g->late ? 0 : seconds_now() + PATIENCE, &outcome);
    words_of(g->errors, said);
    fclose(g->errors);
    return judge(format, in_time && !g->late, outcome, said, status);
}

/* gnuplot can exit with 0 and leave a cut file: look at its end. */
static bool is_whole(const char *path, PictureFormat format) {
    static const char *const ends[] = {"</svg>", "IEND", "%%EOF",
                                       "\n",     ";",    "</svg>"};
    char tail[64] = {0};
    FILE *file = fopen(path, "rb");
    size_t length, wanted = strlen(ends[format]);
    bool found = false;
    if (!file)
        return false;
    if (fseek(file, -(long)sizeof tail + 1, SEEK_END) != 0)
        rewind(file);
    length = fread(tail, 1, sizeof tail - 1, file);
    fclose(file);
    if (format == PICTURE_GIF) /* its last byte */
        return length > 0 && tail[length - 1] == ends[format][0];
    for (size_t i = 0; i + wanted <= length && !found; i++)
        found = memcmp(tail + i, ends[format], wanted) == 0;
    return found;
}

/* ---- an SVG's own title and words ---- */

static const char *in_xml(char c) {
    unsigned char u = (unsigned char)c;
    if (u < 0x20 || u == 0x7F)
        return " ";
    return c == '&'   ? "&amp;"
           : c == '<' ? "&lt;"
           : c == '>' ? "&gt;"
           : c == '"' ? "&quot;"
                      : NULL;
}

/* The SVG with what gnuplot says of itself replaced; empty: it says nothing. */
static void put_words(const char *svg, const Plot *plot, Text *ours) {
    const char *from = strstr(svg, "<title>"), *to = strstr(svg, "</desc>");
    if (!from || !to || from > to)
        return;
    text_put(ours, svg, (size_t)(from - svg));
    text_add(ours, "<title>");
    text_escape(ours, text_of(&plot->title), in_xml);
    text_add(ours, "</title>\n<desc>");
    text_escape(ours, text_of(&plot->alt), in_xml);
    text_add(ours, "%s", to);
}

/* gnuplot gives its own name as each SVG's title, which browsers show, and as
 * its description, which screen readers read: the picture's own stand there
 * instead. */
static StatusCode set_words(const char *path, const Plot *plot, bool pack,
                            Status *status) {
    Text whole = {0}, ours = {0}, packed = {0};
    FILE *file = fopen(path, "rb");
    char block[4096];
    size_t got;
    bool written = false;
    while (file && (got = fread(block, 1, sizeof block, file)) > 0)
        text_put(&whole, block, got);
    put_words(text_of(&whole), plot, &ours);
    if (pack) {
        svg_pack(text_of(&ours), &packed);
        text_free(&ours);
        ours = packed;
    }
    if (file && ours.length)
        file = freopen(path, "wb", file);
    if (file && ours.length)
        written = fwrite(text_of(&ours), 1, ours.length, file) == ours.length;
    if (file && fclose(file) != 0)
        written = false;
    if (ours.length && !written)
        status_fail(status, STATUS_SYSTEM, "%s cannot be written: %s", path,
                    strerror(errno));
    text_free(&whole);
    text_free(&ours);
    return status->code;
}

/* ---- pictures on their way ---- */

typedef struct {
    OutFile *out;
    const char *temporary;
    char *path;
    Plot plot; /* without its script */
    PictureFormat format;
} OnTheWay;

struct PlotSeries {
    Gnuplot gnuplot;
    bool started;
    OnTheWay *items;
    size_t count, room;
};

/* Takes the plot. */
static StatusCode picture_open(const Gallery *gallery, Plot *plot,
                               const char *name, OnTheWay *one,
                               Status *status) {
    Text file = {0};
    assert(plot->alt.length > 0);
    text_add(&file, "%s/%s.%s", gallery->folder, name,
             extension(gallery->format));
    *one = (OnTheWay){.out = outfile_open(text_of(&file), status),
                      .format = gallery->format};
    if (one->out) {
        one->temporary = outfile_hand_over(one->out);
        one->path = mem_copy(text_of(&file));
        one->plot = *plot;
        *plot = (Plot){0};
    }
    text_free(&file);
    return one->out ? STATUS_OK : status->code;
}

/* Gives the picture its name, if it was drawn well; frees it. */
static StatusCode picture_close(OnTheWay *one, StatusCode code,
                                Status *status) {
    if (code == STATUS_OK && !is_whole(one->temporary, one->format))
        code = status_fail(status, STATUS_SYSTEM,
                           "%s: gnuplot left no whole picture (is the "
                           "disk full?)",
                           one->path);
    if (code == STATUS_OK &&
        (one->format == PICTURE_SVG || one->format == PICTURE_NARROW))
        code = set_words(one->temporary, &one->plot,
                         one->format == PICTURE_NARROW, status);
    if (code == STATUS_OK)
        code = outfile_commit(one->out, status);
    else
        outfile_abandon(one->out);
    free(one->path);
    plot_free(&one->plot);
    return code;
}

PlotSeries *plot_series(void) {
    return mem_new(1, sizeof(PlotSeries));
}

StatusCode plot_series_end(PlotSeries *series, StatusCode code,
                           Status *status) {
    Status drawn = {0};
    PictureFormat format =
        series->count ? series->items[0].format : PICTURE_SVG;
    if (series->started && code != STATUS_OK)
        kill(series->gnuplot.child, SIGKILL);
    if (series->started &&
        gnuplot_end(&series->gnuplot, format, &drawn) != STATUS_OK &&
        code == STATUS_OK)
        code = status_fail(status, drawn.code, "%s", drawn.text);
    for (size_t i = 0; i < series->count; i++)
        code = picture_close(&series->items[i], code, status);
    free(series->items);
    free(series);
    return code;
}

static StatusCode series_add(PlotSeries *s, const OnTheWay *one,
                             const Text *script, Status *status) {
    s->items = mem_grow(s->items, &s->room, s->count + 1, sizeof *s->items);
    s->items[s->count++] = *one;
    if (!s->started) {
        if (gnuplot_start(&s->gnuplot, status) != STATUS_OK)
            return status->code;
        s->started = true;
    }
    gnuplot_feed(&s->gnuplot, script);
    return s->gnuplot.late
               ? status_fail(status, STATUS_SYSTEM,
                             "gnuplot did not finish within %d s and was ended",
                             PATIENCE)
               : STATUS_OK;
}

static StatusCode draw_alone(OnTheWay *one, const Text *script,
                             Status *status) {
    Gnuplot gnuplot;
    StatusCode code = gnuplot_start(&gnuplot, status);
    if (code == STATUS_OK) {
        gnuplot_feed(&gnuplot, script);
        code = gnuplot_end(&gnuplot, one->format, status);
    }
    return picture_close(one, code, status);
}

StatusCode plot_draw(Plot *plot, const Gallery *gallery, const char *script,
                     const char *name, Text *path, Status *status) {
    Text whole = {0}, line = {0};
    OnTheWay one;
    StatusCode code = picture_open(gallery, plot, name, &one, status);
    if (code == STATUS_OK) {
        text_add(&line, "%s\n", one.path);
        set_out(&whole, gallery, &one.plot, one.temporary);
        text_put(&whole, text_of(&one.plot.script), one.plot.script.length);
        text_free(&one.plot.script);
        set_script(&whole, gallery, script);
        code = gallery->series
                   ? series_add(gallery->series, &one, &whole, status)
                   : draw_alone(&one, &whole, status);
    }
    if (code == STATUS_OK && path)
        text_add(path, "%s", text_of(&line));
    text_free(&whole);
    text_free(&line);
    plot_free(plot);
    return code;
}
