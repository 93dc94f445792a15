/* plot: pictures in every format; hostile names; a gnuplot that is missing,
 * fails or gets a script that is wrong.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "test.h"

#include "base/text.h"
#include "present/option_pictures.h"
#include "present/pictures.h"

#include <glob.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static void file_names(void) {
    static const struct {
        const char *text, *name;
    } rows[] = {{"wing-07", "wing-07"}, {"../../x", "_._.._x"},
                {"a b", "a_b"},         {"/etc/passwd", "_etc_passwd"},
                {".hidden", "_hidden"}, {"\xC3\xA9", "_"},
                {"`rm`", "_rm_"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Text name = {0};
        plot_file_name(&name, rows[i].text);
        CU_ASSERT_PTR_NULL(strchr(text_of(&name), '/'));
        CU_ASSERT(text_of(&name)[0] != '.');
        ASSERT_TEXT(text_of(&name), rows[i].name);
        text_free(&name);
    }
}

static const char *const hostile =
    "a`touch HERE`b $(touch HERE) 'q' \"d\" @_^{x} \\n %s\n"
    "END_OF_ROWS\nsystem('touch HERE')\n<b>&amp; \xE2\x98\x83 \xD7\xA9";

static Gallery gallery(const char *folder, PictureFormat format) {
    return (Gallery){folder, "plots", format, NULL};
}

static StatusCode draw_season(const char *words, const Gallery *g,
                              const char *name, Status *status) {
    static const double load[] = {300, 0, 450, 240, 0};
    static const double fitness[] = {10, 12, 11, 14, 15};
    static const double fatigue[] = {8, 9, 7, 9, 6};
    static const double readiness[] = {2, 3, 4, 5, 9};
    static const Date tests[] = {20501};
    static const double values[] = {33.5};
    PictureEvent event = {20504, 1, words};
    SeasonPicture p = {.title = words,
                       .subtitle = words,
                       .load_label = words,
                       .readiness_label = words,
                       .test_label = words,
                       .first = 20500,
                       .days = 5,
                       .log_days = 3,
                       .load = load,
                       .fitness = fitness,
                       .fatigue = fatigue,
                       .readiness = readiness,
                       .test_date = tests,
                       .test_value = values,
                       .tests = 1,
                       .event = &event,
                       .events = 1,
                       .taper_from = 20503,
                       .taper_to = 20503,
                       .today = 20502};
    return picture_season(&p, g, name, NULL, status);
}

static StatusCode draw_comparison(const char *words, const Gallery *g,
                                  const char *name, Status *status) {
    static const double readiness[] = {1, 2, 3, 2, 3, 4};
    const char *names[] = {words, "none"};
    ComparisonPicture p = {.title = words,
                           .subtitle = words,
                           .readiness_label = words,
                           .names = names,
                           .options = 2,
                           .readiness = readiness,
                           .days = 3,
                           .first_offset = -2,
                           .event_days = 1};
    return picture_comparison(&p, g, name, NULL, status);
}

static const ResponseParams classic = {RESPONSE_TWO_COMPONENT,
                                       {500, 1, 2, 45, 15, NAN, NAN, NAN}};

static char *picture_path(const char *folder, const char *name,
                          PictureFormat format) {
    static char path[500];
    static const char *const ends[] = {"svg", "png", "pdf", "txt"};
    snprintf(path, sizeof path, "%s/%s.%s", folder, name, ends[format]);
    return path;
}

/* Every format begins as its standard says. */
static void check_format(const char *path, PictureFormat format) {
    static const char *const begins[] = {"<?xml", "\x89PNG", "%PDF", ""};
    size_t length = 0;
    char *bytes = test_read(path, &length);
    CU_ASSERT_PTR_NOT_NULL_FATAL(bytes);
    CU_ASSERT(length > 500);
    CU_ASSERT_EQUAL(memcmp(bytes, begins[format], strlen(begins[format])), 0);
    free(bytes);
}

static void formats(void) {
    const char *folder = test_folder();
    for (int f = 0; f < PICTURE_FORMATS; f++) {
        Gallery g = gallery(folder, (PictureFormat)f);
        Status status = {0};
        CU_ASSERT_EQUAL(draw_season("plain", &g, "season", &status), 0);
        CU_ASSERT_EQUAL(draw_comparison("plain", &g, "comparison", &status), 0);
        CU_ASSERT_EQUAL(picture_influence(&classic, "t", "s", &g, "influence",
                                          NULL, &status),
                        0);
        ASSERT_TEXT(status.text, "");
        check_format(picture_path(folder, "season", g.format), g.format);
        check_format(picture_path(folder, "comparison", g.format), g.format);
        check_format(picture_path(folder, "influence", g.format), g.format);
    }
    test_folder_done();
}

