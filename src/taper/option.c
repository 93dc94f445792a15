/* option: see option.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/option.h"

#include "base/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *const shape_names[] = {"none",     "step", "linear", "exponential",
                                   "two-step", "rest", "other",  NULL};

static bool fail(char why[OPTION_WHY], const char *text) {
    snprintf(why, OPTION_WHY, "%s", text);
    return false;
}

static bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/* Reads one number of a part, to a thousandth, so that what is written can be
 * read again; `*at` moves behind it. Two dots are no part of it. */
static bool take_number(const char **at, double *value) {
    char copy[32];
    const char *wanted;
    size_t length = strspn(*at, "0123456789");
    if ((*at)[length] == '.' && is_digit((*at)[length + 1]))
        length += 1 + strspn(*at + length + 1, "0123456789");
    if (length == 0 || length >= sizeof copy)
        return false;
    memcpy(copy, *at, length);
    copy[length] = '\0';
    *at += length;
    while (**at == ' ')
        (*at)++;
    if (!number_read(copy, (NumberStyle){false}, value, &wanted))
        return false;
    *value = round(*value * 1000) / 1000;
    return true;
}

enum { MORE_MOST = 50 }; /* [%] load above the usual that can be asked for */

/* More load than usual, behind its plus sign, is a cut below 0. */
static bool take_more(const char **at, OptionPart *part) {
    double more;
    (*at)++;
    if (!take_number(at, &more) || more > MORE_MOST)
        return false;
    *at += **at == '%';
    part->from = part->to = -more + 0.0;
    part->fall = 'x';
    return true;
}

/* The same for a cut, which may carry its sign: 50%. */
static bool take_cut(const char **at, double *value) {
    if (!take_number(at, value))
        return false;
    *at += **at == '%';
    while (**at == ' ')
        (*at)++;
    return true;
}

/* The form of the first edition, DAYSxCUT, in the words of this one. */
static bool refuse_old(const char *part, double days, char why[OPTION_WHY]) {
    double from, to;
    const char *at = part + 1;
    bool more = *at == '+', falls;
    char fall[3] = "";
    at += more;
    if (!take_cut(&at, &from))
        return fail(why, "DAYSd-CUT, like 14d-50");
    falls = *at == '-' || *at == '~';
    if (falls) {
        snprintf(fall, sizeof fall, "%s", *at == '-' ? ".." : "~");
        at++;
        falls = take_cut(&at, &to);
    }
    if (falls)
        snprintf(why, OPTION_WHY, "%gd-%g%s%g, as it is written now", days,
                 from, fall, to);
    else
        snprintf(why, OPTION_WHY, "%gd%c%g, as it is written now", days,
                 more ? '+' : '-', from);
    return false;
}

/* The last day's cut behind `..` or `~`, if there is one. */
static bool take_fall(const char **at, OptionPart *part, char why[OPTION_WHY]) {
    size_t sign = strncmp(*at, "..", 2) == 0 ? 2 : **at == '~' ? 1 : 0;
    part->to = part->from;
    part->fall = 'x';
    if (!sign)
        return true;
    part->fall = sign == 2 ? '-' : '~';
    *at += sign;
    while (**at == ' ')
        (*at)++;
    return take_cut(at, &part->to) ||
           fail(why, "the last day's cut behind .. or ~, like 14d-0..75");
}

static bool read_part(const char **at, OptionPart *part, char why[OPTION_WHY]) {
    double days;
    char sign;
    bool number = take_number(at, &days);
    if (number && (**at == 'x' || **at == 'X'))
        return refuse_old(*at, days, why);
    if (!number || (**at != 'd' && **at != 'D'))
        return fail(why, "parts like 14d-50 (DAYSd-CUT), 14d-0..75 or "
                         "14d-0~75, separated by commas");
    (*at)++;
    while (**at == ' ')
        (*at)++;
    if (days < 1 || days > OPTION_LONGEST || days != floor(days))
        return fail(why, "a whole number of days from 1 to 120 before the d");
    part->days = (int)days;
    sign = **at;
    if (sign == '+')
        return take_more(at, part) ||
               fail(why, "at most 50 per cent more behind the +, like 21d+20");
    *at += sign == '-';
    while (**at == ' ')
        (*at)++;
    if (sign != '-' || !take_cut(at, &part->from))
        return fail(why, "a cut in per cent behind d-, like 14d-50");
    if (!take_fall(at, part, why))
        return false;
    if (part->from > 100 || part->to > 100)
        return fail(why, "cuts from 0 to 100 per cent");
    if (part->fall == '~' && (part->from >= 100 || part->to >= 100))
        return fail(why, "cuts below 100 per cent in an exponential fall, "
                         "which never reaches nothing");
    return true;
}

