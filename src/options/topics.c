/* topics: see topics.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "options/topics.h"

#include "base/home.h"
#include "base/text.h"
#include "options/roff.h"

#include <string.h>

static const Topic topics[] = {
    {"files", "the files of a season and their columns", 5},
    {"models", "readiness, the kinds of model, model files, limits", 5},
    {"tapers", "a taper in words, what is searched, limits, groups", 7},
    {"notes", "what the figures mean and how they are computed", 7},
    {"league", "many athletes, parts, several machines", 7},
};

enum { TOPICS = sizeof topics / sizeof *topics };

const Topic *topics_at(size_t index) {
    return index < TOPICS ? &topics[index] : NULL;
}

const Topic *topics_find(const char *name) {
    for (size_t i = 0; i < TOPICS; i++)
        if (strcmp(topics[i].name, name) == 0)
            return &topics[i];
    return NULL;
}

typedef void PutLine(char *line, FILE *to);

/* Puts each line of the topic's text, without its end. */
static StatusCode each_line(const Topic *topic, PutLine *put_line, FILE *to,
                            Status *status) {
    Text name = {0}, text = {0};
    StatusCode code;
    text_add(&name, "%s.md", topic->name);
    code = home_read("data/help", text_of(&name), &text, status);
    for (char *line = text.data, *end; line && *line; line = end) {
        end = line + strcspn(line, "\n");
        if (*end)
            *end++ = '\0';
        put_line(line, to);
    }
    text_free(&name);
    text_free(&text);
    return code;
}

static void put_text(char *line, FILE *to) {
    fprintf(to, "%s\n", line + (*line == '#' ? strspn(line, "# ") : 0));
}

StatusCode topics_print(const Topic *topic, FILE *to, Status *status) {
    return each_line(topic, put_text, to, status);
}

/* ---- roff ---- */

/* `words` in bold, where they end on the same line. */
static void put_marked(char *line, FILE *to) {
    while (*line) {
        char *mark = strchr(line, '`'), *end = mark ? strchr(mark + 1, '`') : 0;
        if (!end) {
            roff_put(to, line);
            return;
        }
        *mark = *end = '\0';
        roff_put(to, line);
        fputs("\\fB", to);
        roff_put(to, mark + 1);
        fputs("\\fR", to);
        line = end + 1;
    }
}

static void put_roff(char *line, FILE *to) {
    if (strncmp(line, "    ", 4) == 0) {
        fputs(".br\n.nf\n\\&", to);
        roff_put(to, line);
        fputs("\n.fi\n", to);
    } else if (strncmp(line, "## ", 3) == 0) {
        fputs(".SH ", to);
        roff_put(to, line + 3);
        fputc('\n', to);
    } else if (strncmp(line, "- ", 2) == 0) {
        fputs(".IP \\(bu 2\n", to);
        put_marked(line + 2, to);
        fputc('\n', to);
    } else if (*line == '\0') {
        fputs(".PP\n", to);
    } else if (*line != '#') {
        put_marked(line + strspn(line, " "), to);
        fputc('\n', to);
    }
}

StatusCode topics_manual(const Topic *topic, const char *version, FILE *to,
                         Status *status) {
    StatusCode code;
    fprintf(to, ".TH \"PEAKWARD-%s\" %d \"\" \"peakward %s\" \"peakward\"\n",
            topic->name, topic->section, version);
    fprintf(to, ".SH NAME\npeakward\\-%s \\- %s\n.SH DESCRIPTION\n",
            topic->name, topic->about);
    code = each_line(topic, put_roff, to, status);
    fputs(".SH SEE ALSO\n.BR peakward (1)\n", to);
    return code;
}
