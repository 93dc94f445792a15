/* joint_text: events weighed against each other, as text and CSV.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#ifndef OUTPUT_JOINT_TEXT_H
#define OUTPUT_JOINT_TEXT_H

#include "answers/joint_peaks.h"
#include "output/output.h"

void joint_text_present(const Output *o, const Context *d, const JointPeaks *p,
                        size_t count);

#endif
