/* calendar_names: beside the locales of the C library that is installed
 * (Debian's package locales), whose names are those of Unicode's CLDR.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

#include "base/calendar_names.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Prints "NUMBER NAME" for weekdays, Monday 0, of locales given by name. */
static const char names_script[] =
    "import re, sys\n"
    "for place in sys.argv[1:]:\n"
    "    text = open('/usr/share/i18n/locales/' + place,\n"
    "                encoding='utf-8').read()\n"
    "    text = re.sub(r'/\\s*\\n\\s*', '', text)\n"
    "    text = re.sub(r'<U([0-9A-F]+)>',\n"
    "                  lambda m: chr(int(m.group(1), 16)), text)\n"
    "    for key in ('day', 'abday'):\n"
    "        found = re.search(r'^%s\\s+(.*)$' % key, text, re.M)\n"
    "        names = re.findall(r'\"([^\"]*)\"', found.group(1))\n"
    "        assert len(names) == 7, (place, key)\n"
    "        for i, name in enumerate(names):\n"
    "            print((i + 6) % 7, name.strip().rstrip('.'))\n";

typedef struct {
    size_t right, refused, all;
} Tally;

/* A name is read right, or refused since languages differ: never wrong. */
static void check_name(int wanted, const char *name, Tally *tally) {
    Text why = {0};
    int found = -1;
    bool read = calendar_weekday(name, &found, &why);
    tally->all++;
    tally->right += read;
    tally->refused += !read;
    check_row(!read || found == wanted, "the right one", name);
    check_row(read || strstr(text_of(&why), "languages agree on"),
              "refused only where languages differ", name);
    text_free(&why);
}

static void calendar_locales(void) {
    static const char *const places[] = {
        "en_GB", "de_DE", "fr_FR", "es_ES", "it_IT", "nl_NL", "sv_SE",
        "da_DK", "fi_FI", "pl_PL", "cs_CZ", "hu_HU", "el_GR", NULL};
    char *names = test_python(names_script, places), *rest = NULL;
    Tally tally = {0};
    for (char *line = strtok_r(names, "\n", &rest); line;
         line = strtok_r(NULL, "\n", &rest)) {
        char *end;
        int wanted = (int)strtol(line, &end, 10);
        check_name(wanted, end + 1, &tally);
    }
    CU_ASSERT_EQUAL(tally.all, 13 * (7 + 7));
    CU_ASSERT(tally.right * 10 > tally.all * 9);
    CU_ASSERT(tally.refused > 0);
    free(names);
}

/* "so" is Sunday in German and Saturday in Slovak: both are named. */
static void calendar_doubt(void) {
    Text why = {0};
    int day = -1;
    CU_ASSERT_FALSE(calendar_weekday("so", &day, &why));
    ASSERT_HAS(text_of(&why), "German");
    ASSERT_HAS(text_of(&why), "Czech");
    text_clear(&why);
    CU_ASSERT_TRUE(calendar_weekday(" MITTWOCH. ", &day, &why));
    CU_ASSERT_EQUAL(day, 2);
    CU_ASSERT_TRUE(calendar_weekday("lundi", &day, &why));
    CU_ASSERT_EQUAL(day, 0);
    CU_ASSERT_FALSE(calendar_weekday("someday", &day, &why));
    ASSERT_HAS(text_of(&why), "in another language");
    text_free(&why);
}

static const TestCase cases[] = {{"calendar_locales", calendar_locales},
                                 {"calendar_doubt", calendar_doubt},
                                 {NULL, NULL}};

const TestSuite suite_base_calendar_names = {"base", cases};