bool option_read(const char *spec, Option *option, char why[OPTION_WHY]) {
    const char *at = spec;
    int days = 0;
    option->count = 0;
    if (text_same(spec, "none"))
        return true;
    for (;;) {
        if (option->count == OPTION_PARTS)
            return fail(why, "at most 8 parts");
        while (*at == ' ')
            at++;
        if (!read_part(&at, &option->part[option->count], why))
            return false;
        days += option->part[option->count++].days;
        while (*at == ' ')
            at++;
        if (*at == '\0')
            break;
        if (*at++ != ',')
            return fail(why, "a comma between parts, like 7d-50,7d-75");
    }
    if (days > OPTION_LONGEST)
        return fail(why, "at most 120 days in all");
    return true;
}

void option_write(const Option *option, Text *text) {
    if (option->count == 0)
        text_add(text, "none");
    for (int i = 0; i < option->count; i++) {
        const OptionPart *p = &option->part[i];
        text_add(text, "%s%dd%c%.6g", i ? "," : "", p->days,
                 p->from < 0 ? '+' : '-', fabs(p->from));
        if (p->fall != 'x')
            text_add(text, "%s%.6g", p->fall == '-' ? ".." : "~", p->to);
    }
}

static void part_words(const OptionPart *p, Text *text) {
    text_add(text, "%d day%s ", p->days, p->days == 1 ? "" : "s");
    if (p->fall == 'x' && p->from >= 100)
        text_add(text, "of full rest");
    else if (p->fall == 'x')
        text_add(text, "with %.4g %% %s volume", fabs(p->from),
                 p->from < 0 ? "more" : "less");
    else
        text_add(text, "with %.4g to %.4g %% less volume%s", p->from, p->to,
                 p->fall != '~'    ? ", evenly"
                 : p->to < p->from ? ", slowly at first"
                                   : ", fast at first");
}

void option_words(const Option *option, Text *text) {
    if (option->count == 0)
        text_add(text, "no taper");
    for (int i = 0; i < option->count; i++) {
        if (i)
            text_add(text, ", then ");
        part_words(&option->part[i], text);
    }
}

Shape option_shape(const Option *o) {
    const OptionPart *p = o->part;
    Option taper = {.count = 0};
    if (o->count == 0)
        return SHAPE_NONE;
    if (p->from < 0) { /* the shape is that of the taper behind the build-up */
        for (int i = 1; i < o->count; i++)
            taper.part[taper.count++] = o->part[i];
        return option_more(&taper) > 0 ? SHAPE_OTHER : option_shape(&taper);
    }
    if (o->count == 1 && p->fall == 'x')
        return p->from >= 100 ? SHAPE_REST : SHAPE_STEP;
    if (o->count == 1)
        return p->fall == '-' ? SHAPE_LINEAR : SHAPE_EXPONENTIAL;
    if (o->count == 2 && p[0].fall == 'x' && p[1].fall == 'x')
        return SHAPE_TWO_STEP;
    return SHAPE_OTHER;
}

int option_build_days(const Option *option) {
    int days = 0;
    for (int i = 0; i < option->count && option->part[i].from < 0; i++)
        days += option->part[i].days;
    return days;
}

double option_more(const Option *option) {
    double more = 0;
    for (int i = 0; i < option->count; i++)
        more = fmax(more, -option->part[i].from);
    return more;
}

int option_days(const Option *option) {
    int days = 0;
    for (int i = 0; i < option->count; i++)
        days += option->part[i].days;
    return days;
}

double option_cut(const Option *option) {
    double most = 0;
    for (int i = 0; i < option->count; i++) {
        most = fmax(most, option->part[i].from);
        most = fmax(most, option->part[i].to);
    }
    return most;
}

/* Cut on day `i` (0 ... days - 1) of a part, as a share of 1. */
static double part_cut(const OptionPart *p, int i) {
    double along = p->days > 1 ? (double)i / (p->days - 1) : 1;
    double from = p->from / 100, to = p->to / 100;
    if (i + 1 == p->days)
        return to;
    if (p->fall == '~')
        return 1 - (1 - from) * pow((1 - to) / (1 - from), along);
    return from + (to - from) * along;
}

static int order(double a, double b) {
    return (a > b) - (a < b);
}

int option_order(const void *one, const void *other) {
    const Option *a = one, *b = other;
    int found = a->count - b->count;
    for (int i = 0; i < a->count && found == 0; i++) {
        const OptionPart *p = &a->part[i], *q = &b->part[i];
        found = p->days - q->days;
        if (found == 0)
            found = order(p->from, q->from);
        if (found == 0)
            found = order(p->to, q->to);
        if (found == 0)
            found = p->fall - q->fall;
    }
    return found;
}

void option_cuts(const Option *option, size_t window, double *cut) {
    size_t before = (size_t)option_days(option); /* days before the event */
    for (size_t i = 0; i < window; i++)
        cut[i] = 0;
    for (int k = 0; k < option->count; k++)
        for (int i = 0; i < option->part[k].days; i++, before--)
            if (before <= window)
                cut[before - 1] = part_cut(&option->part[k], i);
}
