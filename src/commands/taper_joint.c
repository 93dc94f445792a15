/* taper_joint: see taper_joint.h.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "commands/taper_joint.h"

#include "answers/joint_events.h"
#include "answers/joint_record.h"
#include "base/mem.h"
#include "output/joint_pictures.h"
#include "output/joint_text.h"

#include <stdlib.h>

StatusCode taper_joint_answer(const Call *call, const Context *d,
                              const Case *cases, size_t count, Status *status) {
    Document doc = {0};
    JointPeaks *p = mem_new(count, sizeof *p);
    StatusCode code = joint_events_judge_names(d, status);
    if (code == STATUS_OK)
        code = joint_peaks_build(cases, count, p, status);
    if (code == STATUS_OK)
        code = joint_peaks_judge_all(d, p, count, status);
    for (size_t i = 0; i < count && code == STATUS_OK; i++)
        joint_record_look(&p[i]);
    if (code == STATUS_OK) {
        joint_peaks_warn(d, &p[0]);
        call->say(d->notes);
        if (call->output.csv)
            joint_text_csv(&call->output, p, count);
        else
            joint_text(d, p, count, &doc);
        output_document(&call->output, &doc);
    }
    if (code == STATUS_OK && call->output.folder)
        code = output_draw(&call->output,
                           &(Drawing){p, count, joint_pictures_draw},
                           "Pictures", status);
    for (size_t i = 0; i < count; i++)
        joint_peaks_free(&p[i]);
    free(p);
    return code;
}
