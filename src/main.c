/* main: the command table, from which the help is made; the only place that
 * prints an error and exits.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "base/outfile.h"
#include "commands/form.h"
#include "options/command_line.h"
#include "options/manual.h"
#include "options/topics.h"
#include "present/grid.h"

#include <errno.h>
#include <fcntl.h>
#include <gsl/gsl_errno.h>
#include <malloc.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const Command commands[] = {
    {"check", FOR_CHECK, command_check,
     "can these files be trusted? every problem with file, line, column, and "
     "the coverage",
     "Lists what must be mended before anything can be computed, what to look "
     "at, and for each athlete the days with training, rest days, days not "
     "recorded and gaps. Exit code 1 when something must be mended."},
    {"load", FOR_LOAD, command_load,
     "daily and weekly load, monotony and strain",
     "With --weekly one row a calendar week (Monday to Sunday): load, monotony "
     "(mean/SD of the seven days, sample SD) and strain (load x monotony), "
     "after Foster 1998."},
    {"simulate", FOR_SIMULATE, command_simulate,
     "fitness, fatigue and readiness for each day, with intervals",
     "From the first logged day to the event's last; the days to come follow "
     "the usual week, under the taper of --option if one is given."},
    {"fit", FOR_FIT, command_fit,
     "an athlete's own model from performance tests, with its uncertainty and "
     "whether it predicts",
     "Best fit by least squares, and what the tests and the literature's prior "
     "say together. --model NAME fits that kind with that file as prior. With "
     "--out it writes model files with their draws, for --model of the other "
     "commands."},
    {"taper", FOR_TAPER, command_taper,
     "which taper for the event: the squad's common one and who needs another, "
     "or with --athlete one athlete's options",
     "Searches every length, cut and shape within the limits. A squad gets as "
     "few different tapers as cost little, and one for all who train mostly "
     "with the team (--individual: each athlete their own). Without tests that "
     "tell more it is the gentle end of the published "
     "band; --model NAME follows a model. `peakward help notes` has the rule."},
    {"compare", FOR_COMPARE, command_compare,
     "named options side by side: no taper, volume cut, full rest, ...",
     "Without --option it compares none, 7d-50,7d-75 (a week at half volume, "
     "then a week at a quarter), 3d-100 (three days of rest), 14d-50 and the "
     "best."},
    {"plan", FOR_PLAN, command_plan,
     "the day-by-day plan with sets, repetitions and minutes, the event-week "
     "sheet, a calendar file",
     "Cuts whole sets and minutes of the usual week (week.csv, exercises.csv) "
     "by the recommended taper or that of --option, with intensity kept."},
    {"report", FOR_REPORT, command_report,
     "one HTML page: the squad, who does what by session, a sheet an athlete, "
     "a "
     "letter, an appendix",
     "Writes DIR/report.html with --out DIR, else the page to standard output. "
     "It stands alone: to be read in a browser or printed, one athlete a "
     "sheet. Where a plan was handed out it says how far that has come; of an "
     "event that is over (--event, or none is to come) it is a review."},
    {"experiment", FOR_EXPERIMENT, command_experiment,
     "virtual athletes under tapers: which taper does best",
     "DESIGN.csv has the columns factor and values (separated by ;); `peakward "
     "help notes` lists the factors: among them tapers, given or this "
     "program's own advice, the model that is true and the one assumed, tests "
     "with their noise, squads. All are crossed. --csv has a row a run; --out "
     "DIR two pictures and the first squad with tests as a season. On several "
     "machines: "
     "`parallel peakward "
     "experiment D.csv --csv --no-header --part {}/8 ::: 1 2 3 4 5 6 7 8`, "
     "or in a Slurm array --part $SLURM_ARRAY_TASK_ID/8."},
    {"review", FOR_REVIEW, command_review,
     "planned against done so far; after the event forecast against outcome",
     "Reads the plan handed out (plan.csv) and the log since. After the event "
     "the forecast that was stored with the plan stands beside what was "
     "measured then; a plan without one is forecast now, from what the files "
     "say of the days before it."},
    {"models", FOR_MODELS, command_models,
     "the model files at hand, with half-lives, t_n and t_g",
     "--model NAME shows one. With --out it draws what a session does to "
     "readiness, by how many days before the event it lies."},
    {"lesson", FOR_LESSON, command_lesson,
     "teaching figures with their explanation, from a model alone",
     "Name a lesson, or 'all'; --list names them. The words and numbers are "
     "those of --model (default literature). With --out it draws, and 'all' "
     "also writes a lecture page, lecture.html, a worksheet and its answers "
     "(pictures as svg). --page FILE writes a page with sliders to try the "
     "model and a taper out on a phone."},
    {"start", FOR_START, command_start,
     "writes a new season folder: every file with its header and example rows "
     "to replace; overwrites nothing",
     "peakward start FOLDER. The rows end today (--today DATE: that day) and "
     "an "
     "event lies four weeks ahead, so that every command answers at once."},
    {NULL, 0, NULL, NULL, NULL}};

static const Command *find_command(const char *name) {
    for (const Command *c = commands; c->name; c++)
        if (strcmp(c->name, name) == 0)
            return c;
    return NULL;
}

/* ---- help ---- */

