/* check: can these files be trusted?
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/mem.h"
#include "cases/context.h"
#include "commands/commands.h"
#include "output/check_text.h"

#include <stdlib.h>

StatusCode command_check(const Call *call, Status *status) {
    Context d;
    Coverage *c;
    size_t count = 0;
    bool readable = context_open(call->question, call->notes, &d) == STATUS_OK;
    (void)status;
    c = mem_new(d.chosen_count, sizeof *c);
    if (readable) {
        count = coverage_look(&d, c, call->notes);
        coverage_note_events(d.season, call->notes);
    }
    if (call->output.csv)
        check_text_csv(&d, c, count, call->output.to);
    else
        check_text_print(&d, c, count, call->output.to);
    free(c);
    context_close(&d);
    return notes_code(call->notes);
}
