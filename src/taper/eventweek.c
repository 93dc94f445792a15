/* eventweek: see eventweek.h.
 *
 * Thomas, Erdman, Burke 2016: Med Sci Sports Exerc 48:543-568, read in texts
 * that quote it; 30-60 g/h: Burke et al. 2011. Sawka et al. 2007: Med Sci
 * Sports Exerc 39:377-390. Over-drinking: Hew-Butler et al. 2015, a consensus.
 * Judelson et al. 2007: Sports Med 37:907-921, who do not tie it to 4 %. Half a
 * fluid ounce per pound is 29.5735 ml / 2 / .45359237 kg = 32.6 ml/kg.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "taper/eventweek.h"

#include <math.h>

#define TAB2016 "Thomas, Erdman, Burke 2016"
#define TRADE "Common practice, no source"

static const double per_ounce = 29.5735295625; /* [ml] US fluid ounce */
static const double per_pound = .45359237;     /* [kg] */

const char *const eventweek_minor = "ask your dietitian or physician";

const char *const eventweek_cautions[] = {
    "Information, not medical advice. Illness, return from injury, heat, "
    "diabetes, kidney, heart or blood-pressure disease, pregnancy, an eating "
    "disorder, or being under 18: a physician or registered dietitian decides "
    "amounts.",
    "Never drink beyond what you sweat out: over-drinking can kill "
    "(hyponatraemia). Thirst, body mass before and after, and the colour of "
    "urine are the guide.",
    "Try nothing new on the day: food, drink, shoes and warm-up are those "
    "that training has proven.",
    "No training or playing with fever. Pain or lasting fatigue in a growing "
    "athlete is a reason to stop. The rules of the venue come first.",
    0};

static EventAmount amount(const char *what, const char *when, double low,
                          double high) {
    return (EventAmount){
        .what = what, .when = when, .low = low, .high = high, .factor = NAN};
}

enum { LONG_PLAY = 90 /* [min] of play in a day, from which to load */ };

/* The days before. */
static void set_loading(EventAmount a[EVENTWEEK_AMOUNTS], double mass,
                        int play) {
    bool short_play = play > 0 && play < LONG_PLAY;
    double low = short_play ? 7 : 10;
    a[0] = amount("carbohydrate",
                  short_play  ? "on the day before"
                  : play == 0 ? "on each of the two days before, if a day's "
                                "play lasts over 90 min"
                              : "on each of the two days before",
                  low * mass, 12 * mass);
    a[0].unit = "g/day";
    a[0].source = short_play ? TAB2016 ": 7-12 g per kg a day, as daily fuel, "
                                       "before less than 90 min of play"
                             : TAB2016
                      ": 10-12 g per kg a day for 36-48 h before more than "
                      "90 min of play";
    a[0].caution = "with diabetes only as your physician says";
    a[1] = amount("carbohydrate, the big meal", "at midday of the day before",
                  .4 * low * mass, .4 * 12 * mass);
    a[1].unit = "g";
    a[1].source = TRADE ": some two fifths of that day's amount";
    a[1].caution = "with diabetes only as your physician says";
}

static void set_food(EventAmount a[EVENTWEEK_AMOUNTS], double mass) {
    a[2] = amount("carbohydrate",
                  "in the 4 h before a start, less as the start nears", mass,
                  4 * mass);
    a[2].unit = "g";
    a[2].source = TAB2016
        ": 1-4 g per kg in the last 1-4 h before more than 60 min of play";
    a[2].caution = "only foods tried in training";
    a[3] = amount("carbohydrate", "during play of 1-2.5 h", 30, 60);
    a[3].unit = "g/h";
    a[3].source = "Burke et al. 2011";
}

