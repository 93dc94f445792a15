/* usage: what is wrong with a command line, and limits that contradict each
 * other or the season.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "rows.h"
#include "test.h"

static void usage(void) {
    static const Row rows[] = {
        {"", NULL, NULL, 2, "no command; 'peakward help' lists them", NULL},
        {"dance", NULL, NULL, 2, "'dance' is not a command", NULL},
        {"help dance", NULL, NULL, 2, "help: 'dance' is not a command", NULL},
        {"taper @ --speed", NULL, NULL, 2,
         "'--speed' is not an option of this command; 'peakward help COMMAND' "
         "lists them",
         NULL},
        {"load @ --aim mean", NULL, NULL, 2,
         "'--aim' is not an option of this command", NULL},
        {"taper @ -x", NULL, NULL, 2, "'-x' is not an option", NULL},
        {"taper @ more", NULL, NULL, 2,
         "'more' is one word too many; expected one season folder", NULL},
        {"models extra", NULL, NULL, 2, "'extra' is one word too many", NULL},
        {"taper @ --csv=1", NULL, NULL, 2, "--csv takes no value", NULL},
        {"taper @ --model", NULL, NULL, 2, "--model needs a value", NULL},
        {"taper @ --today 7/3/2026", NULL, NULL, 2,
         "--today: '7/3/2026', expected a date as YYYY-MM-DD", NULL},
        {"taper @ --today 2026-02-30", NULL, NULL, 2,
         "--today: '2026-02-30', expected a date", NULL},
        {"taper @ --aim highest", NULL, NULL, 2,
         "--aim: 'highest', expected first, mean, lowest or last", NULL},
        {"taper @ --format gif", NULL, NULL, 2,
         "--format: 'gif', expected svg, png, pdf or text", NULL},
        {"check @ --dates ymd", NULL, NULL, 2,
         "--dates: 'ymd', expected iso, dmy or mdy", NULL},
        {"check @ --load watts", NULL, NULL, 2,
         "--load: 'watts', expected load, session-rpe, trimp, zones or volume",
         NULL},
        {"check @ --gaps fill", NULL, NULL, 2,
         "--gaps: 'fill', expected rest or typical", NULL},
        {"simulate @ --before now", NULL, NULL, 2,
         "--before: 'now', expected steady, nothing or fit", NULL},
        {"simulate @ --when noon", NULL, NULL, 2,
         "--when: 'noon', expected before or after", NULL},
        {"check @ --map Datum", NULL, NULL, 2,
         "--map: 'Datum', expected OURS=THEIRS", NULL},
        {"check @ --map day=Datum", NULL, NULL, 2,
         "--map: 'day', expected a column of ours before the =", NULL},
        {"compare @ --option 14y50", NULL, NULL, 2,
         "--option: '14y50', expected parts like 14x50", NULL},
        {"compare @ --option 0x50", NULL, NULL, 2,
         "expected a whole number of days from 1 to 120", NULL},
        {"compare @ --option 14x", NULL, NULL, 2,
         "expected a cut in per cent behind the x", NULL},
        {"compare @ --option 14x0-", NULL, NULL, 2,
         "expected the last day's cut behind the sign", NULL},
        {"compare @ --option 14x101", NULL, NULL, 2,
         "expected cuts from 0 to 100 per cent", NULL},
        {"compare @ --option 14x0~~100", NULL, NULL, 2, "expected", NULL},
        {"compare @ --option 7x50;7x75", NULL, NULL, 2,
         "expected a comma between parts", NULL},
        {"compare @ --option =14x50", NULL, NULL, 2,
         "expected a name before the =", NULL},
        {"compare @ --option 1x1,1x1,1x1,1x1,1x1,1x1,1x1,1x1,1x1", NULL, NULL,
         2, "expected at most 8 parts", NULL},
        {"compare @ --option 100x5,100x5", NULL, NULL, 2,
         "expected at most 120 days in all", NULL},
        {"plan @ --plate 0", NULL, NULL, 2,
         "--plate: '0', expected kilograms from 0.1 to 50, like 2.5", NULL},
        {"plan @ --plate two", NULL, NULL, 2, "--plate: 'two', expected", NULL},
        /* t_n = 42 x 7 / 35 x ln 1.14 = 1.1 days: a taper can gain hardly
         * anything, and a session weeks before weighs far more than that */
        {"plan @ --model @/own.csv --quiet", NULL,
         "own.csv|parameter,value\nkind,two-component\np0,3\nk1,1\nk2,1.14\n"
         "tau1,42\ntau2,7\n",
         0, NULL, "300 Court: 60 min, rating 5 ! > 99 %\n"},
        /* the same level in cm: a day of rest before the event is worth
         * 300 x (1.14 e^(-1/7) - e^(-1/42)) = 3.53 of 7357, .048 % (Python) */
        {"taper @ --model @/own.csv --quiet", NULL,
         "own.csv|parameter,value,unit\nkind,two-component,\np0,3,cm\nk1,1,\n"
         "k2,1.14,\ntau1,42,\ntau2,7,\n",
         0, NULL, "wing-07: the gain is less than published tapers brought"},
        {"plan @", NULL, "athletes.csv|athlete,mass_kg\nwing-07,172\n", 0,
         "'wing-07' weighs 172 kg; if that is in pounds, the column is mass_lb",
         "the mass in athletes.csv (172 kg)"},
        {"plan @", NULL,
         "athletes.csv|athlete,mass_kg,mass_lb\nwing-07,80,150\n", 1,
         "athletes.csv:2: mass_lb: '150' is 68.0 kg, expected the 80 of "
         "mass_kg",
         NULL},
        {"check @", NULL, "athletes.csv|athlete,mass_lb\nwing-07,82.5\n", 0,
         NULL, "weighs 37 kg; was that in"},
        {"check @", NULL, "athletes.csv|athlete,mass_lb\nwing-07,70\n", 0, NULL,
         "weighs 32 kg; was that in"},
        {"plan @", NULL, "athletes.csv|athlete,mass_kg\nwing-07,0\n", 1,
         "athletes.csv:2: mass_kg: '0', expected", NULL},
        {"plan @", NULL, "athletes.csv|athlete,mass_kg\nwing-07,9999\n", 1,
         "athletes.csv:2: mass_kg: '9999', expected", NULL},
        {"plan @", NULL, "athletes.csv|athlete,born\nwing-07,2008-13-01\n", 1,
         "athletes.csv:2: born: '2008-13-01', expected", NULL},
        {"plan @ --quiet", NULL,
         "athletes.csv|athlete,mass_kg,born\nwing-07,66,2008-03-08\n", 0, NULL,
         "lasts over 90\n  min: ask your dietitian or physician"},
        {"plan @ --quiet", NULL,
         "athletes.csv|athlete,mass_kg,born\nwing-07,66,2008-03-07\n", 0, NULL,
         "lasts over 90\n  min: 660-790 g/day"},
        {"plan @ --quiet", NULL, "athletes.csv|athlete\nwing-07\n", 0, NULL,
         "10-12 g/day per kg"},
        {"taper @ --build-up 31", NULL, NULL, 2,
         "--build-up: '31', expected per cent from 0 to 30, like 20 for a "
         "fifth "
         "more",
         NULL},
        {"taper @ --build-up 20 --quiet", NULL, NULL, 0, NULL,
         "This model is linear"},
        {"compare @ --option 7x+60", NULL, NULL, 2,
         "expected at most 50 per cent more behind the +, like 21x+20", NULL},
        {"taper @ --models own", NULL, NULL, 2,
         "--models: 'own', expected two to five models, like own,literature",
         NULL},
        {"taper @ --models own,,classic", NULL, NULL, 2,
         "expected two or more models, like own,literature", NULL},
        {"taper @ --model nope --min-week-load 60 --aim lowest", NULL, NULL, 1,
         "'nope', expected a model file or one of the names that", NULL},
        {"taper @ --model nope --csv", NULL, NULL, 1,
         "'nope', expected a model file or one of the names that", NULL},
        {"taper @ --models own,nope", NULL, NULL, 1,
         "'nope', expected a model file or one of the names that 'peakward "
         "models' lists",
         NULL},
        {"taper @ --models classic,busso-2003 --quiet", NULL, NULL, 0, NULL,
         "The models disagree"},
        {"taper @ --models own,own --quiet", NULL, NULL, 0, NULL,
         "The models agree"},
        {"taper @ --max-length 0", NULL, NULL, 2,
         "--max-length: '0', expected a whole number from 1 to 60", NULL},
        {"taper @ --max-length 7.5", NULL, NULL, 2, "--max-length: '7.5'",
         NULL},
        {"taper @ --max-cut 120", NULL, NULL, 2,
         "--max-cut: '120', expected per cent from 0 to 100", NULL},
        {"taper @ --min-week-load x", NULL, NULL, 2, "--min-week-load: 'x'",
         NULL},
        {"taper @ --rest-days 15", NULL, NULL, 2,
         "--rest-days: '15', expected a whole number from 0 to 14", NULL},
        {"taper @ --min-sessions 2.5", NULL, NULL, 2,
         "--min-sessions: '2.5', expected a whole number from 0 to 50", NULL},
        {"taper @ --no-gym 61", NULL, NULL, 2,
         "--no-gym: '61', expected a whole number from 0 to 60", NULL},
        {"taper @ --max-day-rise -1", NULL, NULL, 2,
         "--max-day-rise: '-1', expected a load of 0 or more", NULL},
        {"taper @ --max-day-rise much", NULL, NULL, 2,
         "--max-day-rise: 'much', expected a load of 0 or more", NULL},
        {"taper @ --max-week-rise 0.5", NULL, NULL, 2,
         "--max-week-rise: '0.5', expected per cent from 0 to 1000", NULL},
        {"taper @ --max-week-rise 1001%", NULL, NULL, 2,
         "--max-week-rise: '1001%', expected per cent from 0 to 1000", NULL},
        {"taper @ --cut-kinds gym,yoga", NULL, NULL, 2,
         "--cut-kinds: 'yoga', expected gym, skill, conditioning, match, "
         "mobility or other",
         NULL},
        {"load @ --no-gym 3", NULL, NULL, 2,
         "'--no-gym' is not an option of this command", NULL},
        {"taper @ --shapes step,wave", NULL, NULL, 2,
         "--shapes: 'wave', expected step, linear, exponential, two-step or "
         "rest",
         NULL},
        {"taper @ --seed -1", NULL, NULL, 2, "--seed: '-1'", NULL},
        {"taper @ --threads 0", NULL, NULL, 2, "--threads: '0'", NULL},
        {"taper @ --out=", NULL, NULL, 2, "--out: '', expected a folder", NULL},
        {"taper @ --csv --part 3/2", NULL, NULL, 2,
         "--part: '3/2', expected a part and the number of parts, like 1/8 ... "
         "8/8",
         NULL},
        {"taper @ --csv --part 1", NULL, NULL, 2, "--part: '1', expected",
         NULL},
        {"taper @ --part 1/1", NULL, NULL, 2,
         "--part: expected --csv with it, whose rows can be put together",
         NULL},
        {"fit @ --no-header", NULL, NULL, 2,
         "--no-header: expected --csv with it", NULL},
        {"taper @ --csv --plans 2 --part 1/1", NULL, NULL, 2,
         "--part: cannot go with --plans, which weighs all athletes", NULL},
        {"check @ --csv --part 1/1", NULL, NULL, 2,
         "'--part' is not an option of this command", NULL},
        {"load @ --csv --part 1/99999", NULL, NULL, 1,
         "--part: 99999 parts of ", NULL},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

