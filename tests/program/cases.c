/* cases: command lines and what must come of them, from tests/program/cases. A
 * test is a file there, a case begins with its command line:
 *
 *     # Why, for the reader.
 *     $ taper @ --max-cut 50%
 *     file week.csv
 *         weekday,session,load
 *         mon,Gym,300
 *     exit 1
 *     err week.csv:2: what stands in standard error, and goes on
 *         here
 *     out what stands in standard output
 *
 * `@` stands for the season's folder and `~` inside a word for a blank. Unless
 * the case has them, sessions.csv is a log of six weeks and events.csv a cup,
 * but for a case with an events.csv of its own. Without `exit` the exit code is
 * 0, without `err` or `out` nothing may be printed there; each may stand
 * several times, and counts wherever the program ends its lines. \n, \t, \r, \\
 * and \xHH (two digits) are what they are in C; a backslash that ends a line of
 * a file keeps it from ending there.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "runs.h"
#include "test.h"

#include "base/text.h"

#include <glob.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define FOLDER "tests/program/cases/"

enum { PARTS_MOST = 12 };

typedef enum { PART_FILE, PART_ERR, PART_OUT } PartKind;

/* A file to be written, or what is wanted of a stream. */
typedef struct {
    PartKind kind;
    Text name, text;
} Part;

typedef struct {
    const char *path; /* of the file with the cases */
    unsigned line;
    Text arguments;
    Part parts[PARTS_MOST];
    size_t count;
    int code;
} Case;

static void case_fails(const Case *c, const char *message) {
    CU_assertImplementation(CU_FALSE, c->line, message, c->path, "", CU_FALSE);
}

/* ---- running one ---- */

static bool has_file(const Case *c, const char *name) {
    for (size_t i = 0; i < c->count; i++)
        if (c->parts[i].kind == PART_FILE &&
            strcmp(text_of(&c->parts[i].name), name) == 0)
            return true;
    return false;
}

static void write_files(const Case *c) {
    int slot = 2;
    test_file(0, "sessions.csv", good_log);
    if (!has_file(c, "events.csv"))
        test_file(1, "events.csv", "event,start\nCup,2026-03-07\n");
    for (size_t i = 0; i < c->count; i++)
        if (c->parts[i].kind == PART_FILE)
            test_file(slot++ % 10, text_of(&c->parts[i].name),
                      text_of(&c->parts[i].text));
}

static void check_stream(const Case *c, PartKind kind, const char *stream) {
    char message[1200];
    bool wanted = false;
    for (size_t i = 0; i < c->count; i++)
        if (c->parts[i].kind == kind) {
            test_assert_words(stream, text_of(&c->parts[i].text), c->path,
                              (int)c->line);
            wanted = true;
        }
    snprintf(message, sizeof message, "%s: printed <%.900s>, wanted nothing",
             text_of(&c->arguments), stream);
    if (!wanted && *stream)
        case_fails(c, message);
}

static void case_run(const Case *c) {
    char message[1200], *out, *err;
    const char *folder = test_folder();
    int code;
    write_files(c);
    code = run(text_of(&c->arguments), folder, &out, &err);
    snprintf(message, sizeof message, "%s: exit %d, wanted %d; %.900s",
             text_of(&c->arguments), code, c->code, err);
    CU_assertImplementation(code == c->code, c->line, message, c->path, "",
                            CU_FALSE);
    check_stream(c, PART_ERR, err);
    check_stream(c, PART_OUT, out);
    free(out);
    free(err);
    test_folder_done();
}

static void case_end(Case *c) {
    if (text_of(&c->arguments)[0])
        case_run(c);
    for (size_t i = 0; i < c->count; i++) {
        text_free(&c->parts[i].name);
        text_free(&c->parts[i].text);
    }
    text_free(&c->arguments);
    *c = (Case){.path = c->path};
}

/* ---- reading them ---- */

static void put_unescaped(Text *into, const char *from) {
    for (; *from; from++) {
        static const char names[] = "ntr\\", bytes[] = "\n\t\r\\";
        const char *name =
            *from == '\\' && from[1] ? strchr(names, from[1]) : NULL;
        char digits[3] = "", byte = *from;
        if (strncmp(from, "\\x", 2) == 0) {
            snprintf(digits, sizeof digits, "%.2s", from + 2);
            byte = (char)strtol(digits, NULL, 16);
            from += 1 + strlen(digits);
        } else if (name) {
            byte = bytes[name - names];
            from++;
        }
        text_put(into, &byte, 1);
    }
}

