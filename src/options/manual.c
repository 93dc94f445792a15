/* manual: see manual.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "options/manual.h"

#include "base/home.h"
#include "options/command_line.h"
#include "options/roff.h"
#include "options/topics.h"

#include <stdlib.h>
#include <string.h>

static void line(FILE *to, const char *request, const char *text) {
    if (request)
        fprintf(to, "%s\n", request);
    roff_put(to, text);
    fputc('\n', to);
}

static void head(FILE *to, const char *name, const char *version) {
    fprintf(to, ".TH \"%s\" 1 \"\" \"peakward %s\" \"peakward\"\n", name,
            version);
}

static void put_option(const CommandOption *o, void *into) {
    FILE *to = into;
    fputs(".TP\n.B ", to);
    fputs("\\-\\-", to);
    roff_put(to, o->name);
    if (o->value) {
        fputs(" \\fI", to);
        roff_put(to, o->value);
        fputs("\\fR", to);
    }
    fputc('\n', to);
    line(to, NULL, o->help);
}

static void put_foot(FILE *to) {
    line(to, ".SH CAUTION",
         "Information, not medical advice. Return from illness or injury is a "
         "physician's decision; for food and fluid a registered dietitian or "
         "physician decides where there is illness, pregnancy or youth.");
    line(to, ".SH COPYRIGHT", "GPL-3.0-or-later.");
}

static void put_exit(FILE *to) {
    fputs(".SH EXIT STATUS\n.TP\n.B 0\ndone\n.TP\n.B 1\nthe data or the "
          "computation do not allow an answer\n.TP\n.B 2\nwrong usage\n.TP\n.B "
          "3\nthe system failed\n",
          to);
}

void manual_program(const Command *table, const char *version, FILE *to) {
    head(to, "PEAKWARD", version);
    line(to, ".SH NAME",
         "peakward - from a training log to the taper that brings athletes to "
         "an event ready");
    fputs(".SH SYNOPSIS\n.B peakward\n.I COMMAND\n.RI [ SEASON ]\n.RI [ "
          "options ]\n",
          to);
    line(to, ".SH DESCRIPTION",
         "SEASON is a folder of CSV files (default: here) or a single CSV file "
         "of sessions. Each command has a page of its own, like "
         "peakward-taper(1), and 'peakward help COMMAND' says the same.");
    fputs(".SH COMMANDS\n", to);
    for (const Command *c = table; c->name; c++) {
        fprintf(to, ".TP\n.B %s\n", c->name);
        line(to, NULL, c->answers);
    }
    put_exit(to);
    line(to, ".SH ENVIRONMENT",
         "PEAKWARD_HOME: where models and plots are, if not beside the "
         "program. SOURCE_DATE_EPOCH: the time told in calendar files and "
         "workbooks. TMPDIR: where pictures of a page are drawn.");
    put_foot(to);
    fputs(".SH SEE ALSO\n", to);
    for (const Command *c = table; c->name; c++)
        fprintf(to, ".BR peakward\\-%s (1),\n", c->name);
    for (size_t i = 0; topics_at(i); i++)
        fprintf(to, ".BR peakward\\-%s (%d)%s\n", topics_at(i)->name,
                topics_at(i)->section, topics_at(i + 1) ? "," : "");
}

const char *manual_operand(const Command *c) {
    return c->bit & FOR_SEASON       ? "[SEASON] "
           : c->bit & FOR_START      ? "FOLDER "
           : c->bit & FOR_LESSON     ? "NAME|all "
           : c->bit & FOR_EXPERIMENT ? "[DESIGN.csv] "
                                     : "";
}

void manual_names(const Command *table, FILE *to) {
    for (const Command *c = table; c->name; c++)
        fprintf(to, "%s\n", c->name);
}

void manual_topics(FILE *to) {
    for (size_t i = 0; topics_at(i); i++)
        fprintf(to, "%s %d\n", topics_at(i)->name, topics_at(i)->section);
}

/* Command lines; every one is run by a test (tests/examples.py). */
static const char *const examples[][2] = {
    {"check", "peakward check season\n"},
    {"load", "peakward load season --weekly\n"},
    {"simulate", "peakward simulate season --csv >days.csv\n"},
    {"fit", "peakward fit season --next-test\n"
            "peakward fit season --out fitted\n"},
    {"taper", "peakward taper season\n"
              "peakward taper season --event \"Selection weekend\" "
              "--aim lowest\n"},
    {"compare", "peakward compare season --option none --option recommended\n"},
    {"plan", "peakward plan season --out printed\n"},
    {"report", "peakward report season --out printed\n"},
    {"review", "peakward review season\n"},
    {"models", "peakward models\n"},
    {"lesson", "peakward lesson --list\n"
               "peakward lesson all --out class --sheets 3\n"},
    {"start", "peakward start club\n"},
    {"experiment", "peakward experiment --athletes 200\n"},
};

