/* number: see number.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/number.h"

#include "base/mem.h"
#include "base/text.h"

#include <ctype.h>
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LONGEST = 64 };

static const char *digits_end(const char *s) {
    while (isdigit((unsigned char)*s))
        s++;
    return s;
}

/* What the marks in a number look like. */
typedef struct {
    size_t before, after; /* digits on both sides of the mark */
    char mark;            /* '.', ',' or 0 */
    char first;           /* first digit before the mark */
} Figure;

/* Takes the text apart; false when it is not a number at all. */
static bool take_apart(const char *s, Figure *figure) {
    const char *end;
    if (*s == '+' || *s == '-')
        s++;
    end = digits_end(s);
    figure->before = (size_t)(end - s);
    figure->first = *s;
    figure->mark = 0;
    figure->after = 0;
    s = end;
    if (*s == '.' || *s == ',') {
        figure->mark = *s++;
        end = digits_end(s);
        figure->after = (size_t)(end - s);
        s = end;
    }
    if (figure->before + figure->after == 0)
        return false;
    if (*s == 'e' || *s == 'E') {
        s++;
        if (*s == '+' || *s == '-')
            s++;
        end = digits_end(s);
        if (end == s)
            return false;
        s = end;
    }
    return *s == '\0';
}

/* `1,234`: thousands here, a decimal there. `0,234` is clear. */
static bool two_readings(const Figure *figure) {
    return figure->mark && figure->after == 3 && figure->before >= 1 &&
           figure->before <= 3 && figure->first != '0';
}

/* Digits in groups, with any of the usual signs between them. */
static bool looks_grouped(const char *s) {
    bool digit = false, group = false;
    while (*s) {
        size_t step = strncmp(s, "\xC2\xA0", 2) == 0 ? 2 : 1;
        if (isdigit((unsigned char)*s))
            digit = true;
        else if (step == 2 || strchr(".,' ", *s))
            group = group || (digit && isdigit((unsigned char)s[step]));
        else if (*s != '+' && *s != '-')
            return false;
        s += step;
    }
    return group;
}

static const char *trouble(const char *s, const Figure *figure, bool is_number,
                           NumberStyle style) {
    if (!is_number && looks_grouped(s))
        return "a number without thousands separators";
    if (!is_number)
        return "a number";
    if (style.decimal_comma && two_readings(figure))
        return "a number that reads one way only: write 1234 for the whole "
               "number or 1,2340 for the decimal one";
    if (!style.decimal_comma && figure->mark == ',')
        return "a number with a decimal point (a decimal comma is read in "
               "files separated by ';'), without thousands separators";
    return NULL;
}

bool number_read(const char *text, NumberStyle style, double *value,
                 const char **wanted) {
    char copy[LONGEST + 1];
    size_t length;
    const char *start;
    Figure figure;
    bool is_number;
    char *comma;
    *wanted = NULL;
    start = text_trim(text, &length);
    if (length == 0 || length > LONGEST) {
        *wanted = "a number";
        return false;
    }
    memcpy(copy, start, length);
    copy[length] = '\0';
    is_number = take_apart(copy, &figure);
    *wanted = trouble(copy, &figure, is_number, style);
    if (*wanted)
        return false;
    comma = strchr(copy, ',');
    if (comma)
        *comma = '.';
    *value = strtod(copy, NULL);
    if (!isfinite(*value)) {
        *wanted = "a number that a computer can hold";
        return false;
    }
    return true;
}

bool number_read_whole(const char *text, long low, long high, long *value) {
    const char *digits = text + (*text == '-');
    if (*digits == '\0' || *digits_end(digits) != '\0')
        return false;
    errno = 0;
    *value = strtol(text, NULL, 10);
    return errno == 0 && *value >= low && *value <= high;
}

const char *number_write(char buffer[NUMBER_TEXT], double value) {
    if (!isfinite(value))
        buffer[0] = '\0';
    else
        snprintf(buffer, NUMBER_TEXT, "%.12g", value + 0.0);
    return buffer;
}

static int compare(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

double number_step(const double *value, size_t count) {
    double *sorted = mem_new(count + 1, sizeof *sorted), step = INFINITY;
    size_t values = 1;
    if (count > 0)
        memcpy(sorted, value, count * sizeof *sorted);
    qsort(sorted, count, sizeof *sorted, compare);
    for (size_t i = 1; i < count; i++)
        if (sorted[i] > sorted[i - 1]) {
            values++;
            step = fmin(step, sorted[i] - sorted[i - 1]);
        }
    free(sorted);
    return isfinite(step) && 4 * values <= count ? step : 0;
}
