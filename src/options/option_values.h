/* option_values: a row of the table of options, and how its value is read when
 * it is one word or number: what the row allows, into the row's member.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OPTIONS_OPTION_VALUES_H
#define OPTIONS_OPTION_VALUES_H

#include "options/request.h"

typedef struct OptionRule OptionRule;
struct OptionRule {
    const char *name;  /* without the dashes; NULL: the table's end */
    const char *value; /* NULL: takes none */
    int commands;
    const char *help;
    /* Reads the value; a failure is a usage error. */
    StatusCode (*take)(Request *, const OptionRule *, const char *value,
                       Status *);
    size_t member;            /* where in the request; without a value a bool */
    double low, high;         /* of a number; of a list the first word */
    const char *const *words; /* one of these, NULL at their end */
    const char *wanted;       /* of a number: what was expected */
};

/* Fails: "--NAME: 'VALUE', expected WANTED". */
StatusCode option_values_refuse(const OptionRule *rule, const char *value,
                                const char *wanted, Status *status);

/* A whole number within bounds. */
StatusCode option_values_whole(const OptionRule *rule, const char *value,
                               long low, long high, long *to, Status *status);

/* The `take` of a row; the member is a char *, an enum, a bool (the second of
 * two words), an unsigned (a bit a word), an int, a size_t or a double. */
StatusCode option_values_text(Request *, const OptionRule *, const char *value,
                              Status *);
StatusCode option_values_word(Request *, const OptionRule *, const char *value,
                              Status *);
StatusCode option_values_second(Request *, const OptionRule *,
                                const char *value, Status *);
StatusCode option_values_list(Request *, const OptionRule *, const char *value,
                              Status *);
StatusCode option_values_int(Request *, const OptionRule *, const char *value,
                             Status *);
StatusCode option_values_count(Request *, const OptionRule *, const char *value,
                               Status *);
StatusCode option_values_number(Request *, const OptionRule *,
                                const char *value, Status *);
/* 0, or from 1 up to the row's bound: .5 would be a slip for 50. */
StatusCode option_values_percent(Request *, const OptionRule *,
                                 const char *value, Status *);

#endif