static void set_fluid(EventAmount a[EVENTWEEK_AMOUNTS], double mass) {
    double water = per_ounce / 2 / per_pound;
    a[4] = amount("water", "a day, plus what sessions take", water * mass,
                  water * mass);
    a[4].unit = "ml/day";
    a[4].factor = 1 / per_ounce;
    a[4].other = "fl oz/day";
    a[4].source = TRADE ": half a fluid ounce per pound of body mass";
    a[4].caution = "do not drink more than you lose: over-drinking can kill "
                   "(Hew-Butler et al. 2015); heart, kidney or blood-pressure "
                   "disease: ask first";
    a[5] = amount("weigh-in mark, 2 % below", "after each session", .98 * mass,
                  .98 * mass);
    a[5].unit = "kg";
    a[5].factor = 1 / per_pound;
    a[5].other = "lb";
    a[5].source = "Sawka et al. 2007: avoid losing more than 2 %; weigh before "
                  "and after";
    a[5].caution = "below it drink and eat until you are back, slowly";
    a[6] = a[5];
    a[6].what = "weigh-in mark, 4 % below";
    a[6].low = a[6].high = .96 * mass;
    a[6].source =
        TRADE ", for the 4 %. Too little body water costs some 2 % of "
              "strength, 3 % of power and 10 % of hard endurance "
              "(Judelson et al. 2007)";
    a[6].caution = "below it do not play on; see the physician";
}

/* Between sessions less than 8 h apart. */
static void set_between(EventAmount *a, double mass) {
    *a = amount("carbohydrate, between sessions less than 8 h apart",
                "each of the first 4 h", mass, 1.2 * mass);
    a->unit = "g/h";
    a->source = TAB2016 ": 1-1.2 g per kg an hour for the first 4 h";
    a->caution = "only foods tried in training; with diabetes only as your "
                 "physician says";
}

/* Units of amounts per kilogram of body mass. */
static void per_kilogram(EventAmount *a, size_t count) {
    static const char *const per_kg[EVENTWEEK_AMOUNTS] = {
        "g/day per kg",      "g per kg",
        "g per kg",          "g/h",
        "ml/day per kg",     "of the usual mass",
        "of the usual mass", "g/h per kg"};
    for (size_t i = 0; i < count; i++)
        a[i].unit = per_kg[i];
    a[4].factor /= 1 / per_pound;
    a[4].other = "fl oz/day per lb";
    a[5].factor = a[6].factor = NAN;
}

size_t eventweek_amounts(double mass, int play, bool several,
                         EventAmount a[EVENTWEEK_AMOUNTS]) {
    bool known = isfinite(mass);
    size_t count = EVENTWEEK_AMOUNTS - !several;
    set_loading(a, known ? mass : 1, play);
    set_food(a, known ? mass : 1);
    set_fluid(a, known ? mass : 1);
    if (several)
        set_between(&a[7], known ? mass : 1);
    if (!known)
        per_kilogram(a, count);
    return count;
}

/* ---- timeline ---- */

typedef struct {
    EventStep *steps;
    size_t count;
} List;

static void add(List *list, int day, int minute, bool clock, const char *what) {
    if (list->count < EVENTWEEK_STEPS)
        list->steps[list->count++] = (EventStep){
            .day = day, .minute = minute, .clock = clock, .what = what};
}

enum { MORNING = 8 * 60, NOON = 12 * 60, EVENING = 19 * 60, NIGHT = 22 * 60 };

static void add_days_before(List *list) {
    static const char *const mobility =
        "mobility, 10-15 min, every morning of this week";
    add(list, -6, MORNING, false, mobility);
    add(list, -6, NIGHT, false,
        "from tonight: bed and rising at the hours of the event; 8 h or more");
    add(list, -2, MORNING, false,
        "weigh in: this morning's mass is the one to keep");
    add(list, -2, NOON, false,
        "food and drink as above, from today on; drink through the day");
    add(list, -1, MORNING, false,
        "travel today at the latest: stand up every hour, carry food, drink "
        "and boots yourself");
    add(list, -1, NOON, false,
        "the big meal, at midday and not in the evening");
    add(list, -1, EVENING, false,
        "light supper, bag packed, bed at the usual hour");
}