static void print_help(FILE *to) {
    fputs("peakward COMMAND [SEASON] [options]\n\n", to);
    print_wrapped(to,
                  "From a training log to the taper that brings athletes to "
                  "an event ready. SEASON is a folder of CSV files "
                  "(default: here) or a single CSV file of sessions.",
                  79, 0);
    fputs("\nCommands:\n", to);
    for (const Command *c = commands; c->name; c++) {
        fprintf(to, "  %-10s ", c->name);
        print_wrapped(to, c->answers, 66, 13);
    }
    fputs("\nTopics, with `peakward help TOPIC`:\n", to);
    for (size_t i = 0; topics_at(i); i++)
        fprintf(to, "  %-10s %s\n", topics_at(i)->name, topics_at(i)->about);
    fputs("\n", to);
    print_wrapped(
        to,
        "`peakward help COMMAND` lists a command's options. Exit codes: 0 "
        "done, 1 the data allow no answer, 2 wrong usage, 3 the system failed.",
        79, 0);
}

static void print_command_help(const Command *c, FILE *to) {
    fprintf(to, "peakward %s %s[options]\n\n", c->name, manual_operand(c));
    fprintf(to, "%s: ", c->name);
    print_wrapped(to, c->answers, 79 - strlen(c->name) - 2, 0);
    fputc('\n', to);
    print_wrapped(to, c->more, 79, 0);
    fputs("\nOptions:\n", to);
    command_line_help(c->bit, to);
}

/* ---- errors ---- */

static void say_line(const char *text) {
    fputs("peakward: ", stderr);
    print_shown(stderr, text);
    fputc('\n', stderr);
}

static size_t said; /* notes gone through so far */
static bool quiet;

enum { SAID_ALIKE = 5 }; /* notes of one sort said; `check --csv` has all */

static void say_note(const Note *n) {
    Text line = {0};
    if (n->file)
        text_add(&line, "%s", n->file);
    if (n->file && n->line)
        text_add(&line, ":%zu", n->line);
    if (n->file)
        text_add(&line, ": ");
    if (n->column)
        text_add(&line, "%s: ", n->column);
    if (n->level != LEVEL_ERROR)
        text_add(&line, "%s: ", level_name(n->level));
    text_add(&line, "%s", n->text);
    say_line(text_of(&line));
    text_free(&line);
}

