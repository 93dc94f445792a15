/* names: names are numbered, found by their beginnings, and text whatever they
 * hold.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "reading.h"
#include "test.h"

#include "base/text.h"
#include "season/check.h"
#include "season/names.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void names_are_numbered(void) {
    Names names = {0};
    char text[32];
    CU_ASSERT_EQUAL(names_find(&names, "gym", 3), NAMES_NONE);
    for (int round = 0; round < 2; round++)
        for (size_t i = 0; i < 3000; i++) {
            snprintf(text, sizeof text, "name %zu", i);
            CU_ASSERT_EQUAL(names_add(&names, text, strlen(text)), i);
        }
    CU_ASSERT_EQUAL(names.count, 3000);
    ASSERT_TEXT(names.items[2999], "name 2999");
    CU_ASSERT_EQUAL(names_find(&names, "name 29", 7), 29);
    CU_ASSERT_EQUAL(names_find(&names, "name 29 more", 7), 29);
    CU_ASSERT_EQUAL(names_find(&names, "name", 4), NAMES_NONE);
    CU_ASSERT_EQUAL(names_find(&names, "Name 29", 7), NAMES_NONE);
    names_free(&names);
    CU_ASSERT_EQUAL(names.count, 0);
}

/* Names that begin like others are others, also where the longer come first. */
static void names_beginnings(void) {
    static const char nines[] = "99999999999999999999";
    Names names = {0};
    char text[32];
    size_t many = sizeof nines - 1, bad = 0;
    for (size_t length = many; length > 0; length--)
        bad += names_add(&names, nines, length) != many - length;
    for (size_t i = 3000; i > 0; i--) {
        snprintf(text, sizeof text, "%zu", i);
        bad += names_add(&names, text, strlen(text)) >= names.count;
    }
    for (size_t i = 3000; i > 0; i--) {
        size_t found;
        snprintf(text, sizeof text, "%zu", i);
        found = names_find(&names, text, strlen(text));
        bad += found >= names.count || strcmp(names.items[found], text) != 0;
    }
    CU_ASSERT_EQUAL(bad, 0);
    /* 9, 99 and 999 stand there twice */
    CU_ASSERT_EQUAL(names.count, many + 3000 - 3);
    names_free(&names);
}

/* ---- hostile names ---- */

static const char *const hostile[] = {
    "Ki\"te, \"the second\"",
    "Ki\nte",
    "\xF0\x9F\x8F\x92 Lark",    /* emoji */
    "\xD7\xA2\xD7\x95\xD7\xA4", /* right to left */
    "\xE2\x80\xAE"
    "etiK", /* a right-to-left override */
    "=1+2|x",
    "<b>&amp;'Kite'</b>",
    "$(reboot) `x` %s %n \\",
    "../../Kite",
    "e\xCC\x81\xE2\x80\x8D"
    "x"};

enum { HOSTILE = sizeof hostile / sizeof hostile[0] };

static void add_quoted(Text *text, const char *name) {
    text_put(text, "\"", 1);
    for (; *name; name++) {
        text_put(text, name, 1);
        if (*name == '"')
            text_put(text, "\"", 1);
    }
    text_put(text, "\"", 1);
}

static void hostile_names_are_text(void) {
    for (size_t i = 0; i < HOSTILE; i++) {
        Text text = {0};
        text_add(&text, "date,athlete,session,load\n2026-03-02,");
        add_quoted(&text, hostile[i]);
        text_add(&text, ",");
        add_quoted(&text, hostile[i]);
        text_add(&text, ",231.5\n");
        read_log(text_of(&text));
        text_free(&text);
        assert_no_errors();
        LOADS(hostile[i], 231.5);
        ASSERT_TEXT(season->session_names.items[0], hostile[i]);
        check_season(season, &notes);
        CU_ASSERT_EQUAL(notes.count, 0);
        stop();
    }
}

static void hostile_names_elsewhere(void) {
    for (size_t i = 0; i < HOSTILE; i++) {
        Text events = {0}, wide = {0};
        text_add(&events, "start,event\n2026-04-25,");
        add_quoted(&events, hostile[i]);
        text_add(&wide, "date,");
        add_quoted(&wide, hostile[i]);
        text_add(&wide, ",Wren\n2026-03-02,231.5,77\n");
        start();
        file("events.csv", text_of(&events));
        file("sessions.csv", text_of(&wide));
        look();
        assert_no_errors();
        LOADS(hostile[i], 231.5);
        CU_ASSERT_EQUAL_FATAL(season->event_count, 1);
        ASSERT_TEXT(season->events[0].name, hostile[i]);
        stop();
        text_free(&events);
        text_free(&wide);
    }
}

static const TestCase cases[] = {
    {"names_are_numbered", names_are_numbered},
    {"names_beginnings", names_beginnings},
    {"hostile_names_are_text", hostile_names_are_text},
    {"hostile_names_elsewhere", hostile_names_elsewhere},
    {NULL, NULL}};

const TestSuite suite_season_names = {"season", cases};
