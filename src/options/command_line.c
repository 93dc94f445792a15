/* command_line: see command_line.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "options/command_line.h"

#include "base/crew.h"
#include "base/mem.h"
#include "base/near.h"
#include "options/folder_files.h"
#include "options/option_table.h"
#include "options/together.h"
#include "present/grid.h"

#include <stdlib.h>
#include <string.h>

/* Whose option it is, or which one it is nearly. */
static void add_owners(int command, const char *name, size_t length,
                       Text *text) {
    static const struct {
        int bit;
        const char *name;
    } owner[] = {{FOR_CHECK, "check"},       {FOR_LOAD, "load"},
                 {FOR_SIMULATE, "simulate"}, {FOR_FIT, "fit"},
                 {FOR_TAPER, "taper"},       {FOR_COMPARE, "compare"},
                 {FOR_PLAN, "plan"},         {FOR_REVIEW, "review"},
                 {FOR_REPORT, "report"},     {FOR_EXPERIMENT, "experiment"},
                 {FOR_LESSON, "lesson"},     {FOR_MODELS, "models"},
                 {FOR_START, "start"}};
    char *word = mem_copy_part(name, length);
    const char *nearest = NULL;
    double share = .34; /* of the letters may differ */
    for (size_t i = 0; i < sizeof owner / sizeof *owner; i++)
        if (option_table_find(owner[i].bit, name, length))
            text_add(text, "%s%s", text->length ? ", " : ", but of ",
                     owner[i].name);
    for (const OptionRule *rule = option_table(); rule->name && !text->length;
         rule++)
        if ((rule->commands & command) &&
            near_share(word, rule->name) < share) {
            share = near_share(word, rule->name);
            nearest = rule->name;
        }
    if (nearest)
        text_add(text, ", but --%s is", nearest);
    free(word);
}

static StatusCode refuse_option(int command, const char *word, size_t length,
                                Status *status) {
    char shown[TEXT_EXCERPT];
    Text owners = {0};
    add_owners(command, word + 2, length, &owners);
    status_fail(status, STATUS_USAGE,
                "%s is not an option of this command%s; 'peakward help "
                "COMMAND' lists them",
                text_excerpt(shown, word), text_of(&owners));
    text_free(&owners);
    return status->code;
}

/* Of two values one would be lost without a word. */
static StatusCode judge_twice(const OptionRule *rule, char *const *words,
                              int at, const char *value, Status *status) {
    char first[TEXT_EXCERPT], second[TEXT_EXCERPT];
    size_t end = strlen("--") + strlen(rule->name);
    int i = 0;
    if (option_table_repeats(rule->name) ||
        !together_given(at, words, rule->name))
        return STATUS_OK;
    while (!together_given(1, words + i, rule->name))
        i++;
    return status_fail(
        status, STATUS_USAGE, "--%s: given twice, %s and %s, expected it once",
        rule->name,
        text_excerpt(first,
                     words[i][end] == '=' ? words[i] + end + 1 : words[i + 1]),
        text_excerpt(second, value));
}

/* Reads one option at words[*at], which may take the next word too. */
static StatusCode read_option(int command, int count, char *const *words,
                              int *at, Request *request, Status *status) {
    const char *word = words[*at] + 2;
    size_t length = strcspn(word, "=");
    int first = *at;
    const OptionRule *rule = option_table_find(command, word, length);
    const char *value = word[length] == '=' ? word + length + 1 : NULL;
    if (!rule && length == strlen("plans") && strncmp(word, "plans", 5) == 0)
        return status_fail(status, STATUS_USAGE,
                           "--plans is named --groups now, expected "
                           "--groups N");
    if (!rule)
        return refuse_option(command, words[*at], length, status);
    if (!rule->value && value)
        return status_fail(status, STATUS_USAGE, "--%s takes no value",
                           rule->name);
    if (rule->value && !value) {
        bool option = *at + 1 < count && strncmp(words[*at + 1], "--", 2) == 0;
        if (*at + 1 >= count || option)
            return status_fail(status, STATUS_USAGE,
                               "--%s needs a value: --%s %s", rule->name,
                               rule->name, rule->value);
        value = words[++*at];
    }
    if (!rule->value) {
        *(bool *)((char *)request + rule->member) = true;
        return STATUS_OK;
    }
    if (judge_twice(rule, words, first, value, status) != STATUS_OK)
        return status->code;
    return rule->take(request, rule, value, status);
}