/* Those of a sort from number `from` on, the first few and how many more. */
static void say_sort(const Notes *notes, size_t from, size_t sort) {
    const Note *first = &notes->items[notes->sorts[sort].first];
    size_t more = 0;
    for (size_t i = from; i < notes->count; i++)
        if (notes->items[i].sort == sort && notes->items[i].alike < SAID_ALIKE)
            say_note(&notes->items[i]);
        else
            more += notes->items[i].sort == sort;
    if (more)
        fprintf(stderr, "peakward: ... and %zu more of this sort%s\n", more,
                first->line ? " ('peakward check --csv' lists all)" : "");
}

/* Those not said yet, sort by sort. */
static void say_notes(const Notes *notes) {
    bool sort_said[NOTE_SORTS] = {false};
    for (size_t i = said; i < notes->count; i++) {
        const Note *n = &notes->items[i];
        if ((quiet && n->level != LEVEL_ERROR) || sort_said[n->sort])
            continue;
        sort_said[n->sort] = true;
        say_sort(notes, i, n->sort);
    }
    said = notes->count;
}

static void say_dropped(const Notes *notes) {
    if (notes->dropped)
        fprintf(stderr,
                "peakward: ... and %zu more like these; 'peakward check "
                "--csv' lists them\n",
                notes->dropped);
}

static void out_of_memory(void) {
    static const char text[] = "peakward: out of memory\n";
    ssize_t ignored = write(2, text, sizeof text - 1);
    (void)ignored;
    plot_abandon();
    outfile_abandon_all();
    _exit(STATUS_SYSTEM);
}

/* Leaves no half-written file behind, then dies as the signal asks. */
static void on_signal(int number) {
    plot_abandon();
    outfile_abandon_all();
    signal(number, SIG_DFL);
    raise(number);
}

static void watch_signals(void) {
    static const int numbers[] = {SIGINT, SIGTERM, SIGHUP, SIGQUIT};
    struct sigaction ignore = {.sa_handler = SIG_IGN};
    struct sigaction leave = {.sa_handler = on_signal};
    sigfillset(&leave.sa_mask);
    sigaction(SIGPIPE, &ignore, NULL);
    sigaction(SIGXFSZ, &ignore, NULL); /* a file too large: write() says so */
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
        sigaction(numbers[i], &leave, NULL);
}

/* ---- running ---- */

static StatusCode run(const Command *command, int count, char *const *words,
                      Status *status) {
    Request request;
    Notes notes = {0};
    StatusCode code =
        command_line_read(command->bit, count, words, &request, status);
    quiet = request.question.quiet;
    if (code == STATUS_OK && request.help) {
        print_command_help(command, stdout);
    } else if (code == STATUS_OK) {
        Call call = {&request, &request.question,
                     request_output(&request, stdout), &notes, say_notes};
        code = form_run(command->run, &call, command->name, status);
        if (command->bit != FOR_CHECK) {
            say_notes(&notes);
            say_dropped(&notes);
        }
    }
    notes_free(&notes);
    request_free(&request);
    return code;
}

/* Help that is asked for by name: of a command or a topic, or as a manual page
 * of it. */
static StatusCode help_of(const char *name, bool man, Status *status) {
    const Command *command = find_command(name);
    const Topic *topic = topics_find(name);
    char shown[TEXT_EXCERPT];
    if (topic && man && !command)
        return topics_manual(topic, VERSION, stdout, status);
    if (topic && !man && command) { /* `models` is both */
        print_command_help(command, stdout);
        fputc('\n', stdout);
    }
    if (topic && !man)
        return topics_print(topic, stdout, status);
    if (!command)
        return status_fail(status, STATUS_USAGE,
                           "help: %s is not a command; 'peakward help' lists "
                           "them",
                           text_excerpt(shown, name));
    if (man)
        manual_command(command, VERSION, stdout);
    else
        print_command_help(command, stdout);
    return STATUS_OK;
}

