/* The whole program from its command line on: words, one a line, then files
 * after lines "== NAME", as for season.c. @ among the words is the season's
 * folder. Drawing is left out: each picture is an empty one. The exit code is
 * one of four, a failure comes with a message, nothing printed holds control
 * characters or is cut inside a character, whatever the words, and what is
 * left in --out are whole files: pages that end, calendars with short lines.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#define _GNU_SOURCE
#define main program_main
#include "../../src/main.c"
#undef main

#include "fuzz.h"

#include "base/text.h"
#include "present/plot.h"

#include <dirent.h>
#include <ftw.h>
#include <stdbool.h>
#include <sys/stat.h>

enum { WORDS = 16 };

static char folder[64]; /* to work in; the season is in its folder season */
static int home;        /* where the fuzzer is */

/* ---- in the place of gnuplot ---- */

static void fill_picture(const void *unused, FILE *to) {
    (void)unused;
    fputs("<svg xmlns=\"http://www.w3.org/2000/svg\"></svg>\n", to);
}

StatusCode __wrap_plot_draw(Plot *plot, const Gallery *gallery,
                            const char *script, const char *name, Text *path,
                            Status *status);

StatusCode __wrap_plot_draw(Plot *plot, const Gallery *gallery,
                            const char *script, const char *name, Text *path,
                            Status *status) {
    Text file = {0};
    StatusCode code;
    (void)script;
    HOLDS(!strchr(name, '/') && name[0] != '.');
    HOLDS(text_of(&plot->script) != NULL);
    text_add(&file, "%s/%s.svg", gallery->folder, name);
    code = outfile_write(text_of(&file), fill_picture, NULL, status);
    if (code == STATUS_OK && path)
        text_add(path, "%s\n", text_of(&file));
    text_free(&file);
    plot_free(plot);
    return code;
}

/* ---- the folder ---- */

static int remove_one(const char *path, const struct stat *about, int kind,
                      struct FTW *where) {
    (void)about, (void)kind;
    return where->level > 0 ? remove(path) : 0;
}

static void remove_folder(void) {
    nftw(folder, remove_one, 16, FTW_DEPTH | FTW_PHYS);
    rmdir(folder);
}

static void fresh_folder(void) {
    if (!folder[0]) {
        snprintf(folder, sizeof folder, "%s/peakward-fuzz-XXXXXX",
                 access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp");
        home = open(".", O_RDONLY | O_DIRECTORY);
        HOLDS(mkdtemp(folder) && home >= 0);
        HOLDS(atexit(remove_folder) == 0);
        setenv("TMPDIR", folder, 1);
        setenv("SOURCE_DATE_EPOCH", "1774742400", 1);
    }
    nftw(folder, remove_one, 16, FTW_DEPTH | FTW_PHYS);
    HOLDS(chdir(folder) == 0 && mkdir("season", 0777) == 0);
}

static void write_season(const char *at, const char *end) {
    while (at < end) {
        const char *name = at + 3;
        const char *line = memchr(name, '\n', (size_t)(end - name)), *next;
        char path[64];
        FILE *file;
        if (!line)
            return;
        next = next_mark(line + 1, end);
        snprintf(path, sizeof path, "season/%.*s", (int)(line - name), name);
        /* settings that would write elsewhere are left out, as words are */
        if ((strcmp(path, "season/settings.csv") != 0 ||
             !memchr(line, '/', (size_t)(next - line))) &&
            line - name < 40 && !memchr(name, '/', (size_t)(line - name)) &&
            !memchr(name, '\0', (size_t)(line - name)) && name[0] != '.' &&
            (file = fopen(path, "wb")) != NULL) {
            fwrite(line + 1, 1, (size_t)(next - line - 1), file);
            fclose(file);
        }
        at = next;
    }
}

/* ---- what comes out ---- */

/* No control characters, but for line breaks, in text of whole characters; in
 * data for programs a file's cell may hold a carriage return. */
static void check_text(const char *bytes, size_t length, bool data) {
    HOLDS(utf8_check(bytes, length) == length);
    for (size_t i = 0; i < length; i++) {
        unsigned char c = (unsigned char)bytes[i];
        HOLDS(c >= ' ' || c == '\n' || c == '\t' || (data && c == '\r'));
        HOLDS(c != 0x7f);
        HOLDS(c != 0xC2 || (unsigned char)bytes[i + 1] >= 0xA0);
    }
}

static void check_calendar(const char *bytes, size_t length) {
    size_t line = 0;
    for (size_t i = 0; i < length; i++) {
        HOLDS(bytes[i] != '\n' || (i > 0 && bytes[i - 1] == '\r'));
        HOLDS(bytes[i] != '\r' || (i + 1 < length && bytes[i + 1] == '\n'));
        line = bytes[i] == '\n' ? 0 : line + (bytes[i] != '\r');
        HOLDS(line <= 75);
    }
    HOLDS(line == 0);
}

static bool ends(const char *text, const char *with) {
    size_t length = strlen(text), wanted = strlen(with);
    return length >= wanted && strcmp(text + length - wanted, with) == 0;
}

static int check_file(const char *path, const struct stat *about, int kind,
                      struct FTW *where) {
    FILE *file;
    char *bytes;
    size_t length;
    HOLDS(path[where->base] != '.' || where->level == 0);
    if (kind != FTW_F || strstr(path, "/season/"))
        return 0;
    file = fopen(path, "rb");
    HOLDS(file != NULL);
    bytes = malloc((size_t)about->st_size + 1);
    length = fread(bytes, 1, (size_t)about->st_size, file);
    bytes[length] = '\0';
    HOLDS(length > 0 && utf8_check(bytes, length) == length);
    if (ends(path, ".ics"))
        check_calendar(bytes, length);
    if (ends(path, ".html"))
        HOLDS(ends(bytes, "</html>\n"));
    free(bytes);
    fclose(file);
    return 0;
}

static void run_words(int count, char **words) {
    char *out = NULL, *err = NULL;
    size_t out_length = 0, err_length = 0;
    FILE *kept_out = stdout, *kept_err = stderr;
    bool data = false;
    int code;
    for (int i = 1; i < count; i++)
        data = data || strcmp(words[i], "--csv") == 0;
    said = 0;
    quiet = false;
    stdout = open_memstream(&out, &out_length);
    stderr = open_memstream(&err, &err_length);
    code = program_main(count, words);
    fclose(stdout);
    fclose(stderr);
    stdout = kept_out;
    stderr = kept_err;
    HOLDS(code >= 0 && code <= 3);
    HOLDS(code == 0 || err_length > 0 ||
          (strcmp(words[1], "check") == 0 && out_length > 0));
    check_text(out, out_length, data);
    check_text(err, err_length, false);
    nftw(folder, check_file, 16, FTW_PHYS);
    free(out);
    free(err);
}

/* Words that would look or write elsewhere are left out. */
static bool harmless(const char *word) {
    return !strchr(word, '/') && !strstr(word, "..");
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *copy = malloc(size + 1), *words[WORDS + 2] = {"peakward"};
    const char *mark;
    int count = 1;
    memcpy(copy, data, size);
    copy[size] = '\0';
    mark = next_mark(copy, copy + size);
    fresh_folder();
    write_season(mark, copy + size);
    copy[mark - copy] = '\0';
    count += split_words(copy, harmless, WORDS - 1, words + 1);
    for (int i = 1; i < count; i++)
        words[i] = strcmp(words[i], "@") == 0 ? "season" : words[i];
    if (count > 1)
        run_words(count, words);
    HOLDS(fchdir(home) == 0);
    free(copy);
    return 0;
}