static void put_examples(const char *command, FILE *to) {
    for (size_t i = 0; i < sizeof examples / sizeof *examples; i++)
        if (strcmp(examples[i][0], command) == 0) {
            fputs(".SH EXAMPLES\n.EX\n", to);
            roff_put(to, examples[i][1]);
            fputs(".EE\n", to);
        }
}

void manual_command(const Command *c, const char *version, FILE *to) {
    Text name = {0};
    text_add(&name, "PEAKWARD-%s", c->name);
    head(to, text_of(&name), version);
    text_clear(&name);
    text_add(&name, "peakward-%s - %s", c->name, c->answers);
    line(to, ".SH NAME", text_of(&name));
    fprintf(to, ".SH SYNOPSIS\n.B peakward %s\n", c->name);
    if (*manual_operand(c))
        fprintf(to, ".I %s\n", manual_operand(c));
    fputs(".RI [ options ]\n", to);
    line(to, ".SH DESCRIPTION", c->more);
    fputs(".SH OPTIONS\n", to);
    command_line_options(c->bit, put_option, to);
    put_examples(c->name, to);
    put_exit(to);
    put_foot(to);
    fputs(".SH SEE ALSO\n.BR peakward (1)\n", to);
    text_free(&name);
}

/* ---- bash ---- */

static void put_word(const CommandOption *o, void *into) {
    fprintf(into, "--%s ", o->name);
}

static bool of_words(const CommandOption *o) {
    return o->value && strchr(o->value, '|') && !strchr(o->value, '[') &&
           strspn(o->value, "abcdefghijklmnopqrstuvwxyz|") == strlen(o->value);
}

static void put_values(const CommandOption *o, void *into) {
    FILE *to = into;
    if (!of_words(o))
        return;
    fprintf(to, "        --%s) words='", o->name);
    for (const char *at = o->value; *at; at++)
        fputc(*at == '|' ? ' ' : *at, to);
    fputs("' ;;\n", to);
}

static void put_models(FILE *to) {
    char *folder = home_folder("models");
    char **names = model_names(folder);
    fputs("        --model|--models) words='own", to);
    for (char **name = names; name && *name; name++)
        fprintf(to, " %s", *name);
    fputs("' ;;\n", to);
    if (names)
        model_names_free(names);
    free(folder);
}

void manual_completion(const Command *table, FILE *to) {
    int all = 0;
    fputs("# bash completion for peakward; made by 'peakward help "
          "--completion'\n"
          "_peakward() {\n"
          "    local word=${COMP_WORDS[COMP_CWORD]} "
          "before=${COMP_WORDS[COMP_CWORD-1]} words=\n"
          "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
          "        words='help",
          to);
    for (const Command *c = table; c->name; c++) {
        fprintf(to, " %s", c->name);
        all |= c->bit;
    }
    fputs(" --version --help'\n    else\n        case $before in\n", to);
    put_models(to);
    command_line_options(all, put_values, to);
    fputs("        *) case ${COMP_WORDS[1]} in\n", to);
    for (const Command *c = table; c->name; c++) {
        fprintf(to, "            %s) words='", c->name);
        command_line_options(c->bit, put_word, to);
        fputs("' ;;\n", to);
    }
    fputs("            help) words='", to);
    for (const Command *c = table; c->name; c++)
        fprintf(to, "%s ", c->name);
    for (size_t i = 0; topics_at(i); i++)
        fprintf(to, "%s ", topics_at(i)->name);
    fputs("' ;;\n            esac ;;\n        esac\n    fi\n"
          "    COMPREPLY=($(compgen -W \"$words\" -- \"$word\"))\n"
          "    case $word in -*) ;; *)\n"
          "        local files\n"
          "        mapfile -t files < <(compgen -f -- \"$word\")\n"
          "        COMPREPLY+=(\"${files[@]}\") ;;\n"
          "    esac\n"
          "}\ncomplete -o filenames -F _peakward peakward\n",
          to);
}