static StatusCode help(int count, char *const *words, Status *status) {
    bool man = count > 0 && strcmp(words[0], "--man") == 0;
    if (count == 0) {
        print_help(stdout);
    } else if (strcmp(words[0], "--names") == 0) {
        manual_names(commands, stdout);
    } else if (strcmp(words[0], "--topics") == 0) {
        manual_topics(stdout);
    } else if (strcmp(words[0], "--man-topic") == 0 && count > 1 &&
               topics_find(words[1])) {
        return topics_manual(topics_find(words[1]), VERSION, stdout, status);
    } else if (strcmp(words[0], "--completion") == 0) {
        manual_completion(commands, stdout);
    } else if (man && count == 1) {
        manual_program(commands, VERSION, stdout);
    } else {
        return help_of(words[man], man, status);
    }
    return STATUS_OK;
}

static StatusCode dispatch(int count, char *const *words, Status *status) {
    const Command *command;
    char shown[TEXT_EXCERPT];
    if (count < 2)
        return status_fail(status, STATUS_USAGE,
                           "no command; 'peakward help' lists them");
    if (strcmp(words[1], "help") == 0)
        return help(count - 2, words + 2, status);
    if (strcmp(words[1], "--help") == 0 || strcmp(words[1], "-h") == 0)
        return help(0, NULL, status);
    if (strcmp(words[1], "--version") == 0) {
        printf("peakward %s\n", VERSION);
        return STATUS_OK;
    }
    command = find_command(words[1]);
    if (!command)
        return status_fail(status, STATUS_USAGE,
                           "%s is not a command; 'peakward help' lists them",
                           text_excerpt(shown, words[1]));
    return run(command, count - 2, words + 2, status);
}

/* Has the reader of standard output gone, like `head` when it has enough? */
static bool reader_gone(void) {
    struct pollfd out = {.fd = 1};
    return poll(&out, 1, 0) > 0 && out.revents & POLLERR;
}

/* Ends as other programs do whose reader has gone: without a word. */
static void end_quietly(void) {
    outfile_abandon_all();
    signal(SIGPIPE, SIG_DFL);
    raise(SIGPIPE);
}

/* The answer is done only when it has reached standard output. */
static StatusCode finish_output(Status *status) {
    errno = 0;
    if ((fflush(stdout) != 0 || ferror(stdout)) && reader_gone())
        end_quietly();
    if (ferror(stdout))
        return status_fail(status, STATUS_SYSTEM,
                           "standard output cannot be written: %s",
                           strerror(errno ? errno : EIO));
    return STATUS_OK;
}

/* The same large arrays come and go for each athlete: keep their pages instead
 * of asking the system for fresh ones each time. */
static void keep_pages(void) {
#ifdef __GLIBC__
    mallopt(M_MMAP_THRESHOLD, 64 << 20);
    mallopt(M_TRIM_THRESHOLD, 256 << 20);
#endif
}

/* A file must not take the place of a closed standard stream and get what is
 * meant for it: writing there goes on failing. */
static void hold_streams(void) {
    for (int stream = 0; stream <= 2; stream++)
        if (fcntl(stream, F_GETFD) < 0 && errno == EBADF)
            (void)!open("/dev/null", O_RDONLY);
}

/* GSL returns what went wrong, and its callers here look; but where it has no
 * memory it also returns NULL. */
static void on_gsl_error(const char *reason, const char *file, int line,
                         int error) {
    (void)reason, (void)file, (void)line;
    if (error == GSL_ENOMEM)
        mem_out();
}

int main(int count, char **words) {
    Status status = {0}, output = {0};
    StatusCode code;
    hold_streams();
    keep_pages();
    watch_signals();
    mem_set_handler(out_of_memory);
    gsl_set_error_handler(on_gsl_error);
    code = dispatch(count, words, &status);
    if (status.code != STATUS_OK)
        say_line(status.text);
    if (finish_output(&output) != STATUS_OK) {
        say_line(output.text);
        code = code == STATUS_OK ? output.code : code;
    }
    return (int)code;
}