/* A line of a file, or more of a text. */
static void more_of(Part *part, char *line) {
    size_t length = strlen(line);
    bool open = length > 0 && line[length - 1] == '\\' &&
                (length < 2 || line[length - 2] != '\\');
    if (part->kind != PART_FILE)
        text_put(&part->text, " ", 1);
    else if (open)
        line[length - 1] = '\0';
    put_unescaped(&part->text, line);
    if (part->kind == PART_FILE && !open)
        text_put(&part->text, "\n", 1);
}

static void part_begin(Case *c, PartKind kind, const char *rest) {
    Part *part = &c->parts[c->count];
    if (c->count == PARTS_MOST) {
        case_fails(c, "more parts than there is room for");
        return;
    }
    c->count++;
    *part = (Part){.kind = kind};
    put_unescaped(kind == PART_FILE ? &part->name : &part->text, rest);
}

static void take_line(Case *c, char *line) {
    static const char *const kinds[] = {
        [PART_FILE] = "file ", [PART_ERR] = "err ", [PART_OUT] = "out "};
    if (strncmp(line, "    ", 4) == 0 && c->count > 0) {
        more_of(&c->parts[c->count - 1], line + 4);
        return;
    }
    for (int kind = 0; kind <= PART_OUT; kind++) {
        size_t length = strlen(kinds[kind]);
        if (strncmp(line, kinds[kind], length) == 0) {
            part_begin(c, (PartKind)kind, line + length);
            return;
        }
    }
    if (sscanf(line, "exit %d", &c->code) != 1)
        case_fails(c, line);
}

/* Runs the cases of the file that the test is named by. */
static void cases_run(void) {
    char path[200], *text, *line, *next;
    Case c = {.path = path};
    size_t ran = 0;
    unsigned at = 0;
    snprintf(path, sizeof path, FOLDER "%s.txt", CU_get_current_test()->pName);
    text = test_read(path, NULL);
    CU_ASSERT_PTR_NOT_NULL_FATAL(text);
    make_good_log();
    for (line = text; line; line = next) {
        at++;
        next = strchr(line, '\n');
        if (next)
            *next++ = '\0';
        if (strncmp(line, "$ ", 2) == 0) {
            case_end(&c);
            c.line = at;
            put_unescaped(&c.arguments, line + 2);
            ran++;
        } else if (*line && *line != '#')
            take_line(&c, line);
    }
    case_end(&c);
    CU_ASSERT(ran > 0);
    free(text);
}

/* A file that is not listed would never run. */
static void every_file(void) {
    glob_t found;
    CU_ASSERT_EQUAL_FATAL(glob(FOLDER "*.txt", 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        const char *name = found.gl_pathv[i] + strlen(FOLDER);
        size_t length = strlen(name) - strlen(".txt");
        const TestCase *test = suite_program_cases.cases;
        while (test->name && (strncmp(test->name, name, length) != 0 ||
                              test->name[length] != '\0'))
            test++;
        ASSERT_TEXT(test->name ? "listed" : name, "listed");
    }
    globfree(&found);
}

static const TestCase cases[] = {
    {"team", cases_run},           {"usage", cases_run},
    {"contradictions", cases_run}, {"limits", cases_run},
    {"help", cases_run},           {"logs", cases_run},
    {"mixed_methods", cases_run},  {"other_files", cases_run},
    {"events", cases_run},         {"event_times", cases_run},
    {"event_rules", cases_run},    {"joint", cases_run},
    {"strangers", cases_run},      {"absences", cases_run},
    {"not_recorded", cases_run},   {"folder_files", cases_run},
    {"blocks", cases_run},         {"plan_file", cases_run},
    {"review", cases_run},         {"squads_and_changes", cases_run},
    {"squads", cases_run},         {"slips", cases_run},
    {"models", cases_run},         {"fit", cases_run},
    {"poor_tests", cases_run},     {"lesson", cases_run},
    {"no_start_time", cases_run},  {"start", cases_run},
    {"experiment", cases_run},     {"forms", cases_run},
    {"every_file", every_file},    {NULL, NULL}};

const TestSuite suite_program_cases = {"program", cases};