enum {
    LONG_BEFORE = 210,  /* [min] of a meal before play */
    SHORT_BEFORE = 120, /* [min] the least */
    BREAKFAST = 7 * 60 + 30
};

/* A start at which one comes from bed in any case. */
enum { NIGHT_START = 5 * 60 };

/* When to eat before a start: not before half past seven, as long as two hours
 * are left. */
static int meal_before(int start) {
    int meal = start - LONG_BEFORE;
    if (meal < BREAKFAST)
        meal = BREAKFAST;
    return meal < start - SHORT_BEFORE ? meal : start - SHORT_BEFORE;
}

/* Counted back from a start. */
static void add_session(List *list, int day, int start, bool clock,
                        bool first) {
    if (first) {
        bool early = start - meal_before(start) < 180;
        add(list, day, meal_before(start), clock,
            clock && start < NIGHT_START
                ? "up again after some hours of rest; a snack that training "
                  "has proven"
            : early ? "breakfast, small: the start is early"
                    : "main meal before play: what training has proven");
        add(list, day, start - 90, clock, "arrive, weigh in, drink in sips");
    }
    add(list, day, start - 45, clock,
        "warm-up, general: 15-20 min easy running, then mobility");
    add(list, day, start - 25, clock,
        "warm-up, specific: passes, shots, changes of direction, two or "
        "three sprints; end 5 min before the start");
    add(list, day, start, clock, "START");
    if (list->count > 0)
        list->steps[list->count - 1].start = true;
}

/* A meal, where there is time for one. */
static void add_between(List *list, int day, int end, int next) {
    if (next - 180 >= end + 30)
        add(list, day, next - 180, true,
            "meal between the sessions: light, what training has proven");
}

static void add_event_day(List *list, const EventTimes *t, int day) {
    bool clock = t->start && t->sessions > 0;
    int sessions = t->sessions > 0 ? t->sessions : 1;
    int wake = 7 * 60;
    bool night = clock && t->start[0] < NIGHT_START;
    if (clock && meal_before(t->start[0]) - 30 < wake)
        wake = meal_before(t->start[0]) - 30;
    if (!night)
        add(list, day, wake, clock,
            "get up; mobility, 10-15 min, today as well; weigh in");
    for (int i = 0; i < sessions; i++) {
        int start = clock ? t->start[i] : 15 * 60 + 10 * i;
        add_session(list, day, start, clock, i == 0);
        add(list, day, start + t->session_minutes, clock,
            i + 1 < sessions
                ? "weigh in, drink and eat at once, lie down; warm up anew "
                  "for the next one"
                : "weigh in, drink what is missing over the next hours, eat "
                  "within the hour; easy mobility in the evening");
        if (clock && i + 1 < sessions)
            add_between(list, day, start + t->session_minutes, t->start[i + 1]);
    }
}

/* By day, then by minute; steps of the same moment stay in order. */
static void sort(List *list) {
    for (size_t i = 1; i < list->count; i++) {
        EventStep step = list->steps[i];
        size_t k = i;
        while (k > 0 && (list->steps[k - 1].day > step.day ||
                         (list->steps[k - 1].day == step.day &&
                          list->steps[k - 1].minute > step.minute))) {
            list->steps[k] = list->steps[k - 1];
            k--;
        }
        list->steps[k] = step;
    }
}

enum { DAYS_SHOWN = 4 };

size_t eventweek_timeline(const EventTimes *t,
                          EventStep steps[EVENTWEEK_STEPS]) {
    List list = {steps, 0};
    add_days_before(&list);
    for (int day = 0; day < t->days && day < DAYS_SHOWN; day++)
        add_event_day(&list, t, day);
    if (t->days > DAYS_SHOWN)
        add(&list, DAYS_SHOWN, MORNING, false,
            "from here on each day like the ones before");
    add(&list, t->days, MORNING, false,
        "mobility and an easy half hour at most; then train as your "
        "coach says");
    sort(&list);
    return list.count;
}
