/* Dates, clock times, numbers and options in words: what is read is written as
 * it was meant and read back as the same.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/date.h"
#include "base/number.h"
#include "fuzz.h"
#include "taper/option.h"

#include <math.h>
#include <string.h>

static void try_date(const char *text, DateOrder order) {
    char shown[DATE_TEXT], wanted[DATE_WHY] = "";
    Date date, back;
    if (!date_read(text, order, &date, wanted)) {
        HOLDS(*wanted);
        return;
    }
    date_write(shown, date);
    HOLDS(date_read(shown, DATES_ISO, &back, wanted) && back == date);
    HOLDS(date_of(date_civil(date)) == date);
}

static void try_number(const char *text, bool comma) {
    NumberStyle style = {comma};
    const char *wanted = NULL;
    char shown[NUMBER_TEXT];
    double value, back;
    if (!number_read(text, style, &value, &wanted)) {
        HOLDS(wanted && *wanted);
        return;
    }
    HOLDS(isfinite(value));
    number_write(shown, value);
    HOLDS(number_read(shown, (NumberStyle){false}, &back, &wanted));
    HOLDS(fabs(back - value) <= 1e-11 * fabs(value));
}

static void try_option(const char *text) {
    Option option, back;
    char why[OPTION_WHY] = "";
    double cut[OPTION_LONGEST];
    Text spec = {0}, words = {0};
    if (!option_read(text, &option, why)) {
        HOLDS(why[0] != '\0');
        return;
    }
    option_write(&option, &spec);
    option_words(&option, &words);
    HOLDS(option_read(text_of(&spec), &back, why));
    HOLDS(option_days(&back) == option_days(&option));
    HOLDS(option_shape(&back) == option_shape(&option));
    option_cuts(&option, OPTION_LONGEST, cut);
    for (size_t u = 0; u < OPTION_LONGEST; u++)
        HOLDS(cut[u] >= -.5 && cut[u] <= 1);
    text_free(&spec);
    text_free(&words);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char *text = malloc(size + 1);
    int minute;
    if (!text)
        return 0;
    memcpy(text, data, size);
    text[size] = '\0';
    try_date(text, DATES_ISO);
    try_date(text, DATES_DMY);
    try_date(text, DATES_MDY);
    try_number(text, false);
    try_number(text, true);
    try_option(text);
    if (time_read(text, &minute))
        HOLDS(minute >= 0 && minute < 1440);
    free(text);
    return 0;
}