/* A word that is no option: what the command is about. */
static void take_operand(int command, const char *word, Request *r,
                         Status *status) {
    char shown[TEXT_EXCERPT];
    if (!r->question.season && (command & (FOR_SEASON | FOR_START)))
        r->question.season = mem_copy(word);
    else if (!r->design && (command & FOR_EXPERIMENT))
        r->design = mem_copy(word);
    else if (!r->lesson && (command & FOR_LESSON))
        r->lesson = mem_copy(word);
    else
        status_fail(status, STATUS_USAGE,
                    "%s is one word too many; expected %s",
                    text_excerpt(shown, word),
                    command & FOR_SEASON       ? "one season folder or file"
                    : command & FOR_LESSON     ? "one lesson"
                    : command & FOR_START      ? "one folder"
                    : command & FOR_EXPERIMENT ? "one design"
                                               : "options only");
}

static void take_words(int command, int count, char *const *words, Request *r,
                       Status *status) {
    bool options = true;
    char shown[TEXT_EXCERPT];
    for (int i = 0; i < count && status->code == STATUS_OK; i++) {
        if (options && strcmp(words[i], "--") == 0)
            options = false;
        else if (options && strncmp(words[i], "--", 2) == 0)
            read_option(command, count, words, &i, r, status);
        else if (options && words[i][0] == '-' && words[i][1] != '\0')
            status_fail(status, STATUS_USAGE,
                        "%s is not an option; options have two dashes",
                        text_excerpt(shown, words[i]));
        else
            take_operand(command, words[i], r, status);
    }
}

/* ---- headings.csv and settings.csv of the season's folder ---- */

/* A setting that was not given. */
typedef struct {
    int command, count;
    char *const *words;
    Request *request;
} Settings;

static void take_setting(void *with, const Setting *s, Status *status) {
    const Settings *settings = with;
    Request *r = settings->request;
    const char *name = s->option, *value = s->value;
    const OptionRule *rule =
        option_table_find(settings->command, name, strlen(name));
    char shown[TEXT_EXCERPT];
    Status own = {0};
    if (together_given(settings->count, settings->words, name))
        return;
    if (!option_table_find(FOR_ALL, name, strlen(name)) ||
        text_same(name, "help") || text_same(name, "hand-out") ||
        text_same(name, "replace"))
        status_fail(status, STATUS_DATA,
                    "%s:%zu: option: %s, expected an option that can hold for "
                    "a folder, like dates, aim or load, without its dashes",
                    s->path, s->line, text_excerpt(shown, name));
    else if (rule && !rule->value && !text_same(value, "yes") &&
             !text_same(value, "no"))
        status_fail(status, STATUS_DATA,
                    "%s:%zu: value: %s, expected yes or no", s->path, s->line,
                    text_excerpt(shown, value));
    else if (rule && !rule->value && text_same(value, "yes"))
        *(bool *)((char *)r + rule->member) = true;
    else if (rule && rule->value &&
             rule->take(r, rule, value, &own) != STATUS_OK)
        status_fail(status, STATUS_DATA, "%s:%zu: value: %s", s->path, s->line,
                    own.text);
}

static void read_folder_files(int command, int count, char *const *words,
                              Request *r, Status *status) {
    Settings settings = {command, count, words, r};
    if (!r->question.season)
        r->question.season = mem_copy(".");
    if (r->help || !(command & FOR_SEASON) || status->code != STATUS_OK)
        return;
    folder_files_headings(r->question.season, &r->maps, status);
    folder_files_settings(r->question.season, take_setting, &settings, status);
}

StatusCode command_line_read(int command, int count, char *const *words,
                             Request *r, Status *status) {
    *r = (Request){.virtual_athletes = 1000,
                   .question = {.aim = AIM_MEAN,
                                .floor = 50,
                                .seed = 1,
                                .threads = crew_processors(),
                                .limits = limits_default()}};
    r->blocks.rise = -1; /* not given */
    r->question.read.load = LOAD_FIRST_COMPLETE;
    r->question.read.today = DATE_NONE;
    take_words(command, count, words, r, status);
    if (command != FOR_START)
        read_folder_files(command, count, words, r, status);
    together_judge(command, count, words, r, status);
    r->question.carried =
        command == FOR_REVIEW ||
        (command == FOR_SIMULATE && r->question.option_count == 0);
    if (!r->question.season)
        r->question.season = mem_copy(".");
    r->question.read.read.maps = &r->maps;
    return status->code;
}

void command_line_options(int commands,
                          void (*take)(const CommandOption *, void *),
                          void *into) {
    for (const OptionRule *rule = option_table(); rule->name; rule++) {
        CommandOption option = {rule->name, rule->value, rule->help};
        if (rule->commands & commands)
            take(&option, into);
    }
}

void command_line_help(int command, FILE *to) {
    for (const OptionRule *rule = option_table(); rule->name; rule++) {
        char word[64];
        if (!(rule->commands & command))
            continue;
        snprintf(word, sizeof word, "  --%s%s%s", rule->name,
                 rule->value ? " " : "", rule->value ? rule->value : "");
        fprintf(to, "%s\n      ", word);
        print_wrapped(to, rule->help, 72, 6);
    }
}