static size_t count_files(const char *folder) {
    const char *words[] = {"/bin/ls", "-A", folder, NULL};
    char *out = NULL;
    size_t lines = 0;
    CU_ASSERT_EQUAL(test_run(words, &out, NULL), 0);
    for (const char *s = out; *s; s++)
        lines += *s == '\n';
    free(out);
    return lines;
}

/* Nothing in a name is run or taken for markup; the XML stays well formed (an
 * independent parser, Python's expat, reads it and finds the name again). */
static void hostile_names(void) {
    static const char *const script =
        "import sys, xml.etree.ElementTree as E\n"
        "root = E.parse(sys.argv[1]).getroot()\n"
        "text = ''.join(t for e in\n"
        "               root.iter('{http://www.w3.org/2000/svg}text')\n"
        "               for t in e.itertext())\n"
        "print('touch HERE' in text, '@_^{x}' in text, '%s' in text,\n"
        "      '&amp;' in text, '<b>' in text)\n";
    const char *folder = test_folder();
    Gallery g = gallery(folder, PICTURE_SVG);
    Status status = {0};
    char here[1200], *out;
    const char *arguments[] = {NULL, NULL};
    CU_ASSERT_EQUAL(draw_season(hostile, &g, "season", &status), 0);
    CU_ASSERT_EQUAL(draw_comparison(hostile, &g, "comparison", &status), 0);
    CU_ASSERT_EQUAL(picture_influence(&classic, hostile, hostile, &g,
                                      "influence", NULL, &status),
                    0);
    ASSERT_TEXT(status.text, "");
    CU_ASSERT_EQUAL(count_files(folder), 3);
    CU_ASSERT(access("HERE", F_OK) != 0);
    snprintf(here, sizeof here, "%s/influence.svg", folder);
    arguments[0] = here;
    out = test_python(script, arguments);
    ASSERT_TEXT(out, "True True True True True\n");
    free(out);
    test_folder_done();
}

/* Words that gnuplot 5.4.4 refused, or might run, in single or double quotes:
 * each is drawn and found again, letter for letter, by Python's expat. */
static void sure_strings(void) {
    static const char *const words[] = {"'t Hart",
                                        "'s-Hertogenbosch Open",
                                        "'x",
                                        "a '' b",
                                        "it's",
                                        "'",
                                        "''",
                                        "x'",
                                        "\"q\"",
                                        "\\",
                                        "a\\nb",
                                        "`touch HERE`",
                                        "$(touch X)",
                                        "@title ^ _ {}",
                                        "100 % \303\251",
                                        "\\047 \\x27",
                                        "3 weeks at +20 %, team #7, 14d+0~75",
                                        "<b> & 'c' &amp;"};
    /* in what is drawn, and the picture's own title is the same; its own words
     * tell what is to be seen (t_n and t_g: Fitz-Clarke et al. 1991, by R) */
    static const char *const script =
        "import sys, xml.etree.ElementTree as E\n"
        "root = E.parse(sys.argv[1]).getroot()\n"
        "svg = '{http://www.w3.org/2000/svg}'\n"
        "text = ''.join(t for e in root.iter(svg + 'text')\n"
        "               for t in e.itertext())\n"
        "print(sys.argv[2] in text, root.find(svg + 'title').text =="
        " sys.argv[2], 'last 15.6 days (t_n). Largest at 40.3 days (t_g).'\n"
        "      in root.find(svg + 'desc').text)\n";
    const char *folder = test_folder();
    Gallery g = gallery(folder, PICTURE_SVG);
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        Status status = {0};
        char here[1200], *out;
        const char *arguments[] = {here, words[i], NULL};
        snprintf(here, sizeof here, "%s/words.svg", folder);
        CU_ASSERT_EQUAL(picture_influence(&classic, words[i], "", &g, "words",
                                          NULL, &status),
                        0);
        ASSERT_TEXT(status.text, "");
        out = test_python(script, arguments);
        ASSERT_TEXT(out, "True True True\n");
        free(out);
    }
    CU_ASSERT(access("HERE", F_OK) != 0);
    test_folder_done();
}

