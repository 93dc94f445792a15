/* compare: named options side by side.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "base/progress.h"
#include "commands/commands.h"
#include "output/blocks_text.h"
#include "output/compare_pictures.h"
#include "output/compare_text.h"

#include <stdlib.h>

static void print_text(const Context *d, const Comparison *k, size_t count,
                       const Output *o) {
    Document doc = {0};
    compare_text(d, k, count, &doc);
    output_document(o, &doc);
}

static StatusCode answer(const Call *call, const Context *d, const Case *cases,
                         size_t count, Status *status) {
    Comparison *k = mem_new(count, sizeof *k);
    StatusCode code = STATUS_OK;
    Progress progress =
        progress_begin("athletes compared", count, call->output.quiet);
    for (size_t i = 0; i < count && code == STATUS_OK; i++) {
        progress_step(&progress, i);
        code = comparison_build(&cases[i], &k[i], status);
    }
    progress_end(&progress);
    if (code == STATUS_OK && call->output.csv)
        compare_text_csv_header(&call->output);
    for (size_t i = 0; i < count && code == STATUS_OK && call->output.csv; i++)
        compare_text_csv(&k[i], call->output.to);
    if (code == STATUS_OK && !call->output.csv)
        print_text(d, k, count, &call->output);
    if (code == STATUS_OK && call->output.folder)
        code = output_draw(
            &call->output, &(Drawing){k, count, compare_pictures_draw},
            k[0].count > OPTIONS_SHOWN ? "Pictures (the first 8 options)"
                                       : "Pictures",
            status);
    for (size_t i = 0; i < count; i++)
        comparison_free(&k[i]);
    free(k);
    return code;
}

static StatusCode print_blocks(const Call *call, const Context *d,
                               const BlocksCompared *b, size_t count) {
    Document doc = {0};
    if (call->output.csv) {
        blocks_text_csv(b, count, call->question->blocks, &call->output);
        return STATUS_OK;
    }
    blocks_text(d, b, count, call->question->blocks, &doc);
    output_document(&call->output, &doc);
    return STATUS_OK;
}

/* --blocks: the season's weeks beside those of a file. */
static StatusCode answer_blocks(const Call *call, const Context *d,
                                const Case *cases, size_t count,
                                Status *status) {
    const Question *q = call->question;
    BlocksCompared *b = mem_new(count, sizeof *b);
    Season *other =
        season_with_blocks(d->season, q->blocks, &q->read, call->notes);
    StatusCode code = other ? STATUS_OK : notes_code(call->notes);
    call->say(call->notes);
    for (size_t i = 0; i < count && code == STATUS_OK; i++)
        code = blocks_compared_make(&cases[i], other, &b[i], status);
    if (code == STATUS_OK)
        code = print_blocks(call, d, b, count);
    for (size_t i = 0; i < count; i++)
        blocks_compared_free(&b[i]);
    free(b);
    season_with_blocks_free(other);
    return code;
}

StatusCode command_compare(const Call *call, Status *status) {
    if (call->question->blocks)
        return command_on_squad(call, true, answer_blocks, status);
    return command_on_squad(call, true, answer, status);
}