/* Two limits that contradict each other whatever the season. */
static void contradictions(void) {
    static const Row rows[] = {
        {"taper @ --min-week-load 100", NULL, NULL, 2,
         "--min-week-load 100 and --max-cut 75 contradict each other: a week "
         "that keeps all its load leaves nothing to cut; expected less than "
         "100",
         NULL},
        {"taper @ --shapes rest --rest-days 0", NULL, NULL, 2,
         "--shapes rest and --rest-days 0 contradict each other: only rest is "
         "searched and no day may rest; expected another shape, or a day of "
         "rest",
         NULL},
        {"taper @ --max-cut 0 --rest-days 0", NULL, NULL, 2,
         "--max-cut 0 and --rest-days 0 contradict each other: no day may be "
         "cut and none may rest; expected a larger cut",
         NULL},
        {"plan @ --max-cut 0 --shapes step,two-step", NULL, NULL, 2,
         "--max-cut 0 and --shapes step,two-step contradict each other", NULL},
        {"compare @ --max-length 1 --shapes linear", NULL, NULL, 2,
         "--max-length 1 and --shapes linear contradict each other: these "
         "shapes take two days at least; expected a longer taper",
         NULL},
        {"taper @ --cut-kinds gym --no-gym 28", NULL, NULL, 2,
         "--cut-kinds gym and --no-gym 28 contradict each other: there is no "
         "gym left to cut on the days searched; expected fewer days without "
         "gym, or more kinds",
         NULL},
        {"taper @ --cut-kinds gym --no-gym 28 --help", NULL, NULL, 0, NULL,
         "--cut-kinds LIST"},
        {"taper @ --max-cut 0 --quiet", NULL, NULL, 0, NULL, "3x100"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

#define WEEK "week.csv|weekday,session,kind,minutes,rpe,keep\n"

/* Limits against the season: exit 1 with the reason. */
static void limits(void) {
    static const Row rows[] = {
        {"taper @ --min-sessions 6", NULL, NULL, 1,
         "wing-07: --min-sessions 6 leaves no taper to try (in the usual week "
         "the seven days from Sat 28 Feb have 5 sessions); expected a wider "
         "limit",
         NULL},
        {"taper @ --min-sessions 5 --shapes rest", NULL, NULL, 1,
         "--min-sessions 5 and --shapes rest leave no taper to try; expected a "
         "wider limit, one of these two",
         NULL},
        {"taper @ --min-sessions 5 --quiet", NULL, NULL, 0, NULL,
         "keeps at least 5 sessions"},
        /* Monday's 300 after Sunday's rest can be cut to 75 */
        {"taper @ --max-day-rise 74", NULL, NULL, 1,
         "--max-day-rise 74 and --max-cut 75 leave no taper to try (in the "
         "usual week Mon 2 Mar has a load 300 above the day before); expected "
         "a wider limit, one of these two",
         NULL},
        {"taper @ --max-day-rise 300 --quiet", NULL, NULL, 0, NULL,
         "That costs no gain."},
        {"taper @ --max-day-rise 299 --quiet", NULL, NULL, 0, NULL,
         "Training as usual lies outside"},
        /* three sessions of the week before the last are kept */
        {"taper @ --max-week-rise 10 --quiet", NULL,
         WEEK "2026-02-16,Court,skill,10,5,\n2026-02-17,Court,skill,10,5,\n"
              "mon,Court,skill,60,5,yes\ntue,Court,skill,60,5,yes\n"
              "wed,Court,skill,60,5,yes\n",
         1,
         "--max-week-rise 10 leaves no taper to try (in the usual week the "
         "seven days from Sat 21 Feb have",
         NULL},
        {"taper @ --min-sessions 3 --no-gym 7", NULL,
         WEEK "mon,Gym,gym,60,6,\ntue,Court,skill,60,5,\nwed,Gym,gym,60,6,\n"
              "fri,Court,skill,60,5,\n",
         1,
         "--min-sessions 3 leaves no taper to try beside --no-gym 7 (in the "
         "usual week the seven days from Sat 28 Feb have 2 sessions)",
         NULL},
        {"taper @ --no-gym 7", NULL,
         WEEK "mon,Gym,gym,60,6,yes\ntue,Court,skill,60,5,\n", 1,
         "week.csv:2: keep: 'Gym' is marked to stay, but --no-gym 7 takes it "
         "off Mon 2 Mar; expected one of the two",
         NULL},
        {"taper @ --no-gym 7", NULL, NULL, 1,
         "wing-07: --no-gym 7: sessions to come have no kind, since there is "
         "no week.csv; expected one with the column kind",
         NULL},
        {"taper @ --cut-kinds gym", NULL, NULL, 1,
         "wing-07: --cut-kinds gym: sessions to come have no kind, since "
         "there is no week.csv; expected one with the column kind",
         NULL},
        {"taper @ --cut-kinds gym,match", NULL,
         WEEK "mon,Gym,gym,60,6,yes\ntue,Court,skill,60,5,\n"
              "wed,Run,conditioning,20,5,\n",
         1,
         "wing-07: --cut-kinds gym,match: the days searched before the event "
         "have no such session that may be cut; expected one of skill, "
         "conditioning",
         NULL},
        {"taper @ --cut-kinds gym", NULL, WEEK "mon,Gym,gym,60,6,yes\n", 1,
         "may be cut; expected one of a week with sessions that are not kept",
         NULL},
        /* 20 min less 40 % are 12, in steps of 5 min 10 */
        {"plan @ --min-week-load 60 --shapes step --max-cut 40 --quiet", NULL,
         WEEK "mon,Court,skill,20,5,\ntue,Court,skill,20,5,\n"
              "thu,Court,skill,20,5,\nfri,Court,skill,20,5,\n",
         0, NULL,
         "As rounded, the seven days from Sat 28 Feb keep 50 % of their load,"},
        {"compare @ --quiet --option 5x100 --min-sessions 3 --rest-days 7",
         NULL, NULL, 0, NULL, "*: outside the limits searched"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

static void help(void) {
    static const Row rows[] = {
        {"help", NULL, NULL, 0, NULL, "peakward COMMAND [SEASON]"},
        {"--help", NULL, NULL, 0, NULL, "peakward COMMAND [SEASON]"},
        {"--version", NULL, NULL, 0, NULL, "peakward "},
        {"help taper", NULL, NULL, 0, NULL, "--max-length DAYS"},
        {"taper --help", NULL, NULL, 0, NULL, "--max-length DAYS"},
        {"taper no-such-folder --help", NULL, NULL, 0, NULL, "--max-cut"},
        {"help load", NULL, NULL, 0, NULL, "--weekly"},
        {NULL, NULL, NULL, 0, NULL, NULL}};
    run_rows(rows);
}

static const TestCase cases[] = {{"usage", usage},
                                 {"contradictions", contradictions},
                                 {"limits", limits},
                                 {"help", help},
                                 {NULL, NULL}};

const TestSuite suite_program_usage = {"program", cases};
