/* joint_text: events weighed against each other, as text and CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_JOINT_TEXT_H
#define OUTPUT_JOINT_TEXT_H

#include "answers/joint_peaks.h"
#include "output/output.h"

void joint_text(const Context *d, const JointPeaks *p, size_t count,
                Document *doc);
void joint_text_csv(const Output *o, const JointPeaks *p, size_t count);

#endif
