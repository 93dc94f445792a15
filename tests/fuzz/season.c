/* A whole season folder, a model file and a command line in one input, run as
 * the program would. Files follow lines "== NAME"; the lines before the first
 * are the words of the command, one a line. Output goes to nowhere; the exit
 * code is one of four, and a failure comes with a message.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/status.h"
#include "commands/commands.h"
#include "folder.h"
#include "options/command_line.h"

#include <gsl/gsl_errno.h>
#include <sys/stat.h>

enum { WORDS = 12, COMMANDS = 9 };

static void say_nothing(const Notes *notes) {
    (void)notes;
}

static const struct {
    const char *name;
    int bit;
    StatusCode (*run)(const Call *call, Status *status);
} commands[COMMANDS] = {{"check", FOR_CHECK, command_check},
                        {"load", FOR_LOAD, command_load},
                        {"simulate", FOR_SIMULATE, command_simulate},
                        {"taper", FOR_TAPER, command_taper},
                        {"compare", FOR_COMPARE, command_compare},
                        {"plan", FOR_PLAN, command_plan},
                        {"fit", FOR_FIT, command_fit},
                        {"review", FOR_REVIEW, command_review},
                        {"experiment", FOR_EXPERIMENT, command_experiment}};

/* Words that would write files or look elsewhere are left out. */
static bool harmless(const char *word) {
    return strncmp(word, "--out", 5) != 0 && strcmp(word, "--hand-out") != 0 &&
           !strchr(word, '/');
}

/* The season, and an experiment's design, are those of the folder; a large one
 * would take too long. */
static void point_to_folder(Request *request) {
    char path[128];
    struct stat about;
    free(request->question.season);
    request->question.season = strdup(folder);
    free(request->out);
    request->out = NULL;
    path_of("design.csv", path);
    free(request->design);
    request->design =
        stat(path, &about) == 0 && about.st_size < 300 ? strdup(path) : NULL;
    request->virtual_athletes = 1;
}

static void run_words(int count, char **words) {
    static FILE *nowhere;
    char *given[WORDS + 1];
    int which = 3;
    Request request;
    Notes notes = {0};
    Status status = {0};
    Call call = {.request = &request,
                 .question = &request.question,
                 .notes = &notes,
                 .say = say_nothing};
    StatusCode code;
    if (!nowhere)
        nowhere = fopen("/dev/null", "w");
    for (int i = 0; i < COMMANDS && count > 0; i++)
        if (strcmp(words[0], commands[i].name) == 0)
            which = i;
    /* the folder is named at once, for its headings and settings */
    given[0] = folder;
    for (int i = 1; i < count; i++)
        given[i] = words[i];
    code = command_line_read(commands[which].bit, count > 1 ? count : 1, given,
                             &request, &status);
    if (code == STATUS_OK) {
        point_to_folder(&request);
        call.output = request_output(&request, nowhere);
        if (!request.help)
            code = commands[which].run(&call, &status);
    }
    HOLDS((int)code >= 0 && (int)code <= 3);
    HOLDS(code == STATUS_OK || notes.errors > 0 || status.text[0] != '\0');
    notes_free(&notes);
    request_free(&request);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *copy = malloc(size + 1), *words[WORDS] = {NULL};
    const char *mark;
    if (!copy)
        return 0;
    gsl_set_error_handler_off();
    memcpy(copy, data, size);
    copy[size] = '\0';
    mark = next_mark(copy, copy + size);
    clear_folder();
    write_files(mark, copy + size);
    copy[mark - copy] = '\0';
    run_words(split_words(copy, harmless, WORDS, words), words);
    free(copy);
    return 0;
}