/* A long title and subtitle stand whole, on two lines where they must. */
static void long_titles(void) {
    static const char *const script =
        "import sys, xml.etree.ElementTree as E\n"
        "svg = '{http://www.w3.org/2000/svg}'\n"
        "text = ' '.join(t for e in E.parse(sys.argv[1]).iter(svg + 'text')\n"
        "                for t in e.itertext())\n"
        "text = ' '.join(text.split())\n"
        "print(sys.argv[2] in text, sys.argv[3] in text,\n"
        "      '\\u2026' in text)\n";
    const char *folder = test_folder();
    Gallery g = gallery(folder, PICTURE_SVG);
    for (size_t count = 10; count <= 50; count += 20) {
        Status status = {0};
        Text title = {0}, subtitle = {0};
        char here[1200], *out;
        for (size_t i = 0; i < count; i++) {
            text_add(&title, "%sT%04zu", i ? " " : "", i);
            text_add(&subtitle, "%sS%04zu", i ? " " : "", i);
        }
        snprintf(here, sizeof here, "%s/long.svg", folder);
        CU_ASSERT_EQUAL(picture_influence(&classic, text_of(&title),
                                          text_of(&subtitle), &g, "long", NULL,
                                          &status),
                        0);
        out = test_python(script, (const char *[]){here, text_of(&title),
                                                   text_of(&subtitle), NULL});
        ASSERT_TEXT(out, "True True False\n");
        free(out);
        text_free(&title);
        text_free(&subtitle);
    }
    test_folder_done();
}

static void missing_gnuplot(void) {
    const char *folder = test_folder();
    Gallery g = gallery(folder, PICTURE_SVG);
    Status status = {0};
    char *path = strdup(getenv("PATH"));
    setenv("PATH", "/nowhere", 1);
    CU_ASSERT_EQUAL(draw_season("x", &g, "season", &status), STATUS_SYSTEM);
    setenv("PATH", path, 1);
    ASSERT_HAS(status.text, "is not installed: Debian package gnuplot-nox");
    CU_ASSERT_EQUAL(count_files(folder), 0);
    free(path);
    test_folder_done();
}

/* A stand-in for gnuplot, first in PATH, that does `body`. */
static StatusCode draw_with(const char *folder, const char *body,
                            Status *status) {
    Gallery g = gallery(folder, PICTURE_SVG);
    char *path = strdup(getenv("PATH"));
    char program[600];
    Text all = {0};
    StatusCode code;
    mkdir(strcat(strcpy(program, folder), "/bin"), 0777);
    text_add(&all, "#!/bin/sh\n%s\n", body);
    strcpy(program, test_file(0, "bin/gnuplot", text_of(&all)));
    chmod(program, 0755);
    text_clear(&all);
    text_add(&all, "%s/bin:%s", folder, path);
    setenv("PATH", text_of(&all), 1);
    code = draw_season("x", &g, "season", status);
    setenv("PATH", path, 1);
    free(path);
    text_free(&all);
    return code;
}

