/* together: see together.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "options/together.h"

#include "base/mem.h"

#include <string.h>

bool together_given(int count, char *const *words, const char *name) {
    size_t length = strlen(name);
    for (int i = 0; i < count && strcmp(words[i], "--") != 0; i++)
        if (strncmp(words[i], "--", 2) == 0 &&
            strncmp(words[i] + 2, name, length) == 0 &&
            (words[i][2 + length] == '\0' || words[i][2 + length] == '='))
            return true;
    return false;
}

/* Several events are for --joint, which sums over them. */
static void judge_events(const Request *r, Status *status) {
    char shown[TEXT_EXCERPT];
    if (!r->question.joint && r->question.event_count > 1)
        status_fail(status, STATUS_USAGE,
                    "--event: %s is one too many; expected one event, or "
                    "taper --joint, which weighs several",
                    text_excerpt(shown, r->question.events[1]));
    else if (r->question.joint && r->question.event_count == 1)
        status_fail(status, STATUS_USAGE,
                    "--event: %s alone, expected two events or more for "
                    "--joint, or no --event for all that are to come",
                    text_excerpt(shown, r->question.events[0]));
    else if (r->question.joint && r->question.aim == AIM_LOWEST)
        status_fail(status, STATUS_USAGE,
                    "--aim: 'lowest' is no sum of days, which --joint needs to "
                    "weigh events; expected first, mean or last");
    else if (r->question.joint && r->question.groups)
        status_fail(status, STATUS_USAGE,
                    "--groups: cannot go with --joint, expected one of them");
    else if (r->question.joint && r->question.option_count)
        status_fail(status, STATUS_USAGE,
                    "--option: cannot go with --joint, which looks for the "
                    "taper before each event, expected one of them");
    else if (r->question.joint && r->question.view_count)
        status_fail(status, STATUS_USAGE,
                    "--models: cannot go with --joint, expected --model for "
                    "one model at a time");
    else if (!r->question.joint && r->floor_given)
        status_fail(status, STATUS_USAGE,
                    "--floor: expected --joint with it, whose tapers it holds "
                    "back");
}

/* Limits that contradict each other whatever the season. */
static void check_limits(const Request *r, Status *status) {
    Text why = {0};
    if (status->code == STATUS_OK &&
        limits_contradict(&r->question.limits, &why))
        status_fail(status, STATUS_USAGE, "%s", text_of(&why));
    text_free(&why);
}

/* The form of the answer. What a folder's settings say of it holds where it
 * can; what the command line says must fit. */
static void judge_form(int command, int count, char *const *words, Request *r,
                       Status *status) {
    bool format = together_given(count, words, "format");
    if (format && !r->workbook && !(command & FOR_PICTURES))
        status_fail(
            status, STATUS_USAGE,
            "--format: '%s', expected xlsx, the only one of this command",
            picture_format_names[r->format]);
    else if (format && r->workbook && !r->out)
        status_fail(status, STATUS_USAGE,
                    "--format: xlsx is a file, expected --out DIR with it");
    else if (format && !r->out)
        status_fail(status, STATUS_USAGE,
                    "--format: '%s' is of pictures, which are files, expected "
                    "--out DIR with it",
                    picture_format_names[r->format]);
    else if (format && r->workbook && r->csv)
        status_fail(status, STATUS_USAGE,
                    "--csv: cannot go with --format xlsx, expected one of "
                    "them");
    else if (command == FOR_LOAD && together_given(count, words, "out") &&
             !r->workbook)
        status_fail(status, STATUS_USAGE,
                    "--out: load writes a workbook only, expected --format "
                    "xlsx with it");
    else if (together_given(count, words, "decimal") && !r->csv)
        status_fail(status, STATUS_USAGE,
                    "--decimal: expected --csv with it, whose numbers it "
                    "writes");
    if (!r->out || r->csv)
        r->workbook = false;
}

/* What is not said of --blocks, to which both others belong. */
enum { BLOCKS_WEEKS = 12, BLOCKS_RISE = 5, BLOCKS_HIGHEST = 150 /* [%] */ };

static void complete_blocks(Request *r, Status *status) {
    BlockPlan *plan = &r->blocks;
    if (!plan->build && (plan->weeks || plan->rise >= 0))
        status_fail(status, STATUS_USAGE,
                    "--%s: expected --blocks with it, like --blocks 3:1",
                    plan->weeks ? "weeks" : "rise");
    if (!plan->weeks)
        plan->weeks = BLOCKS_WEEKS;
    if (plan->rise < 0)
        plan->rise = BLOCKS_RISE;
    if (plan->build && blocks_file_highest(plan) > BLOCKS_HIGHEST)
        status_fail(status, STATUS_USAGE,
                    "--rise: %g %% a week over %d weeks leads to %.0f %% of "
                    "the usual week, expected a rise or weeks that stay within "
                    "%d %%",
                    plan->rise, plan->weeks, blocks_file_highest(plan),
                    BLOCKS_HIGHEST);
}

/* Options that cannot go together; the first trouble stays. */
static void judge_together(int command, const Request *r, Status *status) {
    char shown[TEXT_EXCERPT];
    if (!r->question.season && command == FOR_START && !r->help)
        status_fail(status, STATUS_USAGE,
                    "start: no folder given, expected the name of a new one");
    if (r->question.option_count > 1 && command != FOR_COMPARE)
        status_fail(status, STATUS_USAGE,
                    "--option: %s is one too many; this command takes one, "
                    "compare takes several",
                    text_excerpt(shown, r->question.options[1].spec));
    if (r->question.blocks && r->out)
        status_fail(status, STATUS_USAGE,
                    "--out: cannot go with compare --blocks, which draws "
                    "nothing, expected one of them");
    if (r->question.groups && r->question.view_count)
        status_fail(status, STATUS_USAGE,
                    "--groups: cannot go with --models, expected one of them");
    if (r->question.only_test && r->question.test)
        status_fail(status, STATUS_USAGE,
                    "--only-test: cannot go with --test, expected one of them");
    if (r->question.groups && r->question.individual)
        status_fail(status, STATUS_USAGE,
                    "--individual: cannot go with --groups, expected one of "
                    "them");
    if (!r->csv && (r->question.parts || r->no_header))
        status_fail(status, STATUS_USAGE,
                    "--%s: expected --csv with it, whose rows can be put "
                    "together",
                    r->question.parts ? "part" : "no-header");
    if (r->question.parts && r->question.groups)
        status_fail(status, STATUS_USAGE,
                    "--part: cannot go with --groups, which weighs all "
                    "athletes, expected one of them");
    judge_events(r, status);
}

StatusCode together_judge(int command, int count, char *const *words,
                          Request *r, Status *status) {
    judge_together(command, r, status);
    judge_form(command, count, words, r, status);
    complete_blocks(r, status);
    if (r->question.only_test && !r->question.test)
        r->question.test = mem_copy(r->question.only_test);
    if (!r->help)
        check_limits(r, status);
    return status->code;
}
