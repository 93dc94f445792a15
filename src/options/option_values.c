/* option_values: see option_values.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "options/option_values.h"

#include "base/mem.h"

#include <stdlib.h>
#include <string.h>

StatusCode option_values_refuse(const OptionRule *rule, const char *value,
                                const char *wanted, Status *status) {
    char shown[TEXT_EXCERPT];
    return status_fail(status, STATUS_USAGE, "--%s: %s, expected %s",
                       rule->name, text_excerpt(shown, value), wanted);
}

static void *member(Request *r, const OptionRule *rule) {
    return (char *)r + rule->member;
}

/* ---- words ---- */

StatusCode option_values_text(Request *r, const OptionRule *rule,
                              const char *value, Status *status) {
    char **text = member(r, rule);
    (void)status;
    free(*text);
    *text = mem_copy(value);
    return STATUS_OK;
}

/* Index of one of the row's words from the first on, or -1 with the failure. */
static int word_index(const OptionRule *rule, const char *value, int first,
                      Status *status) {
    const char *const *words = rule->words;
    Text list = {0};
    int found = -1;
    for (int i = first; words[i] && found < 0; i++) {
        const char *join = i == first ? "" : words[i + 1] ? ", " : " or ";
        text_add(&list, "%s%s", join, words[i]);
        if (strcmp(value, words[i]) == 0)
            found = i;
    }
    if (found < 0)
        option_values_refuse(rule, value, text_of(&list), status);
    text_free(&list);
    return found;
}

StatusCode option_values_word(Request *r, const OptionRule *rule,
                              const char *value, Status *status) {
    int word = word_index(rule, value, 0, status);
    if (word >= 0)
        *(int *)member(r, rule) = word;
    return status->code;
}

StatusCode option_values_second(Request *r, const OptionRule *rule,
                                const char *value, Status *status) {
    int word = word_index(rule, value, 0, status);
    if (word >= 0)
        *(bool *)member(r, rule) = word == 1;
    return status->code;
}

StatusCode option_values_list(Request *r, const OptionRule *rule,
                              const char *value, Status *status) {
    unsigned bits = 0;
    while (status->code == STATUS_OK) {
        size_t length = strcspn(value, ",");
        char *word = mem_copy_part(value, length);
        int at = word_index(rule, word, (int)rule->low, status);
        free(word);
        if (at >= 0)
            bits |= 1u << at;
        if (value[length] == '\0')
            break;
        value += length + 1;
    }
    *(unsigned *)member(r, rule) = bits;
    return status->code;
}

/* ---- numbers ---- */

StatusCode option_values_whole(const OptionRule *rule, const char *value,
                               long low, long high, long *to, Status *status) {
    char wanted[64];
    if (number_read_whole(value, low, high, to))
        return STATUS_OK;
    snprintf(wanted, sizeof wanted, "a whole number from %ld to %ld", low,
             high);
    return option_values_refuse(rule, value, wanted, status);
}

StatusCode option_values_int(Request *r, const OptionRule *rule,
                             const char *value, Status *status) {
    long read;
    if (option_values_whole(rule, value, (long)rule->low, (long)rule->high,
                            &read, status) == STATUS_OK)
        *(int *)member(r, rule) = (int)read;
    return status->code;
}

StatusCode option_values_count(Request *r, const OptionRule *rule,
                               const char *value, Status *status) {
    long read;
    if (option_values_whole(rule, value, (long)rule->low, (long)rule->high,
                            &read, status) == STATUS_OK)
        *(size_t *)member(r, rule) = (size_t)read;
    return status->code;
}

StatusCode option_values_number(Request *r, const OptionRule *rule,
                                const char *value, Status *status) {
    const char *wanted;
    double read;
    if (!number_read(value, (NumberStyle){false}, &read, &wanted) ||
        read < rule->low || read > rule->high)
        return option_values_refuse(rule, value, rule->wanted, status);
    *(double *)member(r, rule) = read;
    return STATUS_OK;
}

StatusCode option_values_percent(Request *r, const OptionRule *rule,
                                 const char *value, Status *status) {
    size_t length = strlen(value);
    bool sign = length > 1 && value[length - 1] == '%';
    char *digits = mem_copy_part(value, length - sign);
    const char *wanted;
    double read = -1;
    bool good = number_read(digits, (NumberStyle){false}, &read, &wanted);
    free(digits);
    if (!good || read < 0 || read > rule->high || (read > 0 && read < 1))
        return option_values_refuse(rule, value, rule->wanted, status);
    *(double *)member(r, rule) = read;
    return STATUS_OK;
}