/* What gnuplot says is passed on; a picture is there whole or not at all. */
static void failing_gnuplot(void) {
    static const struct {
        const char *body, *said;
    } rows[] = {
        {"cat >/dev/null; echo 'no such thing' >&2; exit 1",
         "gnuplot failed (exit 1): no such thing"},
        {"exit 0", "gnuplot left no whole picture"},
        {"cat >/dev/null; kill -9 $$", "gnuplot was ended by signal 9"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const char *folder = test_folder();
        Status status = {0};
        CU_ASSERT_EQUAL(draw_with(folder, rows[i].body, &status),
                        STATUS_SYSTEM);
        ASSERT_HAS(status.text, rows[i].said);
        CU_ASSERT_EQUAL(count_files(folder), 1); /* bin */
        test_folder_done();
    }
}

/* A script that is wrong: gnuplot's own words reach the user. */
static void wrong_script(void) {
    const char *folder = test_folder();
    Gallery g = {folder, folder, PICTURE_SVG, NULL};
    Status status = {0};
    test_file(0, "season.gp", "plot nonsense(\n");
    CU_ASSERT_EQUAL(draw_season("x", &g, "season", &status), STATUS_SYSTEM);
    ASSERT_HAS(status.text, "gnuplot failed (exit 1)");
    ASSERT_HAS(status.text, "season.gp");
    CU_ASSERT_EQUAL(count_files(folder), 1);
    test_folder_done();
}

/* Two pictures by one gnuplot; the second is not what the first left behind. */
static void in_a_series(void) {
    const char *folder = test_folder();
    Gallery g = gallery(folder, PICTURE_SVG);
    Status status = {0};
    char *one, *two;
    g.series = plot_series();
    CU_ASSERT_EQUAL(draw_season("first", &g, "one", &status), 0);
    CU_ASSERT_EQUAL(draw_comparison("second", &g, "two", &status), 0);
    CU_ASSERT_EQUAL(plot_series_end(g.series, STATUS_OK, &status), 0);
    CU_ASSERT_EQUAL(count_files(folder), 2);
    one = test_read(picture_path(folder, "one", PICTURE_SVG), NULL);
    two = test_read(picture_path(folder, "two", PICTURE_SVG), NULL);
    CU_ASSERT_PTR_NOT_NULL_FATAL(one);
    CU_ASSERT_PTR_NOT_NULL_FATAL(two);
    ASSERT_HAS(one, "<title>first</title>");
    ASSERT_HAS(two, "<title>second</title>");
    CU_ASSERT_PTR_NULL(strstr(two, "first"));
    free(one);
    free(two);
    test_folder_done();
}

/* Of a series that fails, or is given up, nothing stays. */
static void broken_series(void) {
    const char *folder = test_folder();
    Gallery g = {folder, folder, PICTURE_SVG, NULL};
    Status status = {0};
    test_file(0, "season.gp", "plot nonsense(\n");
    g.series = plot_series();
    (void)draw_season("x", &g, "one", &status);
    (void)draw_season("x", &g, "two", &status);
    CU_ASSERT_EQUAL(plot_series_end(g.series, STATUS_OK, &status),
                    STATUS_SYSTEM);
    ASSERT_HAS(status.text, "gnuplot failed (exit 1)");
    CU_ASSERT_EQUAL(count_files(folder), 1);
    g = gallery(folder, PICTURE_SVG);
    g.series = plot_series();
    status = (Status){0};
    CU_ASSERT_EQUAL(draw_season("x", &g, "one", &status), 0);
    CU_ASSERT_EQUAL(plot_series_end(g.series, STATUS_DATA, &status),
                    STATUS_DATA);
    CU_ASSERT_EQUAL(count_files(folder), 1);
    test_folder_done();
}

/* The same picture twice is the same bytes. */
static void same_bytes(void) {
    const char *folder = test_folder();
    for (int f = 0; f < PICTURE_FORMATS; f++) {
        Gallery g = gallery(folder, (PictureFormat)f);
        Status status = {0};
        size_t length[2];
        char *bytes[2];
        if (f == PICTURE_PDF)
            continue; /* carries the date */
        for (int k = 0; k < 2; k++) {
            CU_ASSERT_EQUAL(draw_season("x", &g, k ? "two" : "one", &status),
                            0);
            bytes[k] = test_read(
                picture_path(folder, k ? "two" : "one", g.format), &length[k]);
        }
        CU_ASSERT_EQUAL(length[0], length[1]);
        CU_ASSERT_EQUAL(memcmp(bytes[0], bytes[1], length[0]), 0);
        free(bytes[0]);
        free(bytes[1]);
    }
    test_folder_done();
}

/* Of every colour against white, and what tells apart beside it
 * (tests/plot_contrast.py). */
static void contrast(void) {
    char *script = test_read("tests/plot_contrast.py", NULL), *out;
    CU_ASSERT_PTR_NOT_NULL_FATAL(script);
    out = test_python(script, (const char *[]){"plots", NULL});
    ASSERT_TEXT(out, "good True\n");
    free(script);
    free(out);
}

/* README's pictures have their own title and words (make example-pictures). */
static void examples(void) {
    glob_t found = {0};
    CU_ASSERT_EQUAL_FATAL(glob("plots/example-*.svg", 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        char *svg = test_read(found.gl_pathv[i], NULL);
        CU_ASSERT_PTR_NOT_NULL_FATAL(svg);
        CU_ASSERT_PTR_NULL(strstr(svg, "<title>Gnuplot"));
        ASSERT_HAS(svg, "<desc>");
        CU_ASSERT_PTR_NULL(strstr(svg, "Produced by"));
        free(svg);
    }
    globfree(&found);
}

static const TestCase cases[] = {{"file_names", file_names},
                                 {"formats", formats},
                                 {"hostile_names", hostile_names},
                                 {"sure_strings", sure_strings},
                                 {"contrast", contrast},
                                 {"examples", examples},
                                 {"long_titles", long_titles},
                                 {"missing_gnuplot", missing_gnuplot},
                                 {"failing_gnuplot", failing_gnuplot},
                                 {"wrong_script", wrong_script},
                                 {"in_a_series", in_a_series},
                                 {"broken_series", broken_series},
                                 {"same_bytes", same_bytes},
                                 {NULL, NULL}};

const TestSuite suite_present_plot = {"present", cases};
